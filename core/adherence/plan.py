"""The days that the odds of the coming week are for.

They are nested: a promise of k is the first k of seven days, so one more session is the same days and one more.
"""

import datetime as dt
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

from core.adherence.history import LARGEST_PROMISE, HistoryRow, monday_of
from core.adherence.weeks import WEEK, known, planned_asks

NOTHING_KNOWN_MINUTES = 45
LAST_ASKS = 8
SPREAD_OUT = (1, 3, 5, 2, 4, 6, 7)  # weekdays, for somebody without a past
SHORTEST, STEP = 10, 5  # minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedDay:
    """One session of the coming week. ``away`` and ``slept_h`` are None where nobody knows yet."""

    date: dt.date
    minutes: int
    away: bool | None = None
    slept_h: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekPlan:
    """Seven sessions of the week that begins on ``monday``, the surest first; a promise of k means the first k."""

    monday: dt.date
    days: tuple[PlannedDay, ...]
    minutes: int

    def with_minutes(self, minutes: int) -> "WeekPlan":
        """The same days, none of them longer than ``minutes``."""
        days = tuple(replace(day, minutes=min(day.minutes, minutes)) for day in self.days)
        return replace(self, days=days, minutes=minutes)


def plan_week(
    rows: Sequence[HistoryRow],
    as_of: dt.date,
    *,
    planned: Sequence[PlannedDay] | None = None,
    away: Mapping[dt.date, bool] | None = None,
) -> WeekPlan:
    """The coming week of one client: planned days first, then usual ones, both by past frequency.

    ``planned`` defaults to the rows of that week in the history; ``away`` says where the client will be, where that is known.
    """
    fixed = _planned_in(rows, as_of) if planned is None else tuple(planned)
    habit = Counter(row.date.isoweekday() for row in known(rows, as_of) if row.is_ask)
    minutes = usual_minutes(rows, as_of) if not fixed else round(median(day.minutes for day in fixed))
    monday = monday_of(as_of) + WEEK
    first = sorted(fixed, key=lambda day: _rank(day.date.isoweekday(), habit))
    then = _usual_days(monday, habit, {day.date.isoweekday() for day in fixed})
    usual = [
        PlannedDay(date=date, minutes=minutes, away=_whereabouts(date, fixed, away or {})) for date in then
    ]
    return WeekPlan(monday=monday, days=tuple([*first, *usual][:LARGEST_PROMISE]), minutes=minutes)


def usual_minutes(rows: Sequence[HistoryRow], as_of: dt.date) -> int:
    """The median of the last eight asks, else 45."""
    asks = [row.minutes for row in known(rows, as_of) if row.is_ask][-LAST_ASKS:]
    return round(median(asks)) if asks else NOTHING_KNOWN_MINUTES


def fewer_minutes(minutes: int) -> range:
    """The lengths that may be tried instead, longest first: multiples of five, at least ten."""
    longest = (minutes - 1) // STEP * STEP
    return range(longest, SHORTEST - 1, -STEP)


def _planned_in(rows: Sequence[HistoryRow], as_of: dt.date) -> tuple[PlannedDay, ...]:
    return tuple(
        PlannedDay(date=row.date, minutes=row.minutes, away=row.away, slept_h=row.slept_h)
        for row in planned_asks(rows, as_of)
    )


def _rank(weekday: int, habit: Counter[int]) -> tuple[int, int]:
    return -habit[weekday], SPREAD_OUT.index(weekday)


def _usual_days(monday: dt.date, habit: Counter[int], taken: set[int]) -> list[dt.date]:
    """Every free weekday, then, for as many as are missing to seven, the taken ones a second time."""
    ranked = sorted(SPREAD_OUT, key=lambda weekday: (weekday in taken, _rank(weekday, habit)))
    return [monday + dt.timedelta(days=weekday - 1) for weekday in ranked]


def _whereabouts(date: dt.date, fixed: Sequence[PlannedDay], away: Mapping[dt.date, bool]) -> bool | None:
    """Where a trip says nothing, as on the nearest planned day: trips come in one piece."""
    if date in away or not fixed:
        return away.get(date)
    return min(fixed, key=lambda day: (abs(day.date - date), day.date)).away
