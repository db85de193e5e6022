"""Which day is meant: one that will not do, or one from which a session moves."""

import datetime as dt

import pytest

from core.replies.day_meant import moved_from, will_not_do

WEDNESDAY = dt.date(2026, 12, 2)


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("can't tomorrow", 3),
        ("can't make it tomorrow, sorry", 3),
        ("Sorry, I won't make Friday", 4),
        ("cannot do Tuesday", 8),
        ("can't today", None),
        ("can't tomorrow, but Sunday works", None),
        ("can't tomorrow?", None),
        ("can't find the gym", None),
        ("done, can't complain", None),
    ],
)
def test_a_coming_day_that_will_not_do(words: str, day: int | None) -> None:
    assert will_not_do(words, WEDNESDAY) == (None if day is None else dt.date(2026, 12, day))


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("move tomorrow to Sunday", 3),
        ("please move Friday's session to Saturday", 4),
        ("push today back to Saturday", 2),
        ("move it to Thursday", None),
        ("moved to Friday already", None),
    ],
)
def test_the_day_that_a_session_is_moved_from(words: str, day: int | None) -> None:
    assert moved_from(words, WEDNESDAY) == (None if day is None else dt.date(2026, 12, day))
