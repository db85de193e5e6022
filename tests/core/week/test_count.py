"""Honest count."""

import pytest

from core.week import count
from tests.core.week.some_weeks import asks


@pytest.mark.parametrize(
    ("words", "done", "short", "excused", "extras", "still_open", "kept", "neutral"),
    [
        ("", 0, 0, 0, 0, 0, False, True),
        ("mon open", 0, 0, 0, 0, 1, False, True),
        ("mon done", 1, 0, 0, 0, 0, True, False),
        ("mon short", 1, 1, 0, 0, 0, True, False),
        ("mon done, wed missed", 1, 0, 0, 0, 0, False, False),
        ("mon done, wed unanswered", 1, 0, 0, 0, 0, False, False),
        ("mon missed", 0, 0, 0, 0, 0, False, False),
        ("mon excused", 0, 0, 1, 0, 0, False, True),
        ("mon done, wed excused", 1, 0, 1, 0, 0, True, False),
        ("mon withdrawn", 0, 0, 0, 0, 0, False, True),
        ("mon done, wed withdrawn", 1, 0, 0, 0, 0, True, False),
        ("mon extra", 0, 0, 0, 1, 0, False, True),  # extras are counted apart
        ("mon done, tue extra, wed open", 1, 0, 0, 1, 1, True, False),
    ],
)
def test_what_a_week_adds_up_to(
    words: str, done: int, short: int, excused: int, extras: int, still_open: int, kept: bool, neutral: bool
) -> None:
    week = asks(words)
    assert (count.done(week), count.short(week), count.excused(week)) == (done, short, excused)
    assert (count.extras(week), len(count.still_open(week))) == (extras, still_open)
    assert (count.is_kept(week), count.is_neutral(week)) == (kept, neutral)


@pytest.mark.parametrize(
    ("words", "lowered", "may"),
    [
        ("mon done, wed done", False, True),
        ("mon done, wed short", False, True),
        ("mon short, wed short, fri done", False, False),
        ("mon done, wed done", True, False),
        ("mon done, wed excused", False, False),
        ("mon done, wed missed", False, False),
        ("", False, False),
    ],
)
def test_which_weeks_leave_room_for_a_raise(words: str, lowered: bool, may: bool) -> None:
    assert count.may_raise_after(asks(words), lowered=lowered) is may


def test_asks_come_in_the_order_of_their_days() -> None:
    assert [a.id for a in count.of_promise(asks("fri open, mon done, wed extra, tue withdrawn"))] == [2, 1]
