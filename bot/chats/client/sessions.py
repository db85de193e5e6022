"""Sessions, read as plain messages: shown whole or one exercise after another; opened, begun and done are noted, nothing else."""

from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.client.answers import outcome_rows, own_ask
from bot.chats.phrases import client as say
from bot.chats.phrases import training as of_training
from bot.chats.phrases.common import safe
from bot.chats.turn import Turn
from core.people.model import Client, Role, Stage
from core.people.records import RemoteSession
from core.programme.movements import Exercise, Library
from core.programme.session import LONGEST, SHORTEST
from core.store import house
from core.store import house_tables as t
from core.store import programme as shelves
from core.store.lanes import Kind
from core.usecases import own, sent_sessions, sparing
from core.usecases import sessions as deeds
from core.usecases.results import lasts_of
from core.week.model import Ask

MOST_OFFERED = 5
MOST_DIGITS = 6  # of a number that somebody may have meant


async def may_train(turn: Turn, client: Client) -> bool:
    """Say no while a red flag is open, and before the coach has confirmed the screening."""
    if client.stage is Stage.WAITING:
        coach = await house.coaches.get(turn.tx, client.coach_id)
        await turn.say(say.no_promise(None, waiting_for=coach.name))
        return False
    if await house.open_red_flag(turn.tx, client.id) is None:
        return True
    await turn.say(of_training.no_sessions_while_flagged())
    return False


