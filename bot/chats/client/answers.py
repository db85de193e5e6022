"""Answers about sessions: by button, in words, late, twice, corrected, taken back."""

import dataclasses
import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from bot.chats.buttons import Button, button
from bot.chats.client import lifts
from bot.chats.phrases import client as say
from bot.chats.phrases import day as of_day
from bot.chats.phrases import pushing as of_pushing
from bot.chats.phrases import training as of_training
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Role
from core.people.records import RemoteSession
from core.store import house
from core.store import house_tables as t
from core.terms import Outcome
from core.usecases import answer as deeds
from core.usecases import care, sent_sessions
from core.usecases.answer import Effect, Told, Written
from core.week import count
from core.week.answering import may_correct, others_waiting
from core.week.model import Ask
from core.week.moving import days_to_move_to

EXTRA_MINUTES = 20
# Of a week that is kept, that was said with the answer that kept it.
SAID_BEFORE = frozenset({Effect.EXTRA, Effect.SAME})
WORDS = {"d": Outcome.DONE, "s": Outcome.SHORT, "m": Outcome.MISSED, "x": Outcome.EXCUSED}


async def on_outcome(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """A tap on 'Done', 'A short one', 'Not today' under a prompt or a follow-up."""
    letter, ask_id = args[0], int(args[1])
    ask = await own_ask(turn, client, ask_id)
    if ask is None or ask.withdrawn or letter not in WORDS:
        await turn.say(say.stale_button())
        return
    await write(turn, client, WORDS[letter], ask_id=ask_id)


async def own_ask(turn: Turn, client: Client, ask_id: int) -> Ask | None:
    return await house.asks.find(turn.tx, t.ask.c.id == ask_id, t.ask.c.client_id == client.id)


async def write(  # noqa: PLR0913 - what an answer may say, all but three by name
    turn: Turn,
    client: Client,
    outcome: Outcome,
    *,
    ask_id: int | None = None,
    named: dt.date | None = None,
    minutes: int | None = None,
    also: Sequence[str] = (),
    told: Told = Told.ANSWER,
    sent: RemoteSession | None = None,
) -> Written:
    """Write an outcome down and say what was understood, with a way to take it back.

    `also`: more lines to say with it. `sent`: the session that it is about, where that is known.
    """
    written = await deeds.write_outcome(
        turn.tx,
        client,
        outcome,
        at=turn.at,
        ask_id=ask_id,
        named=named,
        minutes=minutes,
        told=told,
    )
    turn.touched.add(client.id)
    took_place = written.ask is not None and written.ask.took_place and written.effect is not Effect.TOO_LATE
    if took_place and client.unwell_since is not None:
        await care.recover(turn.tx, client)
    if written.ask is not None and written.is_no_extra:
        await sent_sessions.unmark_done(turn.tx, written.ask.id)
    elif took_place or sent is not None:
        await _session_done(turn, client, written.ask if took_place else None, sent)
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    lines = [*_lines(written, today), *also]
    if written.ask is None or written.effect in {Effect.TOO_LATE, Effect.NOTHING}:
        await turn.say("\n".join(lines))
        return written
    await remember_undo(turn, written)
    if written.ask.outcome is Outcome.MISSED:
        await offer_repair(turn, client, written.ask, lines, today)
    else:
        await confirm(turn, client, written, lines, today, asks_effort=told is not Told.MEANWHILE)
    return written


def _lines(written: Written, today: dt.date) -> list[str]:
    ask = written.ask
    if ask is None:
        return [of_day.closed_week() if written.effect is Effect.TOO_LATE else of_day.nothing_asked()]
    if written.is_no_extra:
        return [of_day.no_extra(ask, today)]
    match written.effect:
        case Effect.TOO_LATE:
            return [of_day.too_late(ask)]
        case Effect.SAME:
            return [of_day.said_before(ask, today)]
        case Effect.CORRECTED:
            was = written.before.outcome if written.before is not None else None
            return [of_day.corrected(ask, ask.outcome or Outcome.DONE, today, was)]
        case Effect.FILLED:
            return [of_day.filled(ask, written.before.day if written.before else ask.day, today)]
        case Effect.EXTRA:
            return [of_day.extra_noted(ask, today, promised=bool(written.promise and written.promise.number))]
        case _:
            return [of_day.written(ask, ask.outcome or Outcome.DONE, today)]


async def _session_done(turn: Turn, client: Client, ask: Ask | None, sent: RemoteSession | None) -> None:
    """A session that was sent is done, with this ask if there is one; the coach hears of one of theirs."""
    if sent is not None:
        done = replace(sent, done_at=turn.at, ask_id=ask.id if ask is not None else sent.ask_id)
        await house.sessions.save(turn.tx, done)
    elif ask is not None and await sent_sessions.session_done_with(turn.tx, ask) is None:
        sent = await sent_sessions.mark_done(turn.tx, client, ask, turn.at)
    if sent is not None and sent.by is Role.COACH:
        coach = await house.coaches.get(turn.tx, client.coach_id)
        await turn.tell(coach.telegram_id, of_pushing.session_done(client, sent.title))


async def confirm(
    turn: Turn,
    client: Client,
    written: Written,
    lines: list[str],
    today: dt.date,
    *,
    asks_effort: bool = True,
) -> None:
    """Say what was written, where the week stands, and ask how hard it was, unless that is known or long ago."""
    ask, promise = written.ask, written.promise
    promised = (promise.number if promise else None) or 0
    done, extras = count.done(written.week), count.extras(written.week)
    stopped = await house.open_red_flag(turn.tx, client.id) is not None  # nothing is asked or offered
    left = [] if stopped else [a for a in count.still_open(written.week) if a.day >= today]
    rows: list[list[Button]] = []
    running = promise is not None and IsoWeek.of(today) == promise.week
    if promised and running and written.is_kept and done >= promised and written.effect not in SAID_BEFORE:
        lines.append(of_day.kept(done, promised))
    elif promise is not None and promised:
        excused = count.excused(written.week)
        lines.append(of_day.week_so_far(promise.week, done, promised, left, extras, today, excused=excused))
    if ask is not None and ask.took_place and ask.effort is None and asks_effort:
        lines.append(of_day.effort_question())
        rows.append([button(str(n), "eff", ask.id, n) for n in (2, 3, 4, 5, 6, 7, 8, 9)])
        await turn.expect(asked="effort", about=ask.id, took=None, lift=None)  # of another session no more
    rows.append([button("Take it back", "undo")])
    await turn.say("\n".join(lines), rows)
    for other in others_waiting(written.week, ask, today)[:1] if ask is not None and ask.took_place else ():
        await turn.say(of_day.and_the_other(other, today), outcome_rows(other.id))
    if (
        promise is not None
        and promised
        and written.is_kept
        and done >= promised
        and asks_effort  # what was done weeks ago, while silent, is no reason to offer more
        and not stopped
        and not turn.coming_back  # who is back after a silence is welcomed, and that is enough
        and not promise.extra_offered
    ):
        await _offer_extra(turn, client, written, today)


async def _offer_extra(turn: Turn, client: Client, written: Written, today: dt.date) -> None:
    """When the promise is kept and days remain, an extra is offered, once."""
    promise = written.promise
    if (
        promise is None
        or today >= promise.week.sunday
        or IsoWeek.of(today) != promise.week
        or written.effect is Effect.CORRECTED
    ):
        return
    await house.promises.save(turn.tx, replace(promise, extra_offered=True))
    minutes = min(EXTRA_MINUTES, client.minutes)
    await turn.say(
        of_day.extra_offer(minutes, (promise.week.sunday - today).days, promise.week),
        [[button("Show me", "now", minutes), button("Not this week", "noextra")]],
    )


async def offer_repair(turn: Turn, client: Client, ask: Ask, lines: list[str], today: dt.date) -> None:
    """A miss is met without blame, with three offers."""
    if ask.weekly or await house.open_red_flag(turn.tx, client.id) is not None:
        await turn.say("\n".join(lines), [[button("Take it back", "undo")]])
        return
    life = await house.circumstances(turn.tx, client)
    week = await house.asks_of_week(turn.tx, client.id, ask.week)
    can_move = bool(days_to_move_to(ask, week, life, today=today))
    rows = [
        [button("Another day", "mv", ask.id)] if can_move else [],
        [button("Ten minutes now", "ten", ask.id), button("Let it go", "let", ask.id)],
        [button("Take it back", "undo")],
    ]
    this_week = ask.week == IsoWeek.of(today)
    await turn.say(
        "\n".join([*lines, of_day.miss_offers(can_move=can_move)]), rows if this_week else rows[-1:]
    )


async def on_let_go(turn: Turn, client: Client, args: Sequence[str]) -> None:
    await turn.used()
    if await own_ask(turn, client, int(args[0])) is not None:
        await turn.say(of_day.let_go())


async def on_later(turn: Turn, client: Client, args: Sequence[str]) -> None:
    ask = await own_ask(turn, client, int(args[0]))
    if ask is None or not ask.is_open:
        await turn.say(say.stale_button())
        return
    await later(turn, client, ask)


async def later(turn: Turn, client: Client, ask: Ask) -> None:
    """Not yet: no outcome, and no follow-up before the close."""
    await house.asks.save(turn.tx, replace(ask, said_at=turn.at))
    turn.touched.add(client.id)
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    rows = [[button("Another day", "mv", ask.id)]] if ask.day >= today else []
    await turn.say(of_day.later_ok(ask, today), rows)


# --- effort -----------------------------------------------------------------------------------------------------------


async def on_effort(turn: Turn, client: Client, args: Sequence[str]) -> None:
    ask = await own_ask(turn, client, int(args[0]))
    if ask is None or not ask.took_place:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await note_effort(turn, client, ask, effort=float(args[1]))


async def note_effort(
    turn: Turn, client: Client, ask: Ask, *, effort: float | None = None, minutes: int | None = None
) -> None:
    """Write effort and minutes down; of a session that was sent, ask for the minutes too, then for its lifts."""
    noted = await deeds.write_effort(turn.tx, ask.id, effort=effort, minutes=minutes)
    sent = await sent_sessions.session_done_with(turn.tx, ask)
    words = of_day.effort_noted(effort, minutes)
    if sent is not None and effort is not None and minutes is None:
        await turn.expect(asked="effort", about=ask.id, took=ask.id)
        await turn.say(f"{words} {of_training.how_long()}", [_minutes_row(noted, sent)])
        return
    await turn.expect(asked="nothing", took=None)
    await turn.say(words)
    if sent is not None:
        await lifts.ask(turn, client, sent)


def _minutes_row(ask: Ask, sent: RemoteSession) -> list[Button]:
    """About as long as it was meant to take, in fives."""
    meant = sent.minutes or ask.minutes
    around = sorted({max(5, meant + by) for by in (-10, -5, 0, 5, 10)})
    return [button(str(m), "took", ask.id, m) for m in around]


async def on_took(turn: Turn, client: Client, args: Sequence[str]) -> None:
    ask = await own_ask(turn, client, int(args[0]))
    if ask is None or not ask.took_place:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await note_effort(turn, client, ask, minutes=int(args[1]))


# --- taking back ------------------------------------------------------------------------------------------------------


async def remember_undo(turn: Turn, written: Written) -> None:
    """Keep how the ask stood, for one step back from how it stands now."""
    if written.ask is None or written.effect is Effect.SAME:
        return
    before = None if written.before is None else _plain(written.before)
    step = {"ask": written.ask.id, "before": before, "after": _plain(written.ask)}
    kept = {**turn.dialogue.state, "undo": step}
    turn.dialogue = replace(turn.dialogue, state=kept, at=turn.at)
    await house.keep_dialogue(turn.tx, turn.dialogue)


async def on_undo(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    kept = turn.dialogue.state.get("undo")
    ask = await own_ask(turn, client, kept["ask"]) if kept else None
    if kept is None or ask is None or _stands_otherwise(ask, kept.get("after")):
        await turn.say(of_day.nothing_to_undo())
        return
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    if not ask.extra and not may_correct(ask, today):
        await turn.say(of_day.too_late(ask))
        return
    await deeds.take_back(turn.tx, ask.id, None if kept["before"] is None else _ask_from(kept["before"]))
    await sent_sessions.unmark_done(turn.tx, ask.id)
    turn.touched.add(client.id)
    state = {k: v for k, v in turn.dialogue.state.items() if k != "undo"}
    turn.dialogue = replace(turn.dialogue, state=state, asked="session", about=ask.id, at=turn.at)
    await house.keep_dialogue(turn.tx, turn.dialogue)
    await turn.used()
    await turn.say(of_day.undone(), outcome_rows(ask.id) if kept["before"] is not None else ())


def _stands_otherwise(ask: Ask, after: dict[str, Any] | None) -> bool:
    """Whether the ask has ended otherwise, gone, or moved since the answer that would be taken back."""
    if after is None:
        return False
    left = _ask_from(after)
    return (ask.outcome, ask.withdrawn, ask.day) != (left.outcome, left.withdrawn, left.day)


def outcome_rows(ask_id: int) -> list[list[Button]]:
    """The three ways in which a session ends; 'short' comes before 'missed'."""
    return [
        [button("Done", "o", "d", ask_id), button("A short one", "o", "s", ask_id)],
        [button("Not this time", "o", "m", ask_id), button("Later", "later", ask_id)],
    ]


def _plain(ask: Ask) -> dict[str, Any]:
    """An ask in JSON's own types."""
    fields = {f.name: getattr(ask, f.name) for f in dataclasses.fields(ask)}
    return {k: str(v) if isinstance(v, dt.date | dt.time | IsoWeek) else v for k, v in fields.items()}


def _ask_from(plain: dict[str, Any]) -> Ask:
    instants = ("answered_at", "prompted_at", "followed_up_at", "said_at")
    read = {
        **plain,
        "week": IsoWeek.parse(plain["week"]),
        "day": dt.date.fromisoformat(plain["day"]),
        "at": dt.time.fromisoformat(plain["at"]),
        "outcome": Outcome(plain["outcome"]) if plain["outcome"] else None,
        **{k: dt.datetime.fromisoformat(plain[k]) if plain[k] else None for k in instants},
    }
    return Ask(**read)
