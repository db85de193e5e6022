import datetime as dt

import pytest
from hypothesis import given

from core.calendar import zones
from core.calendar.trips import Interval, Stay, Trip, Whereabouts
from core.errors import Refused
from core.terms import Room
from tests.core.calendar import whereabouts_strategies as some

LONDON = Stay(zone="Europe/London", country="GB")


def trip(zone: str, first: dt.date, last: dt.date | None, **more: object) -> Trip:
    return Trip(place=zone, zone=zone, first=first, last=last, **more)  # type: ignore[arg-type]


def utc(month: int, day: int, hour: int = 0, minute: int = 0) -> dt.datetime:
    return dt.datetime(2026, month, day, hour, minute, tzinfo=dt.UTC)


@given(some.whereabouts, some.instants)
def test_each_instant_lies_in_exactly_one_local_day(where: Whereabouts, at: dt.datetime) -> None:
    today = where.local_day(at)
    candidates = [today + dt.timedelta(days=n) for n in range(-3, 4)]
    assert [day for day in candidates if any(at in part for part in where.instants_of(day))] == [today]


@given(some.whereabouts, some.days)
def test_days_tile_time_without_gap_or_overlap(where: Whereabouts, day: dt.date) -> None:
    month = [day + dt.timedelta(days=n) for n in range(-4, 30)]
    parts = sorted(part for each in month for part in where.instants_of(each))
    inner = [part for part in parts if abs(part.since.date() - day) < dt.timedelta(days=2)]
    assert inner
    for part in inner:
        assert part.until in {other.since for other in parts}
        assert not [
            other
            for other in parts
            if other != part and other.since < part.until and part.since < other.until
        ]


@given(some.whereabouts, some.days, some.times)
def test_a_resolved_minute_reads_back_as_it_was_asked(
    where: Whereabouts, day: dt.date, time: dt.time
) -> None:
    at = where.resolve(day, time)
    if at is None:
        lived = [
            part.since + n * dt.timedelta(minutes=15)
            for part in where.instants_of(day)
            for n in range(4 * 60)
        ]
        lived = [each for each in lived if any(each in part for part in where.instants_of(day))]
        assert not [each for each in lived if where.local_at(each).time() == time]
        return
    read = where.local_at(at)
    skipped_by_the_clocks = (
        zones.local(zones.resolve(day, time, where.zone_at(at)), where.zone_at(at)).time() != time
    )
    assert read.date() == day
    assert read.time() == time or skipped_by_the_clocks


@given(some.whereabouts, some.instants)
def test_a_minute_that_is_lived_resolves_to_its_first_occurrence(where: Whereabouts, at: dt.datetime) -> None:
    wall = where.local_at(at)
    first = where.resolve(wall.date(), wall.time())
    assert first is not None
    assert first <= at
    assert where.local_at(first).replace(tzinfo=None) == wall.replace(tzinfo=None, fold=0)


@given(some.whereabouts, some.instants)
def test_stretches_tile_a_span(where: Whereabouts, at: dt.datetime) -> None:
    until = at + dt.timedelta(days=40)
    stretches = list(where.stretches(at, until))
    assert [each.since for each in stretches[1:]] == [each.until for each in stretches[:-1]]
    assert (stretches[0].since, stretches[-1].until) == (at, until)
    assert all(each.wall(each.since) == where.local_at(each.since).replace(tzinfo=None) for each in stretches)


def test_a_trip_holds_from_its_first_midnight_to_its_last_in_its_own_zone() -> None:
    where = Whereabouts(LONDON, (trip("Asia/Singapore", dt.date(2026, 12, 3), dt.date(2026, 12, 5)),))
    assert where.zone_at(utc(12, 2, 15, 59)) == "Europe/London"
    assert where.zone_at(utc(12, 2, 16)) == "Asia/Singapore"
    assert where.zone_at(utc(12, 5, 15, 59)) == "Asia/Singapore"
    assert where.zone_at(utc(12, 5, 16)) == "Europe/London"


def test_an_open_trip_does_not_end() -> None:
    where = Whereabouts(LONDON, (trip("Asia/Singapore", dt.date(2026, 12, 3), None),))
    assert where.zone_at(utc(12, 2)) == "Europe/London"
    assert where.zone_at(dt.datetime(2030, 1, 1, tzinfo=dt.UTC)) == "Asia/Singapore"


def test_of_overlapping_trips_the_later_starting_wins_and_the_longer_goes_on_after_it() -> None:
    tour = trip("Europe/Rome", dt.date(2026, 12, 1), dt.date(2026, 12, 20))
    detour = trip("Asia/Tokyo", dt.date(2026, 12, 5), dt.date(2026, 12, 7))
    for trips in ((tour, detour), (detour, tour)):
        where = Whereabouts(LONDON, trips)
        assert [where.stay_on(dt.date(2026, 12, n)).zone for n in (4, 5, 7, 8)] == [
            "Europe/Rome",
            "Asia/Tokyo",
            "Asia/Tokyo",
            "Europe/Rome",
        ]
        assert where.zone_at(utc(12, 6)) == "Asia/Tokyo"
        assert where.zone_at(utc(12, 8)) == "Europe/Rome"


@pytest.mark.parametrize("zones_named", [("Asia/Tokyo", "America/Lima"), ("America/Lima", "Asia/Tokyo")])
def test_of_two_trips_that_start_on_the_same_date_the_last_named_wins(zones_named: tuple[str, str]) -> None:
    first, second = (trip(zone, dt.date(2026, 12, 1), dt.date(2026, 12, 3)) for zone in zones_named)
    where = Whereabouts(LONDON, (first, second))
    assert where.stay_on(dt.date(2026, 12, 1)).zone == zones_named[1]
    assert where.zone_at(utc(12, 2)) == zones_named[1]


