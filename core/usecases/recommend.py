"""Recommending: the forecast's own number for the coming week, frozen as it was issued."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.adherence.advice import Advice, advise
from core.adherence.forecast import Population, fit
from core.adherence.history import HistoryRow
from core.adherence.promise import Settings
from core.calendar import zones
from core.calendar.weeks import IsoWeek
from core.how_many import how_many
from core.people.model import Client
from core.store import house
from core.usecases import history
from core.week import settling
from core.week.circumstances import Circumstances
from core.week.model import Promise

SHORTEST, IN_FIVES = 10, 5  # minutes


async def population(tx: AsyncConnection, today: dt.date) -> tuple[Population, dict[str, list[HistoryRow]]]:
    """Learn from every client of the installation, and hand back the rows that it was learnt from.

    In the one transaction: for whoever has nobody to serve meanwhile. `bot.learning` is for all others.
    """
    cohort = await history.cohort(tx)
    return learnt_from(cohort, today), cohort


def learnt_from(cohort: Mapping[str, Sequence[HistoryRow]], today: dt.date) -> Population:
    """Arithmetic alone, of seconds where there are many clients: whoever has others to serve does it in a thread."""
    return fit(cohort, today)


async def advice_for(
    tx: AsyncConnection,
    client: Client,
    at: dt.datetime,
    learnt: Population,
    rows: Sequence[HistoryRow],
    *,
    coming: IsoWeek | None = None,
) -> Advice:
    """Advice for a week, else for the one after the client's running one.

    Where the client lives in that week already (the coach's Sunday is their Monday, or the digest came late), it is the advice of
    its eve: what the week itself has brought is not known yet.
    """
    life = await house.circumstances(tx, client)
    coming = coming or IsoWeek.of(life.today(at)).next()
    eve = min(life.today(at), coming.previous().sunday)
    asks = await house.asks_of_week(tx, client.id, coming.previous())
    known = max(history.as_of(asks, eve), coming.previous().monday)  # never a day of another week
    settings = Settings(
        confidence=client.confidence,
        floor=client.floor,
        lately=client.lately,
        away=away_days(life, coming),
    )
    return advise({str(client.id): list(rows)}, str(client.id), known, settings, learnt)


def away_days(life: Circumstances, week: IsoWeek) -> Mapping[dt.date, bool]:
    return {day: life.where.away_on(day) for day in week.days()}


async def issue(
    tx: AsyncConnection,
    client: Client,
    week: IsoWeek,
    advice: Advice,
    *,
    at: dt.datetime,
    asked: dt.datetime | None = None,
) -> Promise:
    """Write the recommendation down, unless one was issued for this week before: it is never rewritten.

    `asked`: when the coach is asked to settle it, if that is not now.
    """
    known = await house.promise_for(tx, client.id, week)
    if known is not None and known.issued_at is not None:
        return known
    life = await house.circumstances(tx, client)
    fresh = known or Promise(id=0, client_id=client.id, week=week)
    recommendation = advice.recommendation
    if_done = advice.if_open_done
    minutes = spoken_minutes(recommendation.minutes, client) if advice_has_history(advice) else client.minutes
    usable = sum(life.usable(day) for day in week.days())
    sessions = min(recommendation.sessions, usable)
    case = min(if_done.sessions, usable) if if_done else sessions
    issued = replace(
        fresh,
        recommended=sessions,
        recommended_minutes=minutes,
        recommended_if_done=case if case != sessions else None,
        talk_first=recommendation.talk_first and client.floor is not None,
        why="; ".join([advice.why, *_cut_short(recommendation.sessions, usable)]),
        odds={str(k): round(p, 4) for k, p in recommendation.odds.keep.items()},
        expected={str(k): round(e, 3) for k, e in recommendation.odds.expected.items()},
        engaged=round(recommendation.odds.engaged, 4),
        issued_at=at,
        settle_by=settling.settle_by(asked or at, week, life),
        minutes=minutes,
    )
    return await (house.promises.add(tx, issued) if known is None else house.promises.save(tx, issued))


def _cut_short(sessions: int, usable: int) -> list[str]:
    """Why fewer are recommended than the forecast would, if that is so."""
    if usable >= sessions:
        return []
    days = how_many(usable, "day")
    return [f"only {days} of that week in reach" if usable else "out of reach all week"]


def spoken_minutes(minutes: int, client: Client) -> int:
    """Minutes as people promise them: the client's own number, else the nearest multiple of five, at least ten.

    The median of the last asks may be 52; nobody promises that. The forecast itself keeps the median, which can be recomputed
    from the history, and its odds: two minutes move them by less than is told of them.
    """
    return minutes if minutes == client.minutes else max(SHORTEST, round(minutes / IN_FIVES) * IN_FIVES)


def advice_has_history(advice: Advice) -> bool:
    return advice.recommendation.previous is not None


async def first_promise(tx: AsyncConnection, client: Client, at: dt.datetime, learnt: Population) -> Promise:
    """The promise of a client's first week, on the Monday after the coach confirmed the screening."""
    life = await house.circumstances(tx, client)
    week = IsoWeek.of(life.today(at)).next()
    rows = await history.rows_of(tx, client, called=str(client.id))
    advice = await advice_for(tx, client, at, learnt, rows)
    coach = await house.coaches.get(tx, client.coach_id)
    sunday = zones.resolve(week.previous().sunday, coach.digest_at, coach.zone)
    return await issue(tx, client, week, advice, at=at, asked=max(at, settling.asked_at(sunday, week, life)))
