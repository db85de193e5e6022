"""Fewer this week: before the first miss the promise becomes smaller, and the client says which session goes."""

from collections.abc import Sequence

from bot.chats.buttons import Button, button
from bot.chats.phrases import client as say
from bot.chats.phrases import coach as to_coach
from bot.chats.phrases import week as of_week
from bot.chats.phrases.common import weekday
from bot.chats.turn import Turn
from core.people.model import Client
from core.store import house
from core.usecases import settle as deeds
from core.week import moving as rules
from core.week.answering import has_missed
from core.week.count import still_open
from core.week.model import Promise


async def lower_running(turn: Turn, client: Client, promise: Promise, number: int) -> None:
    """The smaller number holds at once and the last ones go, until the client picks others; after a miss the week keeps its number."""
    asks = await house.asks_of_week(turn.tx, client.id, promise.week)
    if has_missed(asks):
        await turn.say(of_week.keeps_its_number(promise))
        return
    if number >= (promise.agreed or 0):
        await turn.say(of_week.is_so_already(promise))
        return
    fresh = await deeds.lower(turn.tx, promise, number, at=turn.at)
    if fresh.agreed == promise.agreed:
        await turn.say(of_week.cannot_go_lower(promise))
        return
    await _tell(turn, client, fresh)
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, to_coach.lowered(client, fresh, promise.number or 0))


async def on_goes(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'Wed instead': that one goes, and the one that had gone stays."""
    ask = await house.asks.find(
        turn.tx, house.asks.table.c.id == int(args[0]), house.asks.table.c.client_id == client.id
    )
    promise = None if ask is None else await house.promise_for(turn.tx, client.id, ask.week)
    if ask is None or promise is None or not promise.lowered:
        await turn.say(say.stale_button())
        return
    if not await deeds.goes_instead(turn.tx, client, ask, at=turn.at):
        await turn.say(say.stale_button())
        return
    await turn.used()
    await _tell(turn, client, promise)


async def _tell(turn: Turn, client: Client, promise: Promise) -> None:
    """What is left, and a button for each that could go instead."""
    turn.touched.add(client.id)
    asks = await house.asks_of_week(turn.tx, client.id, promise.week)
    life = await house.circumstances(turn.tx, client)
    gone = rules.gone_last(asks, life, today=life.today(turn.at))
    left = still_open(asks)
    rows: list[list[Button]] = []
    if gone is not None and left:
        buttons = [button(f"{weekday(a.day)} instead", "goes", a.id) for a in left]
        rows = [buttons[i : i + 3] for i in range(0, len(buttons), 3)]
    await turn.say(of_week.lowered(promise, left, gone if rows else None), rows)
