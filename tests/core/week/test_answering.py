"""Where an answer belongs, and what it changes."""

import datetime as dt

import pytest

from core.calendar.weeks import IsoWeek
from core.terms import Outcome
from core.week import answering
from tests.core.week.some_weeks import WEEK, ask, asks, day, prompted, told, utc

NOON = utc("2026-12-02T12:00")


@pytest.mark.parametrize(
    ("words", "today", "named", "replied", "meant"),
    [
        ("mon open, wed open", "mon", None, None, 1),
        ("mon open, wed open", "wed", None, None, 2),
        ("mon done, wed open", "mon", None, None, 1),  # said again: the same ask
        ("mon done, wed open", "tue", None, None, None),  # nothing today: a session of its own
        ("mon open, mon done", "mon", None, None, 1),  # of two, the one that still waits
        ("mon done, mon open", "mon", None, None, 2),
        ("mon done, mon done", "mon", None, None, 1),
        ("mon open, wed open", "wed", "mon", None, 1),  # the day that the words name
        ("mon open, wed open", "wed", "tue", None, None),
        ("mon open, wed open", "wed", "mon", 2, 2),  # the prompt that it answers goes before
        ("mon open, wed open", "wed", None, 99, None),
        ("mon extra, wed open", "mon", None, None, None),  # an extra is no ask
        ("mon withdrawn, wed open", "mon", None, None, None),
        ("mon withdrawn, wed open", "mon", None, 1, 1),  # but a reply finds it
    ],
)
def test_which_ask_is_meant(
    words: str, today: str, named: str | None, replied: int | None, meant: int | None
) -> None:
    found = answering.ask_meant(
        asks(words), today=day(today), named=day(named) if named else None, replied_to=replied
    )
    assert (found.id if found else None) == meant


def test_yesterdays_ask_waits_only_if_it_was_prompted() -> None:
    unsaid = ask(1, "mon")
    assert answering.ask_meant([unsaid], today=day("tue")) is None
    assert answering.ask_meant([prompted(unsaid, "2026-11-30T06:30")], today=day("tue")) is not None


@pytest.mark.parametrize(
    ("today", "may"),
    [
        (dt.date(2026, 11, 30), True),
        (dt.date(2026, 12, 6), True),
        (dt.date(2026, 12, 9), True),  # the following Wednesday
        (dt.date(2026, 12, 10), False),
        (dt.date(2026, 12, 25), False),
    ],
)
@pytest.mark.parametrize("weekday", ["mon", "sun"])
def test_an_answer_is_corrected_until_the_following_wednesday(
    today: dt.date, may: bool, weekday: str
) -> None:
    assert answering.may_correct(ask(1, weekday), today) is may


@pytest.mark.parametrize(
    ("words", "filled"),
    [
        ("mon missed, wed open", 1),
        ("mon unanswered, wed open", 1),
        ("mon done, wed open, fri open", 2),
        ("mon short, wed missed, fri missed", 2),
        ("mon excused, wed open", 2),  # excused leaves the count: nothing to fill
        ("mon excused, wed done", None),
        ("mon done, wed done", None),
        ("mon withdrawn, wed done", None),
        ("mon extra", None),
        ("", None),
    ],
)
def test_an_unplanned_session_fills_the_first_hole(words: str, filled: int | None) -> None:
    found = answering.filled_by_unplanned(asks(words), WEEK)
    assert (found.id if found else None) == filled


def test_it_fills_none_of_another_week() -> None:
    assert answering.filled_by_unplanned(asks("mon missed"), WEEK.next()) is None


def test_what_is_filled_takes_the_day_and_cancels_its_prompt() -> None:
    filled = answering.fill(ask(1, "fri"), day("tue"), Outcome.DONE, at=NOON, minutes=40)
    assert (filled.day, filled.outcome, filled.revision, filled.took_minutes) == (day("tue"), "done", 1, 40)
    assert not filled.needs_prompt


def test_what_is_filled_on_its_own_day_keeps_its_revision() -> None:
    assert answering.fill(ask(1, "fri"), day("fri"), Outcome.SHORT, at=NOON).revision == 0


@pytest.mark.parametrize("before", ["open", "done", "short", "missed", "unanswered", "excused"])
@pytest.mark.parametrize("after", [Outcome.DONE, Outcome.SHORT, Outcome.MISSED, Outcome.EXCUSED])
def test_the_later_answer_holds_and_a_miss_is_remembered(before: str, after: Outcome) -> None:
    answered = answering.answer(ask(1, "mon", before), after, at=NOON)
    assert answered.outcome is after
    assert answered.missed_once is (before == "missed" or after is Outcome.MISSED)
    assert answering.answer(answered, after, at=NOON) == answered


@pytest.mark.parametrize(
    ("words", "missed"),
    [
        ("mon done, wed open", False),
        ("mon missed, wed open", True),
        ("mon unanswered, wed open", True),
        ("mon excused, wed short", False),
        ("mon withdrawn", False),
    ],
)
def test_a_week_with_a_miss_keeps_its_number(words: str, missed: bool) -> None:
    assert answering.has_missed(asks(words)) is missed


def test_a_repaired_miss_is_still_one() -> None:
    repaired = answering.fill(ask(1, "mon", "missed"), day("tue"), Outcome.DONE, at=NOON)
    assert answering.has_missed([repaired])


@pytest.mark.parametrize(
    ("words", "answered", "today", "others"),
    [
        ("wed done, wed open", 1, "wed", [2]),
        ("wed done, wed done", 1, "wed", []),
        ("wed done, thu open", 1, "wed", []),
        ("wed done, wed withdrawn", 1, "wed", []),
        ("fri done, fri open", 1, "wed", []),  # filled ahead of its day: nothing to ask about yet
    ],
)
def test_a_bare_done_counts_one_and_the_other_is_asked_about(
    words: str, answered: int, today: str, others: list[int]
) -> None:
    all_asks = asks(words)
    found = answering.others_waiting(all_asks, all_asks[answered - 1], day(today))
    assert [a.id for a in found] == others


@pytest.mark.parametrize(
    ("weekday", "named", "today", "meant"),
    [
        ("mon", None, "wed", "mon"),  # a reply to an old prompt tells of that day
        ("fri", None, "wed", "wed"),  # of one to come, of today
        ("mon", "tue", "wed", "tue"),
        (None, None, "wed", "wed"),
    ],
)
def test_the_day_of_a_session_that_fills_no_ask_of_its_own(
    weekday: str | None, named: str | None, today: str, meant: str
) -> None:
    one = ask(1, weekday) if weekday else None
    assert answering.day_meant(one, day(named) if named else None, day(today)) == day(meant)


@pytest.mark.parametrize(
    ("weekly", "unwell", "ends"),
    [
        (False, False, Outcome.UNANSWERED),
        (False, True, Outcome.EXCUSED),
        (True, True, Outcome.UNANSWERED),  # the weekly message of a silent week asks for no effort
    ],
)
def test_how_an_ask_without_a_word_ends(weekly: bool, unwell: bool, ends: Outcome) -> None:
    assert answering.unanswered_as(ask(1, "mon", weekly=weekly), unwell=unwell) is ends


def test_the_last_day_to_correct_passes_the_year() -> None:
    assert answering.last_day_to_correct(IsoWeek(2026, 53)) == dt.date(2027, 1, 6)
    assert told(asks("mon done, wed open")) == "mon done, wed open"
