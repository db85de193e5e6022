"""Settling and agreeing: the coach's number, then the client's, and what is assumed when nobody chose."""

import datetime as dt
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach
from core.store import house
from core.store import house_tables as t
from core.week import settling
from core.week.agenda import first_prompts
from core.week.answering import has_missed
from core.week.circumstances import Circumstances
from core.week.count import is_kept, is_neutral, may_raise_after, of_promise
from core.week.model import Ask, Hand, Promise
from core.week.moving import gone_last, instead, to_go
from core.week.planning import PastDays, askable_days, choose_days, preference
from core.week.replanning import lay_out, new_ask, withdraw

MOST_PAST_ASKS = 182  # seven a week for half a year: what is usual


async def last_promise(tx: AsyncConnection, client_id: int, before: IsoWeek) -> int | None:
    """The agreed number of the last week that counted (was not neutral), or None if there is none."""
    earlier = await house.promises.list(
        tx,
        t.promise.c.client_id == client_id,
        t.promise.c.week < before,
        t.promise.c.agreed.is_not(None),
        order=[t.promise.c.week.desc()],
        limit=26,
    )
    for promise in earlier:
        if not is_neutral(await house.asks_of_week(tx, client_id, promise.week)):
            return promise.agreed
    return None


async def past_days(tx: AsyncConnection, client_id: int, before: IsoWeek) -> PastDays:
    """The days of the weeks before this one: what was withdrawn was no day of theirs in the end."""
    known = await house.asks.list(
        tx,
        t.ask.c.client_id == client_id,
        t.ask.c.week < before,
        t.ask.c.extra.is_(False),
        t.ask.c.weekly.is_(False),
        t.ask.c.withdrawn.is_(False),
        order=[t.ask.c.week.desc(), t.ask.c.day],
        limit=MOST_PAST_ASKS,
    )
    return PastDays(
        last_week=tuple(dict.fromkeys(a.day.isoweekday() for a in known if a.week == known[0].week)),
        habit=Counter(a.day.isoweekday() for a in known),
    )


async def ended_of(tx: AsyncConnection, promise: Promise) -> int:
    """How many asks of a promise have ended: its number is never less."""
    asks = await house.asks_of_week(tx, promise.client_id, promise.week)
    return sum(not a.is_open for a in of_promise(asks))


async def may_still_settle(tx: AsyncConnection, client: Client, promise: Promise, at: dt.datetime) -> bool:
    """Whether the coach may still change a promise: until the week's first prompt, or its first miss."""
    known = await house.known_of(tx, client, at)
    asks = [a for a in of_promise(known.asks) if a.week == promise.week]
    if any(not a.is_open or a.missed_once for a in asks):  # a silent week's one ask as well
        return False
    if any(a.prompted is not None for a in asks if not a.weekly):
        return False
    first = first_prompts(promise.week, known)
    return at < min([*first, known.life.first_lived(promise.week.next().monday, dt.time(0))])


async def settle(
    tx: AsyncConnection,
    client: Client,
    promise: Promise,
    number: int,
    *,
    hand: Hand,
    at: dt.datetime,
    minutes: int | None = None,
    both_cases: bool = False,
) -> Promise:
    """Settle a promise and lay it out provisionally, so that it is prompted whether or not the client agrees in time.

    `both_cases`: as recommended, whichever of its two cases will hold.
    """
    last = await last_promise(tx, client.id, promise.week)
    number = settling.least(number, await ended_of(tx, promise))
    settled = replace(
        promise,
        settled=settling.clamp(number),
        settled_by=hand,
        settled_at=at,
        told_at=None,
        both_cases=both_cases and promise.recommended_if_done is not None,
        needs_yes=settling.needs_yes(number, last),
        agreed=0 if number == 0 else None,
        agreed_by=hand if number == 0 else None,
        agreed_at=at if number == 0 else None,
        minutes=minutes or promise.minutes,
    )
    await house.promises.save(tx, settled)
    number = settling.without_answer(settled.settled or 0, last)
    await lay_out_week(tx, client, settled, number, at=at, minutes=settled.minutes)
    return settled


async def assume_settled(
    tx: AsyncConnection, coach: Coach, client: Client, promise: Promise, at: dt.datetime
) -> Promise:
    """Close settling: what is open becomes assumed."""
    number = await _assumed(tx, coach, client, promise, promise.recommended or 0, at)
    return await settle(
        tx,
        client,
        promise,
        number,
        hand=Hand.ASSUMED,
        at=at,
        minutes=promise.recommended_minutes,
        both_cases=True,
    )


async def _assumed(
    tx: AsyncConnection, coach: Coach, client: Client, promise: Promise, recommended: int, at: dt.datetime
) -> int:
    """The number that stands where the coach did not settle; where the week has begun, only what its usual days still hold."""
    number = settling.assumed(
        recommended,
        await last_promise(tx, client.id, promise.week),
        raise_without_me=coach.raise_without_me,
        floor=client.floor,
        talk_first=promise.talk_first,
    )
    life = await house.circumstances(tx, client)
    past = await past_days(tx, client.id, promise.week)
    usual = preference(past, client.usual_days, number)[:number]
    left = [d for d in askable_days(promise.week, life, client.usual_time, at=at) if d.isoweekday() in usual]
    return settling.late(number, len(left), begun=life.today(at) > promise.week.monday)


