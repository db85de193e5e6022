"""Which days a promise falls on: when-and-where plans.

Days are nested: a promise of three is the days of a promise of two and one more, so that one session fewer or more never moves
the others.
"""

import datetime as dt
from collections.abc import Collection, Sequence

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


def preference(last_week: Sequence[int], usual: Sequence[int], number: int) -> list[int]:
    """Order the ISO weekdays: those of last week's plan, then the usual ones, then an even spread."""
    return list(dict.fromkeys([*last_week, *usual, *SPREAD[max(1, min(number, 7))]]))
