"""Trips: another zone, country and room between two dates. What stood on days that can no longer be asked about moves or goes."""

import datetime as dt
from dataclasses import replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.people.records import PlannedTrip
from core.store import house
from core.week.count import of_promise
from core.week.model import Ask
from core.week.moving import move, next_free_day
from core.week.replanning import withdraw


async def plan_trip(
    tx: AsyncConnection, client: Client, trip: PlannedTrip, at: dt.datetime
) -> tuple[PlannedTrip, list[Ask]]:
    """Keep a trip and mend the week round it. Returns the asks that had to move or go."""
    kept = await house.trips.add(tx, trip)
    return kept, await mend_week(tx, client, at)


async def change_trip(tx: AsyncConnection, client: Client, trip: PlannedTrip, at: dt.datetime) -> list[Ask]:
    await house.trips.save(tx, trip)
    return await mend_week(tx, client, at)


async def call_off(tx: AsyncConnection, client: Client, trip: PlannedTrip, at: dt.datetime) -> list[Ask]:
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


async def mend_week(tx: AsyncConnection, client: Client, at: dt.datetime) -> list[Ask]:
    """An ask on a date that cannot be used takes the nearest later free day of its week, else it is withdrawn."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    asks = await house.asks_of(tx, client.id, since=IsoWeek.of(today))
    mended: list[Ask] = []
    for ask in of_promise(asks):
        if not ask.is_open or ask.day < today or life.usable(ask.day):
            continue
        fresh = await house.asks_of_week(tx, client.id, ask.week)
        day = next_free_day(ask, fresh, life)
        mended.append(await house.asks.save(tx, withdraw(ask) if day is None else move(ask, day)))
    return mended
