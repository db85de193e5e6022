"""Silence and pauses: doing nothing is an option we use."""

import datetime as dt
from dataclasses import replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Stage
from core.store import house
from core.week.count import of_promise, still_open
from core.week.model import Ask, Hand, Promise
from core.week.replanning import withdraw
from core.week.silence import falls_silent

WEEKLY_ASK_MINUTES = 10
FOR_GOOD = dt.date(9999, 12, 31)


async def hear(tx: AsyncConnection, client: Client, at: dt.datetime) -> tuple[Client, bool]:
    """Note that a client was heard. True if that ends a silence."""
    heard = replace(client, heard_at=at, silent_since=None, unreachable=False)
    return await house.clients.save(tx, heard), client.silent_since is not None


async def begin_silence(
    tx: AsyncConnection, client: Client, closed: dt.date, at: dt.datetime
) -> Client | None:
    """Begin silence if two asked days in a row brought nothing. None if they did.

    The week's further asks are withdrawn, and the week keeps its number; a later week that has not begun to ask promises one.
    """
    asks = await house.asks_of(tx, client.id, since=IsoWeek.of(closed).plus(-3))
    began = falls_silent(asks, client.heard_at, closed=closed)
    if began is None or client.silent_since is not None:
        return None
    for ask in still_open(asks):
        if ask.prompted_at is None:
            await house.asks.save(tx, withdraw(ask))
    silent = await house.clients.save(tx, replace(client, silent_since=began))
    for promise in await house.promises_of(tx, client.id, since=IsoWeek.of(closed).next()):
        week = await house.asks_of_week(tx, client.id, promise.week)
        if promise.settled and not any(a.prompted_at for a in of_promise(week)):
            await promise_in_silence(tx, silent, promise.week, at)
    return silent


async def promise_in_silence(tx: AsyncConnection, client: Client, week: IsoWeek, at: dt.datetime) -> Promise:
    """Each later silent week promises one, and its only ask is the weekly message, dated Sunday."""
    known = await house.promise_for(tx, client.id, week)
    promise = Promise(id=0, client_id=client.id, week=week) if known is None else known
    silent = replace(
        promise,
        settled=1,
        settled_by=Hand.SILENCE,
        settled_at=at,
        told_at=at,
        agreed=1,
        agreed_by=Hand.SILENCE,
        agreed_at=at,
        minutes=WEEKLY_ASK_MINUTES,
        both_cases=False,
    )
    kept = await (house.promises.add(tx, silent) if known is None else house.promises.save(tx, silent))
    life = await house.circumstances(tx, client)
    asks = of_promise(await house.asks_of_week(tx, client.id, week))
    for ask in asks:
        if ask.is_open and not ask.weekly:
            await house.asks.save(tx, withdraw(ask))
    if life.usable(week.sunday) and not any(a.weekly for a in asks):
        await house.asks.add(
            tx,
            Ask(
                id=0,
                client_id=client.id,
                week=week,
                day=week.sunday,
                at=dt.time(11),
                minutes=WEEKLY_ASK_MINUTES,
                weekly=True,
            ),
        )
    return kept


async def pause(tx: AsyncConnection, client: Client, until: dt.date, at: dt.datetime) -> Client:
    """Ask nothing up to and with this local day: what is open in it is withdrawn, and no hazard accrues."""
    life = await house.circumstances(tx, client)
    for ask in still_open(await house.asks_of(tx, client.id, since=IsoWeek.of(life.today(at)))):
        if ask.day <= until:
            await house.asks.save(tx, withdraw(ask))
    return await house.clients.save(tx, replace(client, paused_until=until, silent_since=None))


async def resume(tx: AsyncConnection, client: Client) -> Client:
    return await house.clients.save(tx, replace(client, paused_until=None))


async def stop(tx: AsyncConnection, client: Client, at: dt.datetime) -> Client:
    """Ask nothing any more, until they come back by themselves."""
    stopped = await pause(tx, client, FOR_GOOD, at)
    return await house.clients.save(tx, replace(stopped, stage=Stage.STOPPED, paused_until=None))
