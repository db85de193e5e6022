"""Keeping our own stalls from bunching messages up: a process that was held up for a moment must not make good for it at once."""

import datetime as dt
from collections import deque

MOST = 30  # messages
WITHIN = dt.timedelta(seconds=1.04)


class Steady:
    """Counts when the last messages of this process really started; at most 30 may within a second."""

    def __init__(self) -> None:
        self._starts: deque[dt.datetime] = deque(maxlen=MOST)
        self._claimed = 0

    def opens_at(self) -> dt.datetime | None:
        """When the next message may be claimed, by the machine's clock; None: as far as we are concerned, at once."""
        place = MOST - self._claimed
        if place <= 0:
            return self._starts[-1] + WITHIN if self._starts else None
        return self._starts[-place] + WITHIN if len(self._starts) >= place else None

    def claim(self) -> None:
        self._claimed += 1

    def start(self, at: dt.datetime) -> None:
        """One that was claimed starts now, or never will."""
        self._claimed -= 1
        self._starts.append(at)
