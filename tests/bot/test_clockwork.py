import asyncio
import datetime as dt
import logging

import pytest

from bot.clock import ManualClock
from bot.clockwork import Beat, Clockwork

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
SOON = dt.timedelta(milliseconds=20)


async def test_every_beat_is_told_the_houses_time_and_a_failing_one_stops_nothing(
    caplog: pytest.LogCaptureFixture,
) -> None:
    told: list[dt.datetime] = []

    async def tick(at: dt.datetime) -> None:
        told.append(at)
        if len(told) == 1:
            raise ZeroDivisionError

    clockwork = Clockwork([Beat("tick", SOON, tick)], ManualClock(NOON))
    with caplog.at_level(logging.CRITICAL):
        clockwork.start()
        async with asyncio.timeout(10):
            while len(told) < 3:  # noqa: ASYNC110
                await asyncio.sleep(0.01)
        clockwork.stop()
    assert set(told) == {NOON}
    assert clockwork.failures == 1


async def test_a_slow_beat_never_overtakes_itself_and_is_not_dropped_for_being_late() -> None:
    running = most = done = 0

    async def tick(_at: dt.datetime) -> None:
        nonlocal running, most, done
        running += 1
        most = max(most, running)
        await asyncio.sleep(0.1)
        running -= 1
        done += 1

    clockwork = Clockwork([Beat("tick", SOON, tick)], ManualClock(NOON))
    logging.getLogger("apscheduler").setLevel(logging.ERROR)  # it remarks on every run that it leaves out
    clockwork.start()
    async with asyncio.timeout(10):
        while done < 3:  # noqa: ASYNC110
            await asyncio.sleep(0.01)
    clockwork.stop()
    await asyncio.sleep(0.15)
    assert most == 1


def test_there_is_no_job_per_client() -> None:
    async def work(_at: dt.datetime) -> None: ...

    with pytest.raises(ValueError, match="due rows, not jobs"):
        Clockwork([Beat(f"{n}", SOON, work) for n in range(4)], ManualClock(NOON))
