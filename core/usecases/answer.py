"""Writing down what a client says about a session: to the right ask, once, and so that it can be taken back."""

import datetime as dt
import enum
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.store import house
from core.store import house_tables as t
from core.terms import Outcome
from core.week import answering, count
from core.week.model import Ask, Promise

LOOK_BACK_WEEKS = 2


class Told(enum.StrEnum):
    """How a session came to be told of."""

    ANSWER = "answer"
    ON_ITS_OWN = "on its own"  # begun without an ask: one that has ended already is not meant by it
    MEANWHILE = "meanwhile"  # done in silence: where it is too late to correct, it is an extra on its day


class Effect(enum.StrEnum):
    """What an answer did."""

    WRITTEN = "written"
    CORRECTED = "corrected"
    SAME = "same"  # said before
    FILLED = "filled"  # an unplanned session took the place of an ask
    EXTRA = "extra"  # beyond the promise
    TOO_LATE = "too late"
    NOTHING = "nothing"  # nothing was asked that it could belong to


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """The effect of an answer; `before` is how the ask stood, None where it is new, so that it can be taken back."""

    effect: Effect
    ask: Ask | None = None
    before: Ask | None = None
    promise: Promise | None = None
    week: Sequence[Ask] = ()

    @property
    def is_no_extra(self) -> bool:
        """Whether an extra has just turned out to be none."""
        return self.effect is Effect.CORRECTED and self.ask is not None and self.ask.withdrawn

    @property
    def is_kept(self) -> bool:
        """Whether every ask of the week has ended and the week is kept."""
        return not count.still_open(self.week) and count.is_kept(self.week)


async def write_outcome(
    tx: AsyncConnection,
    client: Client,
    outcome: Outcome,
    *,
    at: dt.datetime,
    ask_id: int | None = None,
    named: dt.date | None = None,
    minutes: int | None = None,
    told: Told = Told.ANSWER,
) -> Written:
    """Write an answer where it belongs. An unplanned session fills an ask of its week, or is an extra."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    asks = await house.asks_of(tx, client.id, since=IsoWeek.of(today).plus(-LOOK_BACK_WEEKS))
    ask = answering.ask_meant(asks, today=today, named=named, replied_to=ask_id)
    if ask is None and ask_id is not None:  # of longer ago than anything can be corrected
        ask = await house.asks.find(tx, t.ask.c.id == ask_id, t.ask.c.client_id == client.id)
    if ask is not None and not answering.may_correct(ask, today) and told is not Told.MEANWHILE:
        return Written(effect=Effect.TOO_LATE, ask=ask)
    unplanned = ask is None or ask.withdrawn or (told is Told.ON_ITS_OWN and not ask.is_open)
    ahead = ask is not None and ask.day > today and outcome in answering.TOOK_PLACE
    closed = ask is not None and not answering.may_correct(ask, today)
    if ask is None or unplanned or ahead or closed:
        session = _Session(
            outcome=outcome, at=at, day=answering.day_meant(ask, named, today), minutes=minutes, today=today
        )
        return await _unplanned(tx, client, asks, session, told)
    return await _write(tx, client, ask, answering.answer(ask, outcome, at=at, minutes=minutes))


async def _write(tx: AsyncConnection, client: Client, before: Ask, after: Ask) -> Written:
    await house.asks.save(tx, after)
    if before.outcome is None or before.outcome is Outcome.UNANSWERED:
        effect = Effect.WRITTEN
    else:
        effect = Effect.SAME if before.outcome is after.outcome else Effect.CORRECTED
    return await _written(tx, client, effect, after, before)


async def _written(
    tx: AsyncConnection, client: Client, effect: Effect, ask: Ask, before: Ask | None
) -> Written:
    return Written(
        effect=effect,
        ask=ask,
        before=before,
        promise=await house.promise_for(tx, client.id, ask.week),
        week=await house.asks_of_week(tx, client.id, ask.week),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Session:
    """A session that was told of, on its local day."""

    outcome: Outcome
    at: dt.datetime
    day: dt.date
    minutes: int | None
    today: dt.date


async def _unplanned(
    tx: AsyncConnection, client: Client, asks: Sequence[Ask], session: _Session, told: Told
) -> Written:
    if session.outcome not in answering.TOOK_PLACE or session.day > session.today:
        return Written(effect=Effect.NOTHING)
    week = IsoWeek.of(session.day)
    closed = session.today > answering.last_day_to_correct(week)
    if closed and told is not Told.MEANWHILE:
        return Written(effect=Effect.TOO_LATE)
    hole = None if closed else answering.filled_by_unplanned(asks, week)
    if hole is not None:
        filled = answering.fill(hole, session.day, session.outcome, at=session.at, minutes=session.minutes)
        return await _written(tx, client, Effect.FILLED, await house.asks.save(tx, filled), hole)
    extra = await house.asks.add(tx, _extra(client, week, session.day, session.at, session.minutes))
    return await _written(tx, client, Effect.EXTRA, extra, None)


def _extra(client: Client, week: IsoWeek, day: dt.date, at: dt.datetime, minutes: int | None) -> Ask:
    return Ask(
        id=0,
        client_id=client.id,
        week=week,
        day=day,
        at=client.usual_time,
        minutes=minutes or client.minutes,
        extra=True,
        outcome=Outcome.EXTRA,
        answered_at=at,
        took_minutes=minutes,
    )


async def take_back(tx: AsyncConnection, ask_id: int, before: Ask | None) -> None:
    """Undo the last answer: the ask stands as it stood; an extra is gone."""
    if before is None:
        await house.asks.remove(tx, t.ask.c.id == ask_id, t.ask.c.extra.is_(True))
        return
    now = await house.asks.get(tx, before.id)
    # The revision never goes back: what was sent for it stays sent.
    moved = (now.day, now.at) != (before.day, before.at)
    await house.asks.save(
        tx,
        replace(
            before, revision=now.revision + moved, prompted=now.prompted if not moved else before.prompted
        ),
    )


async def write_effort(
    tx: AsyncConnection, ask_id: int, *, effort: float | None = None, minutes: int | None = None
) -> Ask:
    """Write down how hard a session was (CR-10) and how long it took."""
    ask = await house.asks.get(tx, ask_id)
    changed = replace(
        ask,
        effort=effort if effort is not None else ask.effort,
        took_minutes=minutes if minutes is not None else ask.took_minutes,
    )
    return await house.asks.save(tx, changed)
