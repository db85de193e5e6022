"""Jet lag: Mayo Clinic Health Letter, November 2018 (a day a zone east, a day for one and a half zones west); CDC Yellow Book."""

import datetime as dt

import pytest

from core.wellbeing.jet_lag import Arrival, Direction, jet_lag, shift_hours

WINTER = dt.datetime(2026, 12, 10, 12, tzinfo=dt.UTC)


@pytest.mark.parametrize(
    ("home", "away", "shift", "days"),
    [
        ("Europe/Berlin", "America/New_York", -6, 4),
        ("America/New_York", "Europe/Berlin", 6, 6),
        ("Europe/London", "Asia/Singapore", 8, 8),
        ("Europe/London", "Europe/Lisbon", 0, 0),
        ("America/New_York", "America/Denver", -2, 2),
        ("Pacific/Auckland", "Pacific/Honolulu", 1, 1),  # 23 hours by the calendar, one by the body
        ("Europe/London", "Asia/Kathmandu", 5.75, 6),
    ],
)
def test_days_to_adjust(home: str, away: str, shift: float, days: int) -> None:
    """Mayo Clinic Health Letter 2018; offsets from the IANA database in December 2026; worked by hand, rounded up."""
    assert shift_hours(home, away, WINTER) == shift
    assert jet_lag(home, away, WINTER).days == days


def test_six_zones_take_six_days_eastward_and_four_westward() -> None:
    """The letter's own example."""
    east, west = (
        jet_lag("America/New_York", "Europe/Berlin", WINTER),
        jet_lag("Europe/Berlin", "America/New_York", WINTER),
    )
    assert (east.direction, east.days) == (Direction.EAST, 6)
    assert (west.direction, west.days) == (Direction.WEST, 4)


def test_up_to_three_zones_it_is_the_tiredness_of_travel() -> None:
    """CDC Yellow Book, jet lag: three zones or fewer, mostly travel fatigue. New York to Denver is two, to Los Angeles three."""
    assert jet_lag("America/New_York", "America/Denver", WINTER).is_mostly_tiredness
    assert jet_lag("America/New_York", "America/Los_Angeles", WINTER).is_mostly_tiredness
    assert not jet_lag("Europe/London", "America/New_York", WINTER).is_mostly_tiredness


def test_a_stay_of_two_days_may_keep_the_hours_of_home() -> None:
    """CDC Yellow Book, jet lag."""
    lag = jet_lag("Europe/London", "Asia/Singapore", WINTER)
    stays = {
        days: Arrival(day=WINTER.date(), place="Singapore", lag=lag, stay_days=days) for days in (2, 3, None)
    }
    assert {days: stay.is_short_stay for days, stay in stays.items()} == {2: True, 3: False, None: False}
