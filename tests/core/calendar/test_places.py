"""Places by name and by position, offline."""

import zoneinfo
from importlib.resources import files

import pytest

from core.calendar.countries import country_code
from core.calendar.places import country_zone, find_places, place_at, the_one


def sure(name: str) -> tuple[str, str] | None:
    place = the_one(find_places(name))
    return (place.country, place.zone) if place else None


@pytest.mark.parametrize(
    ("name", "country", "zone"),
    [
        ("Lisbon", "PT", "Europe/Lisbon"),
        ("lisbonn", "PT", "Europe/Lisbon"),
        ("Barcelone", "ES", "Europe/Madrid"),
        ("Copenhaguen", "DK", "Europe/Copenhagen"),
        ("München", "DE", "Europe/Berlin"),
        ("reykjavik", "IS", "Atlantic/Reykjavik"),
        ("NYC", "US", "America/New_York"),
        ("Cambridge, UK", "GB", "Europe/London"),
        ("Portland Maine", "US", "America/New_York"),
        ("San Jose, Costa Rica", "CR", "America/Costa_Rica"),
        ("Perth WA", "AU", "Australia/Perth"),
        ("Japan", "JP", "Asia/Tokyo"),
        ("Apia", "WS", "Pacific/Apia"),
    ],
)
def test_a_name_finds_its_place_however_it_is_spelled(name: str, country: str, zone: str) -> None:
    assert sure(name) == (country, zone)


@pytest.mark.parametrize(
    ("english", "native"),
    [
        ("Seville", "Sevilla"),
        ("Ghent", "Gent"),
        ("Bruges", "Brugge"),
        ("Krakow", "Kraków"),
        ("Reykjavik", "Reykjavík"),
        ("Prague", "Praha"),
        ("Munich", "München"),
        ("Cologne", "Köln"),
        ("Gothenburg", "Göteborg"),
        ("The Hague", "Den Haag"),
        ("Zurich", "Zürich"),
        ("Lodz", "Łódź"),
        ("New York", "New York City"),
    ],
)
def test_a_city_is_called_as_in_english_and_found_by_either_name(english: str, native: str) -> None:
    for name in (english, native):
        place = the_one(find_places(name))
        assert place is not None
        assert place.name == english


@pytest.mark.parametrize("name", ["Springfield", "San Jose", "Santa Cruz", "Valencia"])
def test_a_name_with_several_bearers_is_nobodys_for_granted(name: str) -> None:
    found = find_places(name)
    assert the_one(found) is None
    assert len({(place.country, place.region) for place in found}) > 1


def test_a_city_that_exists_in_nine_countries_is_told_apart_by_country() -> None:
    found = find_places("San Jose")
    assert len({place.country for place in found}) >= 9
    assert all(place.country_name for place in found)


@pytest.mark.parametrize("name", ["", "x", "Qwxzkia", "a" * 100, "🎭", "\n"])
def test_no_such_place(name: str) -> None:
    assert find_places(name) == []


def test_a_country_with_many_times_is_no_place() -> None:
    assert country_code("Australia") == "AU"
    assert country_zone("AU") is None
    assert find_places("Australia") == []


@pytest.mark.parametrize(
    ("lat", "lon", "zone"),
    [(38.72, -9.14, "Europe/Lisbon"), (-13.83, -171.77, "Pacific/Apia"), (1.29, 103.85, "Asia/Singapore")],
)
def test_a_position_is_in_the_zone_of_the_nearest_city(lat: float, lon: float, zone: str) -> None:
    place = place_at(lat, lon)
    assert place is not None
    assert place.zone == zone


@pytest.mark.parametrize(
    ("lat", "lon"), [(0, -30), (58, 2), (-50, -120), (90, 0), (91, 0), (0, 181), (float("nan"), 0)]
)
def test_a_position_in_the_ocean_or_off_the_globe_is_no_place(lat: float, lon: float) -> None:
    assert place_at(lat, lon) is None


def test_every_zone_is_one_of_the_table_that_comes_with_the_zones() -> None:
    """IANA's zone.tab, in the tzdata package, names one zone a line in its third column."""
    table = (files("tzdata") / "zoneinfo" / "zone.tab").read_text(encoding="utf-8").splitlines()
    known = {line.split("\t")[2] for line in table if not line.startswith("#")}
    names = (
        "Kyiv",
        "Kolkata",
        "Nuuk",
        "Yangon",
        "Ho Chi Minh City",
        "Kathmandu",
        "Asunción",
        "Buenos Aires",
        "Indianapolis",
    )
    zones = {place.zone for name in names for place in find_places(name)}
    assert len(zones) > len(names) // 2
    assert zones <= known
    assert all(zoneinfo.ZoneInfo(zone) for zone in zones)
