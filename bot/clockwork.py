"""The metronome. It knows nobody: a handful of ticks, each of which asks the database what is due."""

import datetime as dt
import logging
from collections.abc import Awaitable, Callable
from dataclasses import dataclass

from apscheduler.schedulers.asyncio import AsyncIOScheduler

from bot.clock import Clock

log = logging.getLogger(__name__)

Tick = Callable[[dt.datetime], Awaitable[None]]


@dataclass(frozen=True, slots=True)
class Beat:
    """:param work: called with the present instant of the house's clock."""

    name: str
    every: dt.timedelta
    work: Tick


class Clockwork:
    """At most three interval jobs, in memory alone: what is due lives in the database, and is still due after a restart.

    A beat that comes late is done, several late ones count as one, and none overtakes itself.
    """

    def __init__(self, beats: list[Beat], clock: Clock) -> None:
        if len(beats) > 3:
            raise ValueError("due rows, not jobs")
        self._beats = beats
        self._clock = clock
        self._scheduler = AsyncIOScheduler(
            timezone=dt.UTC, job_defaults={"misfire_grace_time": None, "coalesce": True, "max_instances": 1}
        )
        self.failures = 0

    def start(self) -> None:
        for beat in self._beats:
            self._scheduler.add_job(
                self._beat, "interval", args=[beat], seconds=beat.every.total_seconds(), id=beat.name
            )
        self._scheduler.start()

    def stop(self) -> None:
        self._scheduler.shutdown(wait=False)

    async def _beat(self, beat: Beat) -> None:
        """One failing beat must not end the others, nor itself: what was due is still due at the next."""
        try:
            await beat.work(self._clock.now())
        except Exception:
            self.failures += 1
            log.exception("the %s failed", beat.name)