async def on_show(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'Show the session' under a prompt: the session of this ask, built when it is first looked at."""
    if not await may_train(turn, client):
        return
    ask = await own_ask(turn, client, int(args[0]))
    if ask is None or not ask.is_open:
        await turn.say(say.stale_button())
        return
    await show_for(turn, client, ask)


async def show_for(turn: Turn, client: Client, ask: Ask, minutes: int | None = None) -> None:
    sent = await sent_sessions.session_for_ask(turn.tx, client, ask, at=turn.at, minutes=minutes)
    await open_session(turn, client, sent)


async def on_now(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """A session now, asked for by the client: an extra, unless it fills an ask."""
    if not await may_train(turn, client):
        return
    minutes = _minutes_of(args)
    if args and str(minutes) not in args:
        await turn.say(of_training.other_minutes(" ".join(args), minutes))
    sent = await sent_sessions.session_now(
        turn.tx, client, at=turn.at, minutes=minutes, by=Role.CLIENT, key=f"now:{turn.incoming.update_id}"
    )
    await open_session(turn, client, sent)


def _minutes_of(args: Sequence[str]) -> int:
    """The minutes that were asked for, as far as a session can be so short or so long; the shortest where none were."""
    said = next((int(each) for each in args if each.isdecimal() and len(each) < MOST_DIGITS), None)
    if said is None and any(each.isdecimal() for each in args):
        return LONGEST
    return min(max(said or SHORTEST, SHORTEST), LONGEST)


async def on_ten(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'Ten minutes now', after a miss: done, it counts as a short one."""
    if not await may_train(turn, client):
        return
    ask = await own_ask(turn, client, int(args[0]))
    if ask is None or ask.withdrawn or ask.took_place:
        await turn.say(say.stale_button())
        return
    await show_for(turn, client, ask, minutes=SHORTEST)


async def on_open(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'Show the session' under one that the coach pushed."""
    sent = await own_session(turn, client, args[0])
    if sent is None:
        await turn.say(say.stale_button())
    elif await may_train(turn, client):
        await open_session(turn, client, sent)


async def own_session(turn: Turn, client: Client, session_id: str) -> RemoteSession | None:
    return await house.sessions.find(
        turn.tx, t.remote_session.c.id == int(session_id), t.remote_session.c.client_id == client.id
    )


async def open_session(turn: Turn, client: Client, sent: RemoteSession) -> None:
    """Show it whole, and offer to go through it one exercise after another."""
    if sent.opened_at is None:
        sent = await house.sessions.save(
            turn.tx, replace(sent, opened_at=turn.at, sent_at=sent.sent_at or turn.at)
        )
    await show_whole(turn, client, sent)


async def show_whole(turn: Turn, client: Client, sent: RemoteSession) -> None:
    messages = sent_sessions.messages_of(sent)
    for text in messages[:-1]:
        await turn.say(safe(text, 3500), kind=Kind.SESSION)
    if warning := await _warning(turn, client, sent):
        await turn.say(warning, kind=Kind.SESSION)
    await turn.say(safe(messages[-1], 3500), await _rows(turn, client, sent), kind=Kind.SESSION)


async def _warning(turn: Turn, client: Client, sent: RemoteSession, keys: Sequence[str] | None = None) -> str:
    """What to leave out of a session (or of one step of it) because of what hurts: it may have been made before that did."""
    places = await sparing.hurts_now(turn.tx, client, turn.at)
    library = await own.library_of(turn.tx, client.coach_id)
    lifts = [lift for lift in sent.body.get("lifts", []) if keys is None or lift["key"] in keys]
    names = sparing.against({"lifts": lifts}, places, library)
    return of_training.leave_out(names, sorted(places), can_swap="session" in sent.body) if names else ""


async def _rows(turn: Turn, client: Client, sent: RemoteSession) -> list[list[Button]]:
    rows = [[button("One by one", "step", sent.id, 0)]] if sent_sessions.steps_of(sent) else []
    if rows and "session" in sent.body:
        rows[0].append(button("I lack something", "lack", sent.id))
    noted = await shelves.media_of(turn.tx, client.coach_id)
    seen = [
        [button(f"See {name}"[:40], "see", sent.id, n)]
        for n, (key, name) in enumerate(deeds.exercises_in(sent.body))
        if key in noted
    ]
    return [*rows, *seen, *done_rows(sent)]


def done_rows(sent: RemoteSession) -> list[list[Button]]:
    if sent.ask_id is not None:
        return outcome_rows(sent.ask_id)
    return [[button("Done", "sdone", sent.id), button("A short one", "sshort", sent.id)]]


# --- one exercise after another ---------------------------------------------------------------------------------------


async def on_step(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """One exercise after another, by 'Next'. The first one means that the session has begun."""
    sent = await own_session(turn, client, args[0])
    number = int(args[1])
    if sent is None or number >= len(sent_sessions.steps_of(sent)):
        await turn.say(say.stale_button())
        return
    if not await may_train(turn, client):
        return
    if sent.begun_at is None:
        sent = await house.sessions.save(turn.tx, replace(sent, begun_at=turn.at))
    await turn.used()
    await show_step(turn, client, sent, number)


async def show_step(turn: Turn, client: Client, sent: RemoteSession, number: int) -> None:
    """One step, with the coach's own video or voice note of its exercises before it."""
    steps, keys = sent_sessions.steps_of(sent), sent_sessions.keys_at(sent, number)
    await turn.remember({"at_step": [sent.id, number]})
    noted = await shelves.media_of(turn.tx, client.coach_id)
    for key in keys:
        if key in noted:
            await _copy(turn, noted[key].chat_id, noted[key].message_id)
    last = number + 1 == len(steps)
    rows = done_rows(sent) if last else [[button("Next", "step", sent.id, number + 1)]]
    if keys and "session" in sent.body:
        rows = [*rows, [button("I cannot do this here", "lackat", sent.id, number)]]
    warning = await _warning(turn, client, sent, keys)
    text = "\n\n".join(part for part in (warning, safe(steps[number], 3500)) if part)
    await turn.say(f"{text}\n\n{of_training.session_end()}" if last else text, rows, kind=Kind.SESSION)


async def on_see(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """The coach's own video or voice note for one exercise."""
    sent = await own_session(turn, client, args[0])
    lifts = deeds.exercises_in(sent.body) if sent is not None else []
    index = int(args[1])
    noted = await shelves.media_of(turn.tx, client.coach_id)
    note = noted.get(lifts[index][0]) if index < len(lifts) else None
    if note is None:
        await turn.say(say.stale_button())
        return
    await turn.say(of_training.media_first(lifts[index][1]), kind=Kind.SESSION)
    await _copy(turn, note.chat_id, note.message_id)


async def _copy(turn: Turn, chat_id: int, message_id: int) -> None:
    body = {"from_chat_id": chat_id, "message_id": message_id}
    await turn.speaker.send(turn.chat_id, "copyMessage", body, kind=Kind.SESSION)


# --- what the room lacks ----------------------------------------------------------------------------------------------


async def on_lack(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'I lack something': which exercise; then what may stand in its place."""
    sent = await own_session(turn, client, args[0])
    lifts = deeds.exercises_in(sent.body) if sent is not None else []
    if sent is None or sent.done_at is not None or "session" not in sent.body:
        await turn.say(say.stale_button())
    elif len(args) == 1:
        rows = [[button(name[:40], "lack", sent.id, n)] for n, (_, name) in enumerate(lifts)]
        await turn.say(of_training.swap_which(), rows)
    elif int(args[1]) < len(lifts):
        await _offer(turn, client, sent, int(args[1]))


async def on_lack_at(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'I cannot do this here' under one step: of a pair, which of the two."""
    sent = await own_session(turn, client, args[0])
    if sent is None or sent.done_at is not None or "session" not in sent.body:
        await turn.say(say.stale_button())
        return
    here = set(sent_sessions.keys_at(sent, int(args[1])))
    places = [(n, name) for n, (key, name) in enumerate(deeds.exercises_in(sent.body)) if key in here]
    if len(places) == 1:
        await _offer(turn, client, sent, places[0][0], step=int(args[1]))
    else:
        rows = [[button(name[:40], "lackof", sent.id, n, args[1])] for n, name in places]
        await turn.say(of_training.swap_which(), rows)


async def on_lack_of(turn: Turn, client: Client, args: Sequence[str]) -> None:
    sent = await own_session(turn, client, args[0])
    if sent is None or sent.done_at is not None or int(args[1]) >= len(deeds.exercises_in(sent.body)):
        await turn.say(say.stale_button())
        return
    await _offer(turn, client, sent, int(args[1]), step=int(args[2]))


async def _offer(
    turn: Turn, client: Client, sent: RemoteSession, index: int, *, step: int | None = None
) -> None:
    library = await own.library_of(turn.tx, client.coach_id)
    offers = (await _instead(turn, client, sent, index, library))[:MOST_OFFERED]
    name = deeds.exercises_in(sent.body)[index][1]
    at = "w" if step is None else step
    await turn.used()
    rows = [[button(e.name[:40], "instead", sent.id, index, at, e.key)] for e in offers]
    if not offers and step is not None and step + 1 < len(sent_sessions.steps_of(sent)):
        rows = [[button("Next", "step", sent.id, step + 1)]]
    await turn.say(of_training.swap_for(name, any_left=bool(offers)), rows)


async def _instead(
    turn: Turn, client: Client, sent: RemoteSession, index: int, library: Library
) -> tuple[Exercise, ...]:
    """What may stand in its place: on other kit, since that is what the room lacks, unless it is left for what hurts."""
    places = await sparing.hurts_now(turn.tx, client, turn.at)
    lifts = sent.body.get("lifts", [])[index : index + 1]
    hurts = bool(sparing.against({"lifts": lifts}, places, library))
    return deeds.alternatives(sent.body, index, library, other_kit=not hurts, hurts=places)


async def on_take_instead(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """Another exercise for one that the room lacks: the session is changed, and read on from there."""
    number, index, at, key = args
    sent = await own_session(turn, client, number)
    library = await own.library_of(turn.tx, client.coach_id)
    offers = await _instead(turn, client, sent, int(index), library) if sent is not None else ()
    chosen = next((e for e in offers if e.key == key), None)
    if sent is None or chosen is None or sent.done_at is not None:
        await turn.say(say.stale_button())
        return
    if not await may_train(turn, client):
        return
    await turn.used()
    lasts = await lasts_of(turn.tx, client.id)
    changed = deeds.swapped(sent.body, int(index), chosen, library, lasts)
    sent = await house.sessions.save(turn.tx, replace(sent, body=changed))
    if at == "w":
        await show_whole(turn, client, sent)
    else:
        await show_step(turn, client, sent, int(at))


# --- how it ended -----------------------------------------------------------------------------------------------------


async def on_session_done(turn: Turn, client: Client, args: Sequence[str], *, short: bool = False) -> None:
    """A session that belongs to no ask was done: it fills one of the week, or is an extra."""
    from bot.chats.client import answers
    from core.terms import Outcome
    from core.usecases.answer import Told

    sent = await own_session(turn, client, args[0])
    if sent is None or sent.done_at is not None:
        await turn.say(say.stale_button())
        return
    sent = await house.sessions.save(turn.tx, replace(sent, begun_at=sent.begun_at or turn.at))
    await turn.used()
    outcome = Outcome.SHORT if short else Outcome.DONE
    await answers.write(turn, client, outcome, minutes=sent.minutes, told=Told.ON_ITS_OWN, sent=sent)


async def on_session_short(turn: Turn, client: Client, args: Sequence[str]) -> None:
    await on_session_done(turn, client, args, short=True)
