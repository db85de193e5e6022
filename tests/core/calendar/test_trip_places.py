"""Where an event of a calendar is, by what people write into its location and title."""

import datetime as dt

import pytest

from core.calendar.trip_places import TripsRead, read_trips
from tests.core.calendar.test_trip_file import SINCE, UNTIL, calendar

LONG = "DTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:20261208"
A_DAY = "DTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:20261204"


def trips(title: str, where: str = "", days: str = LONG) -> TripsRead:
    place = f"\r\nLOCATION:{where}" if where else ""
    data = calendar(f"SUMMARY:{title}\r\n{days}{place}")
    return read_trips(data, since=SINCE, until=UNTIL, zone="Europe/Lisbon", home="Lisbon")


@pytest.mark.parametrize(
    ("title", "where", "name"),
    [
        ("Bergen", "", "Bergen"),
        ("Tour: Bergen", "", "Bergen"),
        ("Trip to Bergen", "", "Bergen"),
        ("Flight to Porto (TP1234)", "", "Porto"),
        ("Get-in", r"Teatro Nacional\, 4000-021 Porto\, Portugal", "Porto"),
        ("Get-in", r"Porto\, Portugal", "Porto"),
        ("Survey", r"Hotel Harbour\, Cambridge\, UK", "Cambridge"),
        ("Survey", r"Pier 4\, Tromsø", "Tromso"),
        ("Run of the play", r"12 High Street\, London SW1A 1AA\, UK", "London"),
        ("Rehearsals in Oslo", "", "Oslo"),
        ("Oslo - Bergen", "", "Bergen"),
        ("Residency", "São Paulo", "Sao Paulo"),
    ],
)
def test_the_place_is_found(title: str, where: str, name: str) -> None:
    [trip] = trips(title, where).trips
    assert [place.name for place in trip.places] == [name]
    assert (trip.first, trip.last) == (dt.date(2026, 12, 3), dt.date(2026, 12, 7))


def test_one_of_several_of_a_name_is_left_to_be_asked() -> None:
    [trip] = trips("Residency", "Springfield").trips
    assert len(trip.places) > 1


@pytest.mark.parametrize(
    ("title", "where", "days"),
    [
        ("Nancy", "", A_DAY),  # a birthday as likely as a town
        ("Holiday", "", LONG),
        ("Week off", "Lisbon", LONG),
        ("Anna and Ruben visit", "", LONG),
    ],
)
def test_what_is_no_trip_is_left_out(title: str, where: str, days: str) -> None:
    read = trips(title, where, days)
    assert (read.trips, read.unknown, read.left_out) == ((), (), 1)


def test_a_day_with_a_location_elsewhere_is_a_trip() -> None:
    assert trips("Sound check", "Porto", A_DAY).trips


def test_days_at_a_place_that_is_not_known_are_named() -> None:
    read = trips("Camp", "Hall 3")
    assert [span.title for span in read.unknown] == ["Camp"]
    assert read.trips == ()


def test_a_place_by_another_of_its_names_is_believed_of_a_large_city_alone() -> None:
    assert trips("Residency", "Lisbonne").trips == ()  # at home, by another name
    assert [p.name for p in trips("Residency", "Copenhague").trips[0].places] == ["Copenhagen"]
    assert trips("Residency", "Hall").trips == ()


@pytest.mark.parametrize(
    ("home", "zone", "said"),
    [
        ("Köln", "Europe/Berlin", "Cologne"),
        ("Cologne", "Europe/Berlin", "Köln"),
        ("Sevilla", "Europe/Madrid", "Seville"),
        ("Málaga", "Europe/Madrid", "Malaga"),
    ],
)
def test_a_home_that_was_kept_by_its_own_name_is_home(home: str, zone: str, said: str) -> None:
    data = calendar(f"SUMMARY:Rehearsals\r\nLOCATION:{said}\r\n{LONG}")
    assert read_trips(data, since=SINCE, until=UNTIL, zone=zone, home=home).trips == ()
    assert read_trips(data, since=SINCE, until=UNTIL, zone="Europe/Lisbon", home="Lisbon").trips != ()
