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
) -> Written:
    """Write an answer where it belongs. An unplanned session fills an ask of its week, or is an extra."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    asks = await house.asks_of(tx, client.id, since=IsoWeek.of(today).plus(-LOOK_BACK_WEEKS))
    ask = answering.ask_meant(asks, today=today, named=named, replied_to=ask_id)
    if ask is None or ask.withdrawn:
        return await _unplanned(
            tx, client, asks, outcome, at=at, day=named or today, minutes=minutes, today=today
        )
    if not answering.may_correct(ask, today):
        return Written(effect=Effect.TOO_LATE, ask=ask)
    if ask.day > today and outcome in answering.TOOK_PLACE:
        return await _unplanned(
            tx, client, asks, outcome, at=at, day=named or today, minutes=minutes, today=today
        )
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


async def _unplanned(
    tx: AsyncConnection,
    client: Client,
    asks: Sequence[Ask],
    outcome: Outcome,
    *,
    at: dt.datetime,
    day: dt.date,
    minutes: int | None,
    today: dt.date,
) -> Written:
    if outcome not in answering.TOOK_PLACE:
        return Written(effect=Effect.NOTHING)
    week = IsoWeek.of(day)
    if today > week.next().monday + dt.timedelta(days=2) or day > today:
        return Written(effect=Effect.TOO_LATE if day <= today else Effect.NOTHING)
    hole = answering.filled_by_unplanned(asks, week)
    if hole is not None:
        filled = await house.asks.save(tx, answering.fill(hole, day, outcome, at=at, minutes=minutes))
        return await _written(tx, client, Effect.FILLED, filled, hole)
    extra = await house.asks.add(tx, _extra(client, week, day, at, minutes))
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
