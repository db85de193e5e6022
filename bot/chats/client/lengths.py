"""'Mon + Thu, 30 min each': how long the sessions that are being planned are to take, and the way back."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.buttons import button
from bot.chats.phrases import client as say
from bot.chats.phrases import coach as to_coach
from bot.chats.phrases import week as of_week
from bot.chats.turn import Turn
from core.people.model import Client
from core.store import house
from core.store import house_tables as t
from core.usecases import lengths as deeds
from core.week.model import Promise


async def plan(
    turn: Turn, client: Client, promise: Promise, minutes: int, days: Sequence[dt.date] | None = None
) -> None:
    """So long for the sessions of these days, else for all that are open; the coach is told, as of a number."""
    if not deeds.is_a_length(minutes):
        await turn.say(of_week.no_length(minutes, promise.minutes))
        return
    fresh = await house.promises.get(turn.tx, promise.id)
    before = await deeds.plan_minutes(turn.tx, fresh, minutes, days=days)
    if not before:
        return
    turn.touched.add(client.id)
    was = before[0].minutes
    back = [[button(f"{was} minutes after all", "length", promise.id, was, minutes)]]
    planned = [ask.day for ask in before]
    await turn.say(of_week.length(planned, minutes), back)
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, to_coach.other_length(client, planned, minutes, was))


async def on_back(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'45 minutes after all': of the sessions that are still open and still planned so."""
    was, now = int(args[1]), int(args[2])
    promise = await house.promises.find(
        turn.tx, t.promise.c.id == int(args[0]), t.promise.c.client_id == client.id
    )
    asks = await house.asks_of_week(turn.tx, client.id, promise.week) if promise is not None else []
    days = {ask.day for ask in asks if ask.is_open and ask.minutes == now}
    await turn.used()
    if promise is None or not days:
        await turn.say(say.stale_button())
        return
    back = [ask.day for ask in await deeds.plan_minutes(turn.tx, promise, was, days=days)]
    turn.touched.add(client.id)
    await turn.say(of_week.length(back, was))
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, to_coach.other_length(client, back, was, now))
