"""ISO 8601 week dates: the turn of the years, and the years of 53 weeks."""

import datetime as dt

import pytest

from core.calendar.weeks import IsoWeek
from core.errors import Refused

# Years of 53 weeks from 2004 to 2099, computed from the rule of ISO 8601: those that begin or end on a Thursday.
LONG_YEARS = {
    2004,
    2009,
    2015,
    2020,
    2026,
    2032,
    2037,
    2043,
    2048,
    2054,
    2060,
    2065,
    2071,
    2076,
    2082,
    2088,
    2093,
    2099,
}


@pytest.mark.parametrize(
    ("day", "week", "weekday"),
    [
        ("2027-01-01", "2026-W53", 5),
        ("2027-01-03", "2026-W53", 7),
        ("2027-01-04", "2027-W01", 1),
        ("2026-12-31", "2026-W53", 4),
        ("2025-12-29", "2026-W01", 1),
        ("2024-12-30", "2025-W01", 1),
        (
            "2005-01-01",
            "2004-W53",
            6,
        ),  # this and the next two are the usual examples of ISO 8601 (from memory)
        ("2008-12-29", "2009-W01", 1),
        ("2010-01-03", "2009-W53", 7),
        ("2028-01-01", "2027-W52", 6),
    ],
)
def test_days_around_new_year_lie_in_the_week_of_their_thursday(day: str, week: str, weekday: int) -> None:
    date = dt.date.fromisoformat(day)
    assert str(IsoWeek.of(date)) == week
    assert IsoWeek.parse(week).days()[weekday - 1] == date


def test_eighteen_years_of_this_century_have_53_weeks() -> None:
    def has_53(year: int) -> bool:
        try:
            return bool(IsoWeek.parse(f"{year}-W53"))
        except Refused:
            return False

    assert {year for year in range(2004, 2100) if has_53(year)} == LONG_YEARS
