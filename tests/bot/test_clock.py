import datetime as dt
from collections.abc import Callable
from contextlib import AbstractContextManager

from bot.clock import ManualClock, SystemClock

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def test_a_manual_clock_stands_still_until_moved() -> None:
    clock = ManualClock(NOON)
    clock.advance(dt.timedelta(hours=1))
    assert clock.now() == dt.datetime(2026, 11, 25, 13, tzinfo=dt.UTC)


def test_a_manual_clock_never_runs_backwards() -> None:
    clock = ManualClock(NOON)
    clock.move_to(NOON - dt.timedelta(days=1))
    assert clock.now() == NOON


def test_the_system_clock_is_aware_and_in_utc(
    frozen: Callable[[dt.datetime], AbstractContextManager[None]],
) -> None:
    with frozen(NOON):
        assert SystemClock().now() == NOON
        assert SystemClock().now().tzinfo is dt.UTC
