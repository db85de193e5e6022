"""Sessions, read as plain messages: shown whole or one exercise after another; opened, begun and done are noted, nothing else."""

from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.client.answers import outcome_rows, own_ask
from bot.chats.phrases import client as say
from bot.chats.phrases.common import safe
from bot.chats.turn import Turn
from core.people.model import Client, Role
from core.people.records import RemoteSession
from core.store import house
from core.store import house_tables as t
from core.store.lanes import Kind
from core.usecases import sessions as deeds
from core.week.model import Ask

SHORTEST = 10


async def may_train(turn: Turn, client: Client) -> bool:
    """Say no while a red flag is open."""
    if await house.open_red_flag(turn.tx, client.id) is None:
        return True
    await turn.say(say.no_sessions_while_flagged())
    return False


async def on_show(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'Show the session' under a prompt: the session of this ask, built when it is first looked at."""
    ask = await own_ask(turn, client, int(args[0]))
    if ask is None or not ask.is_open:
        await turn.say(say.stale_button())
        return
    if await may_train(turn, client):
        await show_for(turn, client, ask)


async def show_for(turn: Turn, client: Client, ask: Ask, minutes: int | None = None) -> None:
    sent = await deeds.session_for_ask(turn.tx, client, ask, at=turn.at, minutes=minutes)
    await open_session(turn, sent)


async def on_now(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """A session now, asked for by the client: an extra, unless it fills an ask."""
    minutes = int(args[0]) if args and args[0].isdigit() else SHORTEST
    if not await may_train(turn, client):
        return
    sent = await deeds.session_now(
        turn.tx, client, at=turn.at, minutes=minutes, by=Role.CLIENT, key=f"now:{turn.incoming.update_id}"
    )
    await open_session(turn, sent)


async def on_ten(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'Ten minutes now', after a miss: done, it counts as a short one."""
    ask = await own_ask(turn, client, int(args[0]))
    if ask is None or ask.withdrawn or ask.took_place:
        await turn.say(say.stale_button())
        return
    if await may_train(turn, client):
        await show_for(turn, client, ask, minutes=SHORTEST)


async def on_open(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'Show the session' under one that the coach pushed."""
    sent = await own_session(turn, client, args[0])
    if sent is None:
        await turn.say(say.stale_button())
    elif await may_train(turn, client):
        await open_session(turn, sent)


async def own_session(turn: Turn, client: Client, session_id: str) -> RemoteSession | None:
    return await house.sessions.find(
        turn.tx, t.remote_session.c.id == int(session_id), t.remote_session.c.client_id == client.id
    )


async def open_session(turn: Turn, sent: RemoteSession) -> None:
    """Show it whole, and offer to go through it one exercise after another."""
    if sent.opened_at is None:
        sent = await house.sessions.save(
            turn.tx, replace(sent, opened_at=turn.at, sent_at=sent.sent_at or turn.at)
        )
    messages = deeds.messages_of(sent)
    for text in messages[:-1]:
        await turn.say(safe(text, 3500), kind=Kind.SESSION)
    await turn.say(safe(messages[-1], 3500), _rows(sent), kind=Kind.SESSION)


def _rows(sent: RemoteSession) -> list[list[Button]]:
    rows = [[button("One by one", "step", sent.id, 0)]] if deeds.steps_of(sent) else []
    return [*rows, *done_rows(sent)]


def done_rows(sent: RemoteSession) -> list[list[Button]]:
    if sent.ask_id is not None:
        return outcome_rows(sent.ask_id)
    return [[button("Done", "sdone", sent.id), button("A short one", "sshort", sent.id)]]


async def on_step(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """One exercise after another, by 'Next'. The first one means that the session has begun."""
    sent = await own_session(turn, client, args[0])
    number = int(args[1])
    steps = deeds.steps_of(sent) if sent is not None else []
    if sent is None or number >= len(steps):
        await turn.say(say.stale_button())
        return
    if not await may_train(turn, client):
        return
    if sent.begun_at is None:
        sent = await house.sessions.save(turn.tx, replace(sent, begun_at=turn.at))
    await turn.used()
    last = number + 1 == len(steps)
    rows = done_rows(sent) if last else [[button("Next", "step", sent.id, number + 1)]]
    text = safe(steps[number], 3500)
    await turn.say(f"{text}\n\n{say.session_end()}" if last else text, rows, kind=Kind.SESSION)


async def on_session_done(turn: Turn, client: Client, args: Sequence[str], *, short: bool = False) -> None:
    """A session that belongs to no ask was done: it fills one of the week, or is an extra."""
    from bot.chats.client import answers
    from core.terms import Outcome
    from core.usecases.answer import Told

    sent = await own_session(turn, client, args[0])
    if sent is None or sent.done_at is not None:
        await turn.say(say.stale_button())
        return
    await house.sessions.save(turn.tx, replace(sent, done_at=turn.at, begun_at=sent.begun_at or turn.at))
    await turn.used()
    await answers.write(
        turn, client, Outcome.SHORT if short else Outcome.DONE, minutes=sent.minutes, told=Told.ON_ITS_OWN
    )
    await tell_coach_done(turn, client, sent)


async def on_session_short(turn: Turn, client: Client, args: Sequence[str]) -> None:
    await on_session_done(turn, client, args, short=True)


async def tell_coach_done(turn: Turn, client: Client, sent: RemoteSession) -> None:
    if sent.by is not Role.COACH:
        return
    from bot.chats.phrases import coach as to_coach

    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, to_coach.session_done(client, sent.title))
