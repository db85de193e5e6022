"""What a client's days are like: where they are, and when they want quiet."""

import datetime as dt
import functools
from dataclasses import dataclass

from core.calendar import quiet
from core.calendar.quiet import QuietHours
from core.calendar.trips import Whereabouts

PROMPT_LEAD = dt.timedelta(minutes=30)
FOLLOW_UP_AFTER = dt.timedelta(minutes=60)
UNANSWERED_FROM = dt.time(12)
A_DAY = dt.timedelta(days=1)
REMEMBERED = 8192
STEPS_AHEAD = 120  # two to a day: two months without a signal


@dataclass(frozen=True, slots=True)
class Circumstances:
    """One client's whereabouts and quiet hours, and what follows from both."""

    where: Whereabouts
    quiet: QuietHours
    paused_until: dt.date | None = None  # the last local day of a pause

    def usable(self, day: dt.date) -> bool:
        """Whether the client can be asked on a date: in reach, not paused, with a minute outside quiet hours."""
        return (
            self.where.in_reach_on(day)
            and not self.is_paused_on(day)
            and _has_waking_minute(self.where, self.quiet, day)
        )

    def is_paused_on(self, day: dt.date) -> bool:
        return self.paused_until is not None and day <= self.paused_until

    def hears(self, at: dt.datetime) -> bool:
        """Whether something unasked may be sent at this very instant."""
        return (
            not self.is_quiet(at)
            and self.where.stay_at(at).in_reach
            and not self.is_paused_on(self.today(at))
        )

    def hears_from(self, at: dt.datetime) -> dt.datetime:
        """When something unasked may be sent, from now on; or, far ahead, when to look again. A day out of reach is whole."""
        for _ in range(STEPS_AHEAD):
            if self.hears(at):
                return at
            awake = self.wake(at)
            at = awake if awake > at else self._next_day(at)
        return at

    def _next_day(self, at: dt.datetime) -> dt.datetime:
        """When the next local day begins, after a pause: a pause and a stretch without signal are over at a day's end."""
        today = max(self.today(at), self.paused_until or dt.date.min)
        begun = (self.where.instants_of(today + dt.timedelta(days=n)) for n in range(1, 4))
        return next((lived[0].since for lived in begun if lived and lived[0].since > at), at + A_DAY)

    def prompt_at(self, day: dt.date, at: dt.time) -> dt.datetime | None:
        """When to prompt for a session; who trains before quiet hours end hears the evening before."""
        return _prompt_at(self.where, self.quiet, day, at)

    def session_at(self, day: dt.date, at: dt.time) -> dt.datetime | None:
        """When the session begins: its own minute, or the prompt's where that minute is never lived."""
        return _session_at(self.where, self.quiet, day, at)

    def follow_up_at(self, day: dt.date, at: dt.time, minutes: int) -> dt.datetime | None:
        """When to ask how it went: an hour after its planned end, or when quiet hours end."""
        return _follow_up_at(self.where, self.quiet, day, at, minutes)

    def closes_at(self, day: dt.date) -> dt.datetime:
        """Noon of the next local day that is lived: from then on an ask without an answer is unanswered."""
        return self.first_lived(day + dt.timedelta(days=1), UNANSWERED_FROM)

    def wake(self, at: dt.datetime) -> dt.datetime:
        """The first instant from this one on that is outside quiet hours."""
        return quiet.wakes_at(at, self.where, self.quiet)

    def is_quiet(self, at: dt.datetime) -> bool:
        return quiet.is_quiet(at, self.where, self.quiet)

    def today(self, at: dt.datetime) -> dt.date:
        return self.where.local_day(at)

    def first_lived(self, day: dt.date, at: dt.time) -> dt.datetime:
        """The instant of a local minute; where it is never lived, that of the same minute on the next day that has it."""
        for ahead in range(4):
            instant = self.where.resolve(day + dt.timedelta(days=ahead), at)
            if instant is not None:
                return instant
        msg = f"no day with {at} lived from {day} on"
        raise ValueError(msg)


# The same days are looked at again and again, at every tick and every reply; what they are like changes only with the plans.


@functools.lru_cache(maxsize=REMEMBERED)
def _has_waking_minute(where: Whereabouts, quiet_hours: QuietHours, day: dt.date) -> bool:
    return quiet.has_waking_minute(day, where, quiet_hours)


@functools.lru_cache(maxsize=REMEMBERED)
def _prompt_at(where: Whereabouts, quiet_hours: QuietHours, day: dt.date, at: dt.time) -> dt.datetime | None:
    return quiet.session_prompt(day, at, lead=PROMPT_LEAD, whereabouts=where, quiet=quiet_hours)


@functools.lru_cache(maxsize=REMEMBERED)
def _session_at(where: Whereabouts, quiet_hours: QuietHours, day: dt.date, at: dt.time) -> dt.datetime | None:
    return where.resolve(day, at) or _prompt_at(where, quiet_hours, day, at)


@functools.lru_cache(maxsize=REMEMBERED)
def _follow_up_at(
    where: Whereabouts, quiet_hours: QuietHours, day: dt.date, at: dt.time, minutes: int
) -> dt.datetime | None:
    begins = _session_at(where, quiet_hours, day, at)
    if begins is None:
        return None
    return quiet.wakes_at(begins + dt.timedelta(minutes=minutes) + FOLLOW_UP_AFTER, where, quiet_hours)
