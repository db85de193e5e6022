"""The one place that reads the time.

Everything else takes an instant as an argument: the clock is read once at the edge of a unit of work and passed down, so that
tests and rehearsals can move it.
"""

import datetime as dt
from typing import Protocol


class Clock(Protocol):
    """Tells the present instant, aware and in UTC."""

    def now(self) -> dt.datetime: ...


class SystemClock:
    """The machine's own clock."""

    def now(self) -> dt.datetime:
        return dt.datetime.now(dt.UTC)  # noqa: TID251 - the only reading


class ManualClock:
    """A clock that stands still until it is moved, for rehearsals and tests. It never runs backwards."""

    def __init__(self, at: dt.datetime) -> None:
        self._at = at.astimezone(dt.UTC)

    def now(self) -> dt.datetime:
        return self._at

    def move_to(self, at: dt.datetime) -> None:
        self._at = max(self._at, at.astimezone(dt.UTC))

    def advance(self, by: dt.timedelta) -> None:
        self.move_to(self._at + by)
