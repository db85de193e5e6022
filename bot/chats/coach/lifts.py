"""A client's lifts: what was done last, what comes next and why."""

from collections.abc import Sequence

from bot.chats.buttons import button
from bot.chats.coach.clients import nobody, own_client
from bot.chats.phrases import coach as say
from bot.chats.phrases import year as of_year
from bot.chats.turn import Turn
from core.people.model import Coach
from core.programme.lifts import lift_words
from core.store import house
from core.usecases import results

MOST_SHOWN = 25


async def choose(turn: Turn, coach: Coach) -> None:
    """/lifts: whose."""
    clients = await house.clients_of(turn.tx, coach.id)
    if await nobody(turn, coach, clients):
        return
    buttons = [button(c.name[:24], "lifts", c.id) for c in clients[:60]]
    await turn.say(of_year.lifts_whose(), [buttons[i : i + 3] for i in range(0, len(buttons), 3)])


async def on_lifts(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    found = (await results.lifts(turn.tx, client))[:MOST_SHOWN]
    await turn.say(of_year.lifts(client.name, [lift_words(lift) for lift in found]))
