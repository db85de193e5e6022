"""Quiet hours: when nobody is prompted, and when they hear of it instead."""

import datetime as dt
import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from core.calendar.trips import Interval, Stretch, Whereabouts

_DAY = dt.timedelta(days=1)
_MINUTE = dt.timedelta(minutes=1)
_EVENING = dt.timedelta(hours=1)  # who trains early hears this long before quiet hours begin
_FAR = dt.timedelta(days=14)


@dataclass(frozen=True, slots=True)
class QuietHours:
    """Local wall time from ``begins`` up to, not including, ``ends``, over midnight if need be; none where they are equal."""

    begins: dt.time = dt.time(21)
    ends: dt.time = dt.time(7)

    def holds_at(self, wall: dt.time) -> bool:
        if self.begins <= self.ends:
            return self.begins <= wall < self.ends
        return wall >= self.begins or wall < self.ends

    def awake_on(self, day: dt.date) -> tuple[tuple[dt.datetime, dt.datetime], ...]:
        """What the clocks show of a date outside quiet hours: (from, to) pairs of naive times, in order."""
        midnight = dt.datetime.combine(day, dt.time(0))
        begins, ends = dt.datetime.combine(day, self.begins), dt.datetime.combine(day, self.ends)
        spans = ((ends, begins),) if begins > ends else ((midnight, begins), (ends, midnight + _DAY))
        return tuple((since, until) for since, until in spans if since < until)


def is_quiet(at: dt.datetime, whereabouts: Whereabouts, quiet: QuietHours) -> bool:
    """Whether quiet hours hold where the client is at an instant."""
    return quiet.holds_at(whereabouts.local_at(at).time())


def waking(day: dt.date, whereabouts: Whereabouts, quiet: QuietHours) -> tuple[Interval, ...]:
    """When it is this date for the client outside quiet hours, in order."""
    around = whereabouts.instants_of(day)
    if not around:
        return ()
    stretches = whereabouts.stretches(around[0].since, around[-1].until)
    parts = ((each.within(since, until)) for each in stretches for since, until in quiet.awake_on(day))
    return tuple(part for part in parts if part)


def has_waking_minute(day: dt.date, whereabouts: Whereabouts, quiet: QuietHours) -> bool:
    """False for a date that a flight or the date line takes away, all of it or all but its quiet hours."""
    return any(part.length >= _MINUTE for part in waking(day, whereabouts, quiet))


def wakes_at(at: dt.datetime, whereabouts: Whereabouts, quiet: QuietHours) -> dt.datetime:
    """The first instant outside quiet hours, from this one on: where a prompt that would fall into them goes."""
    at = at.astimezone(dt.UTC)
    awake = (part for each in whereabouts.stretches(at, at + _FAR) for part in _awake(each, quiet))
    return next((max(at, part.since) for part in awake if part.until > at), at + _FAR)


def evening_before(at: dt.datetime, whereabouts: Whereabouts, quiet: QuietHours) -> dt.datetime:
    """One hour before the quiet hours that hold at this instant began; if it is not quiet, the instant itself."""
    at = at.astimezone(dt.UTC)
    awake = [part for each in whereabouts.stretches(at - _FAR, at + _MINUTE) for part in _awake(each, quiet)]
    before = [part for part in awake if part.since <= at]
    if not before:
        return at
    last = before[-1]
    return at if at in last else max(last.since, last.until - _EVENING)


def session_prompt(
    day: dt.date, time: dt.time, *, lead: dt.timedelta, whereabouts: Whereabouts, quiet: QuietHours
) -> dt.datetime | None:
    """When to prompt for the session of a local date and time, or None where that date has no minute to prompt in.

    ``lead`` before the session. Where that is quiet: when quiet hours end, if the session has not begun by then, else on the
    evening before. Where that evening is out of reach: late, on the waking morning of the same date. Where the client never lives
    the very minute (a flight took that part of the day): as near to it as the day allows.
    """
    awake = waking(day, whereabouts, quiet)
    if not any(part.length >= _MINUTE for part in awake):
        return None
    begins = whereabouts.resolve(day, time)
    if begins is None:
        prompt = _nearest(awake, dt.datetime.combine(day, time), whereabouts)
    else:
        prompt = _before(begins, lead, whereabouts, quiet)
    if whereabouts.stay_at(prompt).in_reach:
        return prompt
    return _late(begins or prompt, day, whereabouts, quiet)


def _before(
    begins: dt.datetime, lead: dt.timedelta, whereabouts: Whereabouts, quiet: QuietHours
) -> dt.datetime:
    prompt = begins - lead
    if not is_quiet(prompt, whereabouts, quiet):
        return prompt
    woken = wakes_at(prompt, whereabouts, quiet)
    return woken if woken <= begins else evening_before(prompt, whereabouts, quiet)


def _late(
    begins: dt.datetime, day: dt.date, whereabouts: Whereabouts, quiet: QuietHours
) -> dt.datetime | None:
    """The first waking instant after a session began, if it is still that date and in reach."""
    woken = wakes_at(begins, whereabouts, quiet)
    same_day = whereabouts.local_day(woken) == day
    return woken if same_day and whereabouts.stay_at(woken).in_reach else None


def _nearest(awake: tuple[Interval, ...], wall: dt.datetime, whereabouts: Whereabouts) -> dt.datetime:
    """The first waking minute of a day after a wall time that is never lived, or an hour before the last one if there is none."""
    for part in awake:
        if whereabouts.local_at(part.since).replace(tzinfo=None) >= wall:
            return part.since
    return max(awake[-1].since, awake[-1].until - _EVENING)


def _awake(stretch: Stretch, quiet: QuietHours) -> Iterator[Interval]:
    """The parts of a stretch outside quiet hours, in order."""
    first, last = stretch.wall(stretch.since).date(), stretch.wall(stretch.until).date()
    days = itertools.takewhile(lambda day: day <= last, (first + n * _DAY for n in itertools.count()))
    parts = (stretch.within(since, until) for day in days for since, until in quiet.awake_on(day))
    return (part for part in parts if part)