def test_nobody_goes_home_between_two_adjacent_trips() -> None:
    asia = trip("Asia/Singapore", dt.date(2026, 12, 3), dt.date(2026, 12, 7))
    america = trip("America/Los_Angeles", dt.date(2026, 12, 8), dt.date(2026, 12, 10))
    where = Whereabouts(LONDON, (asia, america))
    assert where.zone_at(utc(12, 7, 20)) == "Asia/Singapore"
    assert where.zone_at(utc(12, 8, 8)) == "America/Los_Angeles"


def test_a_date_lived_twice_is_taken_the_first_time() -> None:
    """Auckland to Honolulu: 5 December is lived for 23 hours at home, then whole."""
    where = Whereabouts(
        Stay(zone="Pacific/Auckland"), (trip("Pacific/Honolulu", dt.date(2026, 12, 5), dt.date(2026, 12, 8)),)
    )
    assert where.instants_of(dt.date(2026, 12, 5)) == (Interval(utc(12, 4, 11), utc(12, 6, 10)),)
    assert where.resolve(dt.date(2026, 12, 5), dt.time(7)) == utc(12, 4, 18)
    assert where.resolve(dt.date(2026, 12, 5), dt.time(23, 30)) == utc(12, 6, 9, 30)


def test_a_date_can_be_lived_in_two_pieces() -> None:
    """Apia to Pago Pago over a night: the clocks go back a day, so an evening comes again after some of the next day."""
    where = Whereabouts(
        Stay(zone="Pacific/Kiritimati"),
        (trip("Pacific/Pago_Pago", dt.date(2026, 12, 5), dt.date(2026, 12, 6)),),
    )
    assert where.instants_of(dt.date(2026, 12, 6)) == (
        Interval(utc(12, 5, 10), utc(12, 5, 11)),
        Interval(utc(12, 6, 11), utc(12, 7, 11)),
    )


def test_a_date_that_a_flight_takes_has_no_instants() -> None:
    """Pago Pago to Kiritimati: the last day there ends where 1 a.m. two dates later begins."""
    where = Whereabouts(
        Stay(zone="Pacific/Kiritimati"),
        (trip("Pacific/Pago_Pago", dt.date(2026, 12, 1), dt.date(2026, 12, 5)),),
    )
    assert where.instants_of(dt.date(2026, 12, 6)) == ()
    assert where.resolve(dt.date(2026, 12, 6), dt.time(7)) is None


def test_an_evening_that_a_flight_takes_is_not_resolved() -> None:
    where = Whereabouts(LONDON, (trip("Asia/Singapore", dt.date(2026, 12, 3), dt.date(2026, 12, 5)),))
    assert where.resolve(dt.date(2026, 12, 2), dt.time(15, 59)) == utc(12, 2, 15, 59)
    assert where.resolve(dt.date(2026, 12, 2), dt.time(18)) is None


def test_a_time_that_the_clocks_skip_is_reckoned_with_the_offset_before() -> None:
    assert Whereabouts(LONDON).resolve(dt.date(2026, 3, 29), dt.time(1, 30)) == utc(3, 29, 1, 30)
    assert Whereabouts(LONDON).local_at(utc(3, 29, 1, 30)).time() == dt.time(2, 30)


def test_a_time_that_the_clocks_skip_elsewhere_is_not_lived_because_of_it() -> None:
    """Home to Auckland out of New York: 02:30 on 8 March is skipped by the clocks there and by the flight here."""
    away = trip("America/New_York", dt.date(2026, 3, 1), dt.date(2026, 3, 7))
    assert (
        Whereabouts(Stay(zone="Pacific/Auckland"), (away,)).resolve(dt.date(2026, 3, 8), dt.time(2, 30))
        is None
    )


def test_the_stay_carries_what_the_trip_says() -> None:
    ship = trip(
        "Atlantic/Azores",
        dt.date(2026, 12, 3),
        dt.date(2026, 12, 5),
        in_reach=False,
        room=Room.BANDS,
        minutes=20,
    )
    where = Whereabouts(LONDON, (ship,))
    aboard = where.stay_on(dt.date(2026, 12, 4))
    assert (aboard.room, aboard.minutes, aboard.place, aboard.in_reach) == (
        Room.BANDS,
        20,
        "Atlantic/Azores",
        False,
    )
    assert not where.in_reach_on(dt.date(2026, 12, 5))
    assert where.in_reach_on(dt.date(2026, 12, 6))
    assert where.away_on(dt.date(2026, 12, 3))
    assert not where.away_on(dt.date(2026, 12, 2))


@pytest.mark.parametrize(
    ("zone", "first", "last", "says"),
    [
        ("Mars/Olympus", dt.date(2026, 12, 3), dt.date(2026, 12, 5), "not a time zone"),
        ("Europe/Rome", dt.date(2026, 12, 5), dt.date(2026, 12, 3), "swap the two dates"),
        ("Europe/Rome", dt.date(26, 12, 3), dt.date(26, 12, 5), "four digits"),
        ("Europe/Rome", dt.date(2026, 12, 3), dt.date(9999, 12, 31), "four digits"),
    ],
)
def test_a_trip_that_cannot_be_is_refused_in_words(
    zone: str, first: dt.date, last: dt.date, says: str
) -> None:
    with pytest.raises(Refused, match=says):
        trip(zone, first, last)