async def resolve(
    tx: AsyncConnection, coach: Coach, client: Client, promise: Promise, at: dt.datetime
) -> Promise:
    """Both cases were settled at once, and the last ask of the week before has ended: from now on one of them holds."""
    before = promise.week.previous()
    asks = await house.asks_of_week(tx, client.id, before)
    week = await house.promise_for(tx, client.id, before)
    number = settling.resolved(
        promise.recommended or 0,
        promise.recommended_if_done or 0,
        await last_promise(tx, client.id, promise.week),
        kept=is_kept(asks),
        may_raise=may_raise_after(asks, lowered=week is not None and week.lowered),
    )
    if promise.settled_by is Hand.ASSUMED:
        number = await _assumed(tx, coach, client, promise, number, at)
    if number == promise.settled or promise.settled_by is None:
        return await house.promises.save(tx, replace(promise, both_cases=False))
    return await settle(tx, client, promise, number, hand=promise.settled_by, at=at)


async def agree(
    tx: AsyncConnection,
    client: Client,
    promise: Promise,
    number: int,
    *,
    hand: Hand,
    at: dt.datetime,
    days: Sequence[dt.date] | None = None,
    hour: dt.time | None = None,
) -> Promise:
    """Agree a promise, on the days given or on last week's. An hour that is chosen for a whole week is the usual one from then on."""
    life = await house.circumstances(tx, client)
    whole = promise.agreed is None or promise.week > IsoWeek.of(life.today(at))
    if hour is not None and whole:
        client = await house.clients.save(tx, replace(client, usual_time=hour))
    number = settling.least(number, await ended_of(tx, promise))
    agreed = replace(promise, agreed=number, agreed_by=hand, agreed_at=at, both_cases=False)
    await house.promises.save(tx, agreed)
    await lay_out_week(tx, client, agreed, number, at=at, days=days, hour=hour)
    return agreed


async def assume_agreed(tx: AsyncConnection, client: Client, promise: Promise, at: dt.datetime) -> Promise:
    """Close agreeing: last week's days and the settled number, prompted as usual."""
    last = await last_promise(tx, client.id, promise.week)
    standing = settling.without_answer(promise.settled or 0, last)
    number = settling.least(standing, await ended_of(tx, promise))
    agreed = replace(promise, agreed=number, agreed_by=Hand.ASSUMED, agreed_at=at, both_cases=False)
    await _fit(tx, client, agreed, number, at)
    return await house.promises.save(tx, agreed)


async def _fit(tx: AsyncConnection, client: Client, promise: Promise, number: int, at: dt.datetime) -> None:
    """Lay out so many asks as were assumed, where the last promise has become another since the week was laid out."""
    asks = await house.asks_of_week(tx, client.id, promise.week)
    laid = [a.day for a in of_promise(asks) if a.is_open and not a.weekly]
    if len(of_promise(asks)) > number:
        for ask in to_go(asks, number):
            await house.asks.save(tx, withdraw(ask))
    elif len(of_promise(asks)) < number:
        life = await house.circumstances(tx, client)
        usual = await usual_layout(tx, client, promise.week, number, life, at)
        days = [*laid, *(day for day in usual if day not in laid)]
        await lay_out_week(tx, client, promise, number, at=at, days=days)


async def lay_out_week(
    tx: AsyncConnection,
    client: Client,
    promise: Promise,
    number: int,
    *,
    at: dt.datetime,
    days: Sequence[dt.date] | None = None,
    hour: dt.time | None = None,
    minutes: int | None = None,
) -> list[Ask]:
    """Put the asks of a promise on their days: those chosen, else last week's, else the usual ones. ``minutes``: for all of them."""
    life = await house.circumstances(tx, client)
    existing = await house.asks_of_week(tx, client.id, promise.week)
    chosen = (
        list(days) if days is not None else await usual_layout(tx, client, promise.week, number, life, at)
    )
    layout = lay_out(existing, chosen[:number], hour or _hour(existing, client), minutes, number=number)
    for ask in layout.changed:
        await house.asks.save(tx, ask)
    for day in layout.new_days:
        await house.asks.add(
            tx, new_ask(client.id, promise.week, day, hour or _hour(existing, client), promise.minutes)
        )
    return await house.asks_of_week(tx, client.id, promise.week)


def _hour(existing: Sequence[Ask], client: Client) -> dt.time:
    planned = [a for a in existing if not a.extra and not a.weekly]
    return planned[0].at if planned else client.usual_time


async def usual_layout(
    tx: AsyncConnection, client: Client, week: IsoWeek, number: int, life: Circumstances, at: dt.datetime
) -> list[dt.date]:
    """The days that a week falls on when nobody says otherwise."""
    preferred = preference(await past_days(tx, client.id, week), client.usual_days, number)
    return choose_days(number, preferred, askable_days(week, life, client.usual_time, at=at))


async def lower(tx: AsyncConnection, promise: Promise, number: int, *, at: dt.datetime) -> Promise:
    """Lower a running week before its first miss: its last asks go, all carry the new number, the week is marked lowered."""
    asks = await house.asks_of_week(tx, promise.client_id, promise.week)
    lowest = settling.least(number, await ended_of(tx, promise))
    if lowest >= (promise.number or 0):
        return promise
    for ask in to_go(asks, lowest):
        await house.asks.save(tx, withdraw(ask))
    lowered = replace(
        promise, agreed=lowest, agreed_by=Hand.CLIENT, agreed_at=at, lowered=True, both_cases=False
    )
    return await house.promises.save(tx, lowered)


async def goes_instead(tx: AsyncConnection, client: Client, ask: Ask, *, at: dt.datetime) -> bool:
    """After a lowering: this ask goes, and the first that had gone comes back. False where nothing can be exchanged any more."""
    life = await house.circumstances(tx, client)
    asks = await house.asks_of_week(tx, client.id, ask.week)
    stays = gone_last(asks, life, today=life.today(at))
    if stays is None or not ask.is_open or has_missed(asks):
        return False
    for changed in instead(ask, stays):
        await house.asks.save(tx, changed)
    return True
