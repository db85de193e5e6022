"""When somebody has fallen silent, and how many messages they get unasked."""

import datetime as dt
from collections.abc import Mapping

import pytest

from core.week.budget import Spent, Unasked, is_after_unanswered_day, may_send
from core.week.model import Ask
from core.week.silence import asked_days, falls_silent
from tests.core.week.some_weeks import ask, day, prompted, utc

MORNINGS = {
    "mon": "2026-11-30T06:30",
    "tue": "2026-12-01T06:30",
    "wed": "2026-12-02T06:30",
    "fri": "2026-12-04T06:30",
}


def asked(words: str) -> list[Ask]:
    """Asks that were prompted at half past six of their day; '?' before a day: never prompted."""
    found = []
    for number, part in enumerate(filter(None, words.split(", ")), 1):
        weekday, ended = part.lstrip("?").split()
        one = ask(number, weekday, ended)
        found.append(one if part.startswith("?") else prompted(one, MORNINGS[weekday]))
    return found


@pytest.mark.parametrize(
    ("words", "heard", "closed", "began"),
    [
        ("mon unanswered", None, "mon", None),
        ("mon unanswered, wed unanswered", None, "wed", "mon"),
        ("mon unanswered, wed unanswered", "2026-11-29T20:00", "wed", "mon"),
        ("mon unanswered, wed unanswered", "2026-11-30T06:29", "wed", "mon"),
        ("mon unanswered, wed unanswered", "2026-11-30T21:00", "wed", None),  # any message at all
        ("mon unanswered, wed unanswered", "2026-12-02T20:00", "wed", None),
        ("mon unanswered, wed unanswered, fri open", None, "wed", "mon"),  # what is to come says nothing yet
        ("mon unanswered, wed unanswered, fri unanswered", "2026-12-01T09:00", "fri", "wed"),
        ("mon unanswered, mon unanswered", None, "mon", None),  # two on a day are one asked day
        ("mon unanswered, ?tue open, wed unanswered", None, "wed", "mon"),  # not asked: not a day of silence
        ("mon unanswered, ?wed open", None, "wed", None),
        ("mon withdrawn, wed unanswered", None, "wed", None),
        ("", None, "wed", None),
    ],
)
def test_two_asked_days_in_a_row_without_a_word(
    words: str, heard: str | None, closed: str, began: str | None
) -> None:
    found = falls_silent(asked(words), utc(heard) if heard else None, closed=day(closed))
    assert found == (day(began) if began else None)


def test_an_asked_day_begins_with_its_first_prompt() -> None:
    two = [prompted(ask(1, "mon"), "2026-11-30T17:30"), prompted(ask(2, "mon"), "2026-11-30T06:30")]
    assert asked_days(two) == {day("mon"): utc("2026-11-30T06:30")}


@pytest.mark.parametrize(
    ("words", "today", "after"),
    [
        ("mon unanswered", "tue", True),
        ("mon open", "tue", False),  # it may still be answered until noon
        ("mon done", "tue", False),
        ("mon unanswered", "mon", False),
        ("mon unanswered, wed done", "fri", False),
        ("mon done, wed unanswered", "fri", True),
        ("wed done, wed unanswered", "fri", False),  # not without any answer
        ("?mon open", "tue", False),
        ("", "tue", False),
    ],
)
def test_after_an_unanswered_day(words: str, today: str, after: bool) -> None:
    assert is_after_unanswered_day(asked(words), day(today)) is after


WEEKLY, PROMPT, SLEEP, FOLLOW_UP, OFFER = Unasked


@pytest.mark.parametrize(
    ("kind", "today", "week", "later_today", "later_this_week", "sent"),
    [
        (PROMPT, 0, 0, {}, {}, True),
        (PROMPT, 1, 11, {}, {}, True),
        (PROMPT, 2, 2, {}, {}, False),  # two a day
        (PROMPT, 0, 12, {}, {}, False),  # twelve a week
        (WEEKLY, 2, 2, {}, {}, False),
        # room is kept for what goes before
        (FOLLOW_UP, 1, 1, {PROMPT: 1}, {}, False),
        (SLEEP, 1, 1, {PROMPT: 1}, {}, False),
        (SLEEP, 0, 0, {PROMPT: 1}, {}, True),
        (PROMPT, 1, 1, {WEEKLY: 1}, {}, False),
        (OFFER, 0, 0, {FOLLOW_UP: 2}, {}, False),
        # and none for what comes after
        (WEEKLY, 1, 1, {PROMPT: 3}, {}, True),
        (PROMPT, 1, 1, {SLEEP: 1, FOLLOW_UP: 2}, {}, True),
        (SLEEP, 1, 1, {FOLLOW_UP: 1}, {}, True),
        # the same over the week
        (FOLLOW_UP, 0, 8, {}, {PROMPT: 3, WEEKLY: 1}, False),
        (FOLLOW_UP, 0, 7, {}, {PROMPT: 3, WEEKLY: 1}, True),
        (SLEEP, 0, 9, {}, {PROMPT: 3}, False),
        (PROMPT, 0, 11, {}, {WEEKLY: 1}, False),
        (PROMPT, 0, 11, {}, {PROMPT: 4}, True),
    ],
)
def test_the_budget_and_its_order_of_giving(
    kind: Unasked,
    today: int,
    week: int,
    later_today: Mapping[Unasked, int],
    later_this_week: Mapping[Unasked, int],
    sent: bool,
) -> None:
    spent = Spent(today=today, this_week=week, to_come_today=later_today, to_come_this_week=later_this_week)
    assert may_send(kind, spent, daily=2, weekly=12, after_unanswered_day=False) is sent


@pytest.mark.parametrize(
    ("kind", "sent"), [(WEEKLY, True), (PROMPT, True), (SLEEP, False), (FOLLOW_UP, False), (OFFER, False)]
)
def test_after_an_unanswered_day_only_prompts_go_out(kind: Unasked, sent: bool) -> None:
    spent = Spent(today=0, this_week=0)
    assert may_send(kind, spent, daily=2, weekly=12, after_unanswered_day=True) is sent


@pytest.mark.parametrize(("daily", "weekly", "sent"), [(1, 12, True), (0, 12, False), (2, 0, False)])
def test_the_budget_is_settable(daily: int, weekly: int, sent: bool) -> None:
    spent = Spent(today=0, this_week=0)
    assert may_send(PROMPT, spent, daily=daily, weekly=weekly, after_unanswered_day=False) is sent


def test_the_days_are_those_of_the_week() -> None:
    assert day("sun") - day("mon") == dt.timedelta(days=6)


def test_a_word_at_the_very_instant_of_the_prompt_is_one() -> None:
    two = asked("mon unanswered, tue unanswered")
    assert falls_silent(two, utc(MORNINGS["mon"]), closed=day("tue")) is None
