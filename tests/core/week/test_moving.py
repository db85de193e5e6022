"""Asks move within their week, and nowhere else."""

import datetime as dt

import pytest

from core.week import moving
from tests.core.week.some_weeks import WEEK, ask, asks, day, days, life, prompted, told, trip


@pytest.mark.parametrize(
    ("words", "today", "free"),
    [
        ("mon open, wed open", "mon", "tue thu fri sat sun"),
        ("mon missed, wed open", "thu", "thu fri sat sun"),
        ("mon missed, wed open, fri open", "sat", "sat sun"),
        ("mon missed, wed missed", "wed", "wed thu fri sat sun"),  # a missed one leaves its day free
        ("mon missed, wed done", "wed", "thu fri sat sun"),  # one that was done does not
        ("mon missed, sun open", "sun", ""),
    ],
)
def test_the_days_that_an_ask_can_move_to(words: str, today: str, free: str) -> None:
    found = asks(words)
    assert moving.days_to_move_to(found[0], found, life(), today=day(today)) == days(free)


def test_out_of_reach_is_no_day_to_move_to() -> None:
    at_sea = life("Europe/Lisbon", trip("Europe/Lisbon", "2026-12-03", "2026-12-05", in_reach=False))
    found = asks("mon open")
    assert moving.days_to_move_to(found[0], found, at_sea, today=day("mon")) == days("tue wed sun")


def test_a_move_keeps_the_identity_and_raises_the_revision() -> None:
    moved = moving.move(prompted(ask(1, "mon", "missed"), "2026-11-30T06:30"), day("fri"))
    assert (moved.id, moved.day, moved.revision, moved.outcome, moved.missed_once) == (
        1,
        day("fri"),
        1,
        None,
        True,
    )
    assert moved.needs_prompt
    # At its new place it has not been asked: if it never is, it is withdrawn.
    assert moved.prompted_at is None


def test_a_move_to_where_it_stands_is_none() -> None:
    assert moving.move(ask(1, "mon"), day("mon")) == ask(1, "mon")


def test_another_hour_is_a_move() -> None:
    assert moving.move(ask(1, "mon"), day("mon"), dt.time(18)).revision == 1


@pytest.mark.parametrize("other", [day("mon") - dt.timedelta(days=1), day("sun") + dt.timedelta(days=1)])
def test_an_ask_never_changes_its_week(other: dt.date) -> None:
    with pytest.raises(ValueError, match="2026-W49"):
        moving.move(ask(1, "mon"), other)


def test_a_swap_exchanges_the_days_and_asks_at_the_last_places() -> None:
    one, other = moving.swap(ask(1, "mon"), ask(2, "wed"))
    assert (one.day, other.day, one.revision, other.revision) == (day("wed"), day("mon"), 1, 1)


@pytest.mark.parametrize(
    ("words", "weekday", "holder"),
    [
        ("mon open, wed open", "wed", 2),
        ("mon open, wed done", "wed", None),
        ("mon open, wed withdrawn", "wed", None),
        ("mon open, wed extra", "wed", None),
        ("mon open", "mon", None),  # itself does not count
    ],
)
def test_who_holds_a_day(words: str, weekday: str, holder: int | None) -> None:
    found = asks(words)
    held = moving.holder_of(day(weekday), found, but=found[0])
    assert (held.id if held else None) == holder


@pytest.mark.parametrize(
    ("words", "number", "gone"),
    [
        ("mon open, wed open, fri open", 2, [3]),
        ("mon open, wed open, fri open", 1, [2, 3]),
        ("mon done, wed open, fri open", 2, [3]),
        ("mon done, wed open, fri open", 1, [2, 3]),
        ("mon done, wed done, fri open", 1, [3]),
        ("mon done, wed excused, fri open", 2, [3]),
        ("mon open, fri open", 3, []),  # fewer asks than promised: a day could not be used
        ("mon open, fri open", 2, []),
        ("mon done, fri extra", 1, []),
    ],
)
def test_which_asks_go_when_a_promise_is_lowered(words: str, number: int, gone: list[int]) -> None:
    assert [a.id for a in moving.to_go(asks(words), number)] == gone


@pytest.mark.parametrize(
    ("words", "takes"),
    [
        ("wed open", "thu"),
        ("wed open, thu open", "fri"),
        ("wed open, thu done, fri open", "sat"),
        ("wed open, thu open, fri open, sat open, sun open", None),
        ("sun open", None),
    ],
)
def test_a_date_that_is_skipped_gives_way_to_the_nearest_later_free_one(
    words: str, takes: str | None
) -> None:
    found = asks(words)
    assert moving.next_free_day(found[0], found, life()) == (day(takes) if takes else None)


def test_the_week_of_the_date_line_leaves_six_days() -> None:
    flown = life("Pacific/Honolulu", trip("Pacific/Kiritimati", "2026-12-03", "2026-12-20"))
    lost = [d for d in WEEK.days() if not flown.usable(d)]
    found = asks("wed open, thu open")
    assert lost == days("wed")
    assert moving.next_free_day(found[0], found, flown) == day("fri")
    assert told(found) == "wed open, thu open"


@pytest.mark.parametrize(
    ("words", "today", "back"),
    [
        ("mon withdrawn, wed open, fri withdrawn", "tue", 3),  # the first one still to come
        ("mon withdrawn, wed open, fri withdrawn", "mon", 1),
        ("mon withdrawn, wed open", "tue", None),
        ("mon open, wed open", "mon", None),  # nothing had gone
    ],
)
def test_the_ask_that_a_lowering_took_and_that_could_come_back(
    words: str, today: str, back: int | None
) -> None:
    found = moving.gone_last(asks(words), life(), today=day(today))
    assert (found.id if found else None) == back


def test_what_was_asked_about_or_was_the_word_of_a_silent_week_does_not_come_back() -> None:
    gone = [
        prompted(ask(1, "wed", "withdrawn"), "2026-12-02T06:30"),
        ask(2, "thu", "withdrawn", weekly=True),
        ask(3, "sat", "withdrawn"),
    ]
    at_sea = life("Europe/Lisbon", trip("Europe/Lisbon", "2026-12-05", "2026-12-05", in_reach=False))
    found = moving.gone_last(gone, life(), today=day("mon"))
    assert found is not None
    assert found.id == 3
    assert moving.gone_last(gone, at_sea, today=day("mon")) is None


def test_one_goes_instead_of_another_and_both_are_told_apart_from_before() -> None:
    goes, stays = moving.instead(ask(1, "mon"), ask(2, "wed", "withdrawn"))
    assert (goes.id, goes.withdrawn, goes.revision) == (1, True, 1)
    assert (stays.id, stays.withdrawn, stays.revision) == (2, False, 1)
