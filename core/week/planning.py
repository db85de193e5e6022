"""Which days a promise falls on: when-and-where plans.

Days are nested: a promise of three is the days of a promise of two and one more, so that one session fewer or more never moves
the others.
"""

import datetime as dt
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from core.calendar.weeks import IsoWeek
from core.week.circumstances import Circumstances

SPREAD = {
    1: (1,),
    2: (1, 4),
    3: (1, 3, 5),
    4: (1, 2, 4, 5),
    5: (1, 2, 3, 4, 5),
    6: (1, 2, 3, 4, 5, 6),
    7: (1, 2, 3, 4, 5, 6, 7),
}

SPREAD_OUT = (1, 3, 5, 2, 4, 6, 7)  # ISO weekdays; of two that were used as often, as the forecast ranks them


@dataclass(frozen=True, slots=True, kw_only=True)
class PastDays:
    """The ISO weekdays of a client's asks so far: those of the last week that had any, and how often each was one."""

    last_week: tuple[int, ...] = ()
    habit: Mapping[int, int] = field(default_factory=dict)


def usable_days(week: IsoWeek, life: Circumstances, *, not_before: dt.date) -> list[dt.date]:
    """List the days of a week on which the client can be asked: lived, in reach, and not over."""
    return [day for day in week.days() if day >= not_before and life.usable(day)]


def askable_days(week: IsoWeek, life: Circumstances, hour: dt.time, *, at: dt.datetime) -> list[dt.date]:
    """List the usable days of a week on which a session at this hour can still be prompted in time."""
    days = usable_days(week, life, not_before=max(week.monday, life.today(at)))
    return [day for day in days if (prompt := life.prompt_at(day, hour)) is not None and prompt >= at]


def choose_days(number: int, preferred: Sequence[int], usable: Sequence[dt.date]) -> list[dt.date]:
    """Choose up to `number` days: the preferred ISO weekdays in their order, then those farthest from the chosen ones."""
    by_weekday = {day.isoweekday(): day for day in usable}
    chosen = [by_weekday[w] for w in dict.fromkeys(preferred) if w in by_weekday][:number]
    while len(chosen) < min(number, len(usable)):
        chosen.append(farthest(chosen, [day for day in usable if day not in chosen]))
    return sorted(chosen)


def farthest(chosen: Collection[dt.date], candidates: Sequence[dt.date]) -> dt.date:
    """Pick the candidate with the most days to the nearest chosen one; the earliest of equals."""
    return max(
        candidates, key=lambda day: (min((abs((day - c).days) for c in chosen), default=7), -day.toordinal())
    )


def preference(past: PastDays, usual: Sequence[int], number: int) -> list[int]:
    """Order the ISO weekdays: those of last week's plan, then the usual ones, both by past frequency, then an even spread.

    So a promise that shrinks keeps the days that are used most, and not the first of the week.
    """

    def by_habit(weekday: int) -> tuple[int, int]:
        return -past.habit.get(weekday, 0), SPREAD_OUT.index(weekday)

    last_week, others = sorted(past.last_week, key=by_habit), sorted(past.habit, key=by_habit)
    named = sorted(usual, key=lambda weekday: -past.habit.get(weekday, 0))  # of equals, as they were named
    return list(dict.fromkeys([*last_week, *named, *others, *SPREAD[max(1, min(number, 7))]]))
