import datetime as dt

import pytest
from hypothesis import given

from core.calendar import zones
from tests.core.calendar import whereabouts_strategies as some


@pytest.mark.parametrize("name", ["Europe/Lisbon", "America/Argentina/Ushuaia", "Pacific/Chatham", "UTC"])
def test_a_zone_is_known_by_its_exact_name(name: str) -> None:
    assert zones.known_zone(name)


@pytest.mark.parametrize(
    "name",
    [
        "localtime",
        "posixrules",
        "Factory",
        "europe/lisbon",
        "UTC+3",
        "",
        "../etc/passwd",
        "Lisbon",
        "Europe/Lisbon ",
    ],
)
def test_what_is_no_zone_of_anybodys_is_not_known(name: str) -> None:
    assert not zones.known_zone(name)


@given(some.instants, some.zones)
def test_the_offsets_of_a_month_tile_it(at: dt.datetime, zone: str) -> None:
    until = at + dt.timedelta(days=30)
    pieces = list(zones.steady_offsets(at, until, zone))
    assert [since for since, _, _ in pieces[1:]] == [until for _, until, _ in pieces[:-1]]
    assert (pieces[0][0], pieces[-1][1]) == (at, until)
    second = dt.timedelta(seconds=1)
    for since, end, offset in pieces:
        assert zones.offset_at(since, zone) == offset == zones.offset_at(end - second, zone)
    assert len({offset for _, _, offset in pieces}) == len(pieces) or zone == "Africa/Cairo"


@pytest.mark.parametrize(
    ("day", "time", "zone"),
    [
        (dt.date(2007, 11, 4), dt.time(1, 30), "America/New_York"),
        (dt.date(2007, 3, 11), dt.time(2, 30), "America/New_York"),
        (dt.date(2026, 4, 5), dt.time(1, 45), "Australia/Lord_Howe"),
    ],
)
def test_the_fold_that_a_time_carries_makes_no_difference(day: dt.date, time: dt.time, zone: str) -> None:
    assert zones.resolve(day, time.replace(fold=1), zone) == zones.resolve(day, time, zone)


def test_the_data_is_that_of_the_package() -> None:
    """Vancouver stays on summer time after 1 November 2026 only in data newer than most machines'."""
    assert zones.offset_at(dt.datetime(2026, 12, 1, tzinfo=dt.UTC), "America/Vancouver") == dt.timedelta(
        hours=-7
    )
    assert tuple(int(part) for part in zones.data_version().split(".")) >= (2026, 2)
