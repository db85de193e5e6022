"""Red flags from the coach's side: seen, and cleared with a note."""

from collections.abc import Sequence

from bot.chats.client.plan import rest_of_the_week
from bot.chats.coach.clients import own_client
from bot.chats.phrases import care as of_care
from bot.chats.phrases import coach as say
from bot.chats.turn import Turn
from core.people.model import Client, Coach
from core.people.records import RedFlag
from core.store import house
from core.store import house_tables as t
from core.usecases import care
from core.usecases.schedule import reschedule_coach


async def own_flag(turn: Turn, coach: Coach, flag_id: str) -> tuple[RedFlag, Client] | None:
    known = await house.red_flags.find(turn.tx, t.red_flag.c.id == int(flag_id))
    client = None if known is None else await own_client(turn, coach, str(known.client_id))
    if known is None or client is None:
        await turn.say(say.stale_button())
        return None
    return await house.red_flags.get(turn.tx, known.id), client  # now that nobody else changes it


async def on_seen(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """No more is read of the client than their name: an alarm can be ended whatever else is broken."""
    known = await house.red_flags.find(turn.tx, t.red_flag.c.id == int(args[0]))
    whose = (t.client.c.id == (known.client_id if known else 0), t.client.c.coach_id == coach.id)
    client = next(iter(await house.names_of(turn.tx, *whose, locked=True)), None)
    if known is None or client is None:
        await turn.say(say.stale_button())
        return
    flag = await house.red_flags.get(turn.tx, known.id)  # now that nobody else changes it
    await care.seen_by_coach(turn.tx, flag, turn.at)
    await reschedule_coach(turn.tx, coach, turn.at)
    _, name = client
    await turn.say(of_care.seen(name) if flag.cleared_at is None else of_care.seen_and_over(name))


async def on_clear(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    found = await own_flag(turn, coach, args[0])
    if found is None:
        return
    flag, client = found
    if flag.cleared_at is not None:
        await turn.say(of_care.nothing_to_clear(client))
        return
    await care.seen_by_coach(turn.tx, flag, turn.at)
    await turn.expect(topic="clear", client=client.id)
    await turn.say(of_care.clear_note(client))


async def on_note(turn: Turn, coach: Coach) -> None:
    """The note: without one nothing is cleared."""
    client = await own_client(turn, coach, str(turn.dialogue.state.get("client", 0)))
    note = turn.incoming.text.strip()
    await turn.expect(topic="")
    if client is None or not note:
        await turn.say(say.stale_button())
        return
    number = await care.clear_red_flags(turn.tx, client, note, turn.at)
    turn.touched.add(client.id)
    await reschedule_coach(turn.tx, coach, turn.at)
    if not number:
        await turn.say(of_care.nothing_to_clear(client))
        return
    await turn.say(of_care.cleared(client))
    ahead = await rest_of_the_week(turn, client)
    await turn.tell(client.telegram_id, "\n".join([of_care.client_cleared(), *([ahead] if ahead else [])]))
