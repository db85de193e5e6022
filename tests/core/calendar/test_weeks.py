import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calendar.weeks import IsoWeek
from core.errors import Refused

days = st.dates(dt.date(1990, 1, 1), dt.date(2150, 1, 1))


@given(days)
def test_a_day_lies_in_its_own_week_and_in_no_neighbour(day: dt.date) -> None:
    week = IsoWeek.of(day)
    assert day in week
    assert day in week.days()
    assert day not in week.next()
    assert day not in week.previous()
    assert IsoWeek.parse(str(week)) == week


@given(days)
def test_weeks_follow_each_other_by_seven_days_and_are_ordered(day: dt.date) -> None:
    week = IsoWeek.of(day)
    assert week.next().monday - week.sunday == dt.timedelta(days=1)
    assert week.next().previous() == week
    assert week < week.next()
    assert (week.monday.isoweekday(), week.sunday.isoweekday()) == (1, 7)


@pytest.mark.parametrize(
    "text", ["2026-W54", "2025-W53", "2026-W00", "2026-48", "W48", "", "2026-W48-1", "26-W48"]
)
def test_what_is_no_week_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(Refused, match="such as 2026-W48"):
        IsoWeek.parse(text)


def test_it_is_written_as_the_standard_writes_it() -> None:
    assert str(IsoWeek.of(dt.date(2026, 11, 25))) == "2026-W48"
    assert str(IsoWeek.parse(" 2027-W01 ")) == "2027-W01"
