"""The limits of the Bot API on a clock that is moved by hand."""

import datetime as dt

import pytest

from bot.clock import ManualClock
from bot.rehearsal.botapi.errors import ApiError
from bot.rehearsal.botapi.limits import Limits

START = dt.datetime(2026, 3, 2, tzinfo=dt.UTC)


def admitted(limits: Limits, chats: list[int]) -> int:
    count = 0
    for chat in chats:
        try:
            limits.admit(chat)
        except ApiError:
            continue
        count += 1
    return count


def test_thirty_a_second_overall() -> None:
    clock = ManualClock(START)
    limits = Limits(clock)
    assert admitted(limits, list(range(1, 41))) == 30
    clock.advance(dt.timedelta(seconds=0.5))
    assert admitted(limits, [99]) == 0
    clock.advance(dt.timedelta(seconds=0.5))
    assert admitted(limits, list(range(50, 90))) == 30


def test_one_a_second_to_a_chat_with_a_burst_of_three() -> None:
    clock = ManualClock(START)
    limits = Limits(clock)
    assert admitted(limits, [1] * 5) == 3
    total = 0
    for _ in range(60):
        clock.advance(dt.timedelta(seconds=1))
        total += admitted(limits, [1] * 3)
    assert total == 60


def test_twenty_a_minute_to_a_group() -> None:
    clock = ManualClock(START)
    limits = Limits(clock)
    assert admitted(limits, [-7] * 25) == 20
    with pytest.raises(ApiError) as refused:
        limits.admit(-7)
    assert refused.value.body() == {
        "ok": False,
        "error_code": 429,
        "description": "Too Many Requests: retry after 60",
        "parameters": {"retry_after": 60},
    }


def test_who_waits_as_told_is_let_through() -> None:
    clock = ManualClock(START)
    limits = Limits(clock)
    admitted(limits, [1] * 3)
    with pytest.raises(ApiError) as refused:
        limits.admit(1)
    assert refused.value.retry_after == 3
    clock.advance(dt.timedelta(seconds=3))
    limits.admit(1)
    assert limits.refused == 1


def test_it_can_be_switched_off() -> None:
    limits = Limits(ManualClock(START), on=False)
    assert admitted(limits, [1] * 500) == 500
