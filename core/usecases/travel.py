"""Trips: another zone, country and room between two dates.

What stood on days that can no longer be asked about moves or goes; what had gone comes back with the days.
"""

import datetime as dt
from dataclasses import dataclass, replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.people.records import PlannedTrip
from core.store import house
from core.week.circumstances import Circumstances
from core.week.count import of_promise
from core.week.model import Ask
from core.week.moving import move, next_free_day
from core.week.replanning import come_back, withdraw


@dataclass(frozen=True, slots=True)
class Mended:
    """What became of the sessions of a week as a trip came, changed or went."""

    moved: tuple[Ask, ...] = ()
    gone: tuple[Ask, ...] = ()
    back: tuple[Ask, ...] = ()

    def __add__(self, other: "Mended") -> "Mended":
        return Mended(self.moved + other.moved, self.gone + other.gone, self.back + other.back)


async def plan_trip(
    tx: AsyncConnection, client: Client, trip: PlannedTrip, at: dt.datetime
) -> tuple[PlannedTrip, Mended]:
    """Keep a trip and mend the week round it."""
    kept = await house.trips.add(tx, trip)
    return kept, await mend_week(tx, client, at)


async def change_trip(tx: AsyncConnection, client: Client, trip: PlannedTrip, at: dt.datetime) -> Mended:
    before = await house.circumstances(tx, client)
    await house.trips.save(tx, trip)
    mended = await mend_week(tx, client, at)
    return replace(mended, back=await _brought_back(tx, client, before, at))


async def call_off(tx: AsyncConnection, client: Client, trip: PlannedTrip, at: dt.datetime) -> Mended:
    return await change_trip(tx, client, replace(trip, cancelled_at=at), at)


async def coming_trips(tx: AsyncConnection, client: Client, at: dt.datetime) -> list[PlannedTrip]:
    """The trips that are not over, the nearest first."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    return [p for p in await house.trips_of(tx, client.id) if p.last is None or p.last >= today]


async def trip_now(tx: AsyncConnection, client: Client, at: dt.datetime) -> PlannedTrip | None:
    life = await house.circumstances(tx, client)
    today = life.today(at)
    return next((p for p in reversed(await house.trips_of(tx, client.id)) if p.trip.covers(today)), None)


async def mend_week(tx: AsyncConnection, client: Client, at: dt.datetime) -> Mended:
    """An ask on a date that cannot be used takes the nearest later free day of its week, else it is withdrawn."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    asks = await house.asks_of(tx, client.id, since=IsoWeek.of(today))
    moved, gone = list[Ask](), list[Ask]()
    for ask in of_promise(asks):
        if not ask.is_open or ask.day < today or life.usable(ask.day):
            continue
        fresh = await house.asks_of_week(tx, client.id, ask.week)
        day = next_free_day(ask, fresh, life)
        kept = await house.asks.save(tx, withdraw(ask) if day is None else move(ask, day))
        (gone if day is None else moved).append(kept)
    return Mended(tuple(moved), tuple(gone))


async def _brought_back(
    tx: AsyncConnection, client: Client, before: Circumstances, at: dt.datetime
) -> tuple[Ask, ...]:
    """The sessions that an earlier plan of a trip had taken, where their days can be asked about again, and are still to come."""
    if client.silent_since is not None:
        return ()  # silence took them, and an absence of it brings no backlog
    life = await house.circumstances(tx, client)

    def regained(day: dt.date) -> bool:
        return day > life.today(at) and life.usable(day) and not before.usable(day)

    back = list[Ask]()
    for week in dict.fromkeys(
        ask.week for ask in await house.asks_of(tx, client.id, since=IsoWeek.of(life.today(at)))
    ):
        promise = await house.promise_for(tx, client.id, week)
        asks = await house.asks_of_week(tx, client.id, week)
        for ask in come_back(asks, (promise and promise.number) or 0, regained):
            back.append(await house.asks.save(tx, ask))
    return tuple(back)
