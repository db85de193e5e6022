"""Sleep: hours against the client's own need, short nights, debt, regularity.

Seven hours are the line: Watson et al. 2015, joint consensus statement of the American Academy of Sleep Medicine and the Sleep
Research Society (J Clin Sleep Med 11(6):591-592): adults should sleep seven or more hours a night on a regular basis.
"""

import datetime as dt
import enum
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from core.errors import Refused

SHORT = 7.0  # hours; a night under this is a short one (AASM/SRS 2015)
_ENOUGH_FOR_SPREAD = 8  # nights: a spread from a week or less is biased (Fischer, Klerman, Phillips 2021, Sleep 44(10):zsab103)
_MINUTE = dt.timedelta(minutes=1)
_DAY = dt.timedelta(days=1)


class Quality(enum.StrEnum):
    GOOD = "good"
    OK = "ok"
    BAD = "bad"


@dataclass(frozen=True, slots=True)
class Night:
    """The night before the day: hours slept, and how it was, where it was said."""

    day: dt.date
    hours: float
    quality: Quality | None = None

    def __post_init__(self) -> None:
        if not 0 <= self.hours <= 24:
            raise Refused(f"{self.hours:g} hours of sleep cannot be: a night has between 0 and 24.")

    @property
    def is_short(self) -> bool:
        return self.hours < SHORT


@dataclass(frozen=True, slots=True, kw_only=True)
class SleepWeek:
    """The nights of a week that were told. ``mean``, ``need`` and ``debt`` in hours; None where nothing is known."""

    nights: int
    short: int
    mean: float | None
    need: float
    debt: float
    spread: float | None

    @property
    def below_need(self) -> float | None:
        """Hours a night by which the mean falls short of the need; 0 where it does not."""
        return None if self.mean is None else max(0.0, self.need - self.mean)


def sleep_week(nights: Sequence[Night], *, monday: dt.date, need: float) -> SleepWeek:
    """The week from Monday on, out of all the nights known; ``need`` in hours a night, as the client stated it."""
    week = [night for night in _latest_of_each_day(nights) if monday <= night.day < monday + 7 * _DAY]
    return SleepWeek(
        nights=len(week),
        short=sum(night.is_short for night in week),
        mean=mean(week),
        need=need,
        debt=debt(week, need),
        spread=spread(
            [
                night
                for night in _latest_of_each_day(nights)
                if monday - 7 * _DAY <= night.day < monday + 7 * _DAY
            ]
        ),
    )


def _latest_of_each_day(nights: Sequence[Night]) -> list[Night]:
    """One night a day, the one told last, in the order of days."""
    told = {night.day: night for night in nights}
    return [told[day] for day in sorted(told)]


def mean(nights: Sequence[Night]) -> float | None:
    """Hours a night over the nights known."""
    return statistics.fmean(night.hours for night in nights) if nights else None


def debt(nights: Sequence[Night], need: float) -> float:
    """Hours that the nights known fall short of the need, taken together; a long night pays back, and there is no credit.

    The literature speaks of debt as the running sum of need less sleep (Van Dongen et al. 2003, Sleep 26(2):117-126); there is no
    single standard definition, so the need that is used is shown beside it.
    """
    return max(0.0, sum(need - night.hours for night in nights))


def spread(nights: Sequence[Night]) -> float | None:
    """How much the hours differ from night to night (sample standard deviation, hours); None for fewer than eight nights."""
    return statistics.stdev(night.hours for night in nights) if len(nights) >= _ENOUGH_FOR_SPREAD else None


def two_short_nights(nights: Sequence[Night], day: dt.date) -> bool:
    """Whether this day and the one before both followed a short night: then the day's session is made lighter, never longer."""
    short = {night.day for night in _latest_of_each_day(nights) if night.is_short}
    return {day, day - _DAY} <= short


def regularity(
    asleep: Sequence[tuple[dt.datetime, dt.datetime]], *, since: dt.datetime, until: dt.datetime
) -> float:
    """The Sleep Regularity Index over ``[since, until)``, from spans asleep (from, to), all aware; needs more than 24 hours.

    The chance of being in the same state, asleep or awake, at any two times a day apart, from -100 (never) over 0 (at random) to
    100 (always): Phillips et al. 2017, Sci Rep 7:3216. By the minute.
    """
    minutes = int((until - since) / _MINUTE)
    day = int(_DAY / _MINUTE)
    if minutes <= day:
        raise ValueError("regularity compares a day with the next: give it more than 24 hours")
    states = bytearray(minutes)
    for fell, woke in asleep:
        first, last = (min(max(0, round((at - since) / _MINUTE)), minutes) for at in (fell, woke))
        states[first:last] = b"\x01" * (last - first)
    same = sum(one == other for one, other in zip(states, states[day:], strict=False))
    return -100 + 200 * same / (minutes - day)
