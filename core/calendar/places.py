"""Cities and countries of the world with their zones, looked up offline.

The cities are those of ``gazetteer``; the zones are those of the ``tzdata`` package.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cache

import numpy as np
import numpy.typing as npt
from rapidfuzz import process
from rapidfuzz.distance import OSA

from core.calendar.countries import capital, country_code, country_name, regions
from core.calendar.english_names import OTHERWISE_CALLED, TAKEN_FOR_GRANTED, english_name
from core.calendar.gazetteer import fold, gazetteer

NEAREST_KM = 150.0
"""Farther from any city than this, a position has no place: out at sea, or on the ice."""

CLEAR_LEAD = 5.0
"""A name is taken for its largest bearer when that one has at least this many times the people of the next (our choice)."""

_EARTH_KM = 6371.0
_SAME_TOWN_KM = 40.0
_CAPITAL_WEIGHT = 3
_DEEPEST = 25
_BIG_CITY = 1_000_000
_SUBURB_KM = 25.0
_LIGHTER = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceFound:
    """A city, or a country that keeps one time. ``country`` is the ISO 3166 code, degrees are decimal, people are counted.

    ``name`` is what an English speaker writes, ``also`` holds the name that the gazetteer keeps, folded.
    """

    name: str
    country: str
    country_name: str
    zone: str
    lat: float
    lon: float
    population: int
    region: str = ""
    also: tuple[str, ...] = field(default=(), compare=False)
    weight: float = field(default=0.0, compare=False)


def find_places(name: str, *, forgiving: bool = True) -> list[PlaceFound]:
    """The places that may be meant, the likeliest first; empty where there is none.

    A country, region or state may follow the name ('Cambridge, UK', 'Portland Maine'). Spelling is forgiven where nothing bears
    the name as written: one letter in a short name, two in a long one; not at all unless ``forgiving``.
    """
    folded = fold(name)
    if not 2 <= len(folded) <= 60:
        return []
    if country_code(folded.removeprefix("the ")):
        return _country_as_place(folded.removeprefix("the "))
    return _bearing(folded) or (_bearing_nearly(folded) if forgiving else [])


def the_one(found: Sequence[PlaceFound]) -> PlaceFound | None:
    """The place that a careful person would take for granted, or None where one would ask."""
    if len(found) < 2:
        return found[0] if found else None
    return found[0] if found[0].weight >= CLEAR_LEAD * found[1].weight else None


def place_at(lat: float, lon: float) -> PlaceFound | None:
    """The nearest city to a position in degrees, or None where there is none within ``NEAREST_KM`` or no such position."""
    if not (-90 <= lat <= 90 and -180 <= lon <= 180):
        return None
    cities = gazetteer()
    distances = _km(lat, lon, cities.lats, cities.lons)
    nearest = int(distances.argmin())
    return _place(nearest) if distances[nearest] <= NEAREST_KM else None


def km_between(one: PlaceFound, other: PlaceFound) -> float:
    """The great-circle distance of two places."""
    there = np.array([other.lat], np.float32), np.array([other.lon], np.float32)
    return float(_km(one.lat, one.lon, *there)[0])


def country_zone(code: str) -> str | None:
    """The zone of a country that keeps, for nineteen in twenty of its townspeople, one time; else None."""
    return _main_zones().get(code)


def _bearing(folded: str) -> list[PlaceFound]:
    """Places of this name, or of this name with a country, state or region after it."""
    cities = gazetteer()
    plain = folded.replace(" ,", "")
    found = _told_apart([_place(city) for city in cities.bearers(_usual(plain))], _usual(plain))
    return found or _qualified(folded)


def _qualified(folded: str) -> list[PlaceFound]:
    words = folded.replace(" ,", "").split()
    for cut in range(len(words) - 1, max(0, len(words) - 4), -1):
        where = " ".join(word for word in words[cut:] if word not in {"in", "de"})
        name = _usual(" ".join(words[:cut]).removesuffix(" in").removesuffix(" de"))
        inside = [place for place in map(_place, gazetteer().bearers(name)) if _is_in(place, where)]
        if inside:
            return _told_apart(inside, name)
    return []


def _is_in(place: PlaceFound, where: str) -> bool:
    return country_code(where) == place.country or (place.country, place.region) in regions(where)


def _bearing_nearly(folded: str) -> list[PlaceFound]:
    """Places whose name is a slip or two away, those with the fewest slips."""
    if len(folded) < 5:
        return []
    allowed = 1 if len(folded) < 8 else 2
    close = process.extract(
        folded,
        gazetteer().alike(folded),
        scorer=OSA.distance,
        score_cutoff=allowed,
        limit=_DEEPEST * 2,
        processor=None,
    )
    fewest = min((slips for _, slips, _ in close), default=0)
    cities = {city for name, slips, _ in close if slips == fewest for city in gazetteer().bearers(name)}
    likeliest = sorted(cities, key=lambda city: -int(gazetteer().people[city]))[:_DEEPEST]
    return _told_apart([_place(city) for city in likeliest], folded)


def _told_apart(places: list[PlaceFound], name: str) -> list[PlaceFound]:
    """The heaviest first, each town once: boroughs and suburbs go with the town they lie in."""
    kept: list[PlaceFound] = []
    weights = {place: _weight(place, name) for place in places}
    for place in sorted(weights, key=lambda one: -weights[one])[:_DEEPEST]:
        if not any(
            other.country == place.country and _apart_km(other, place) < _SAME_TOWN_KM for other in kept
        ):
            kept.append(replace(place, weight=weights[place]))
    return kept


def _weight(place: PlaceFound, name: str) -> float:
    """How likely a place is meant: its people, more for a capital, less for a suburb or for a name that is not its first."""
    weight = float(place.population)
    if fold(place.name) == fold(capital(place.country)) and place.population > 1_000:
        weight *= _CAPITAL_WEIGHT
    if (place.country, place.name) in TAKEN_FOR_GRANTED:
        weight /= _LIGHTER
    if name not in map(_saint, (fold(place.name), *place.also)) and name not in place.also:
        weight *= _LIGHTER
    return weight * _LIGHTER if _is_suburb(place) else weight


def _saint(name: str) -> str:
    return re.sub(r"^st ", "saint ", name)


def _is_suburb(place: PlaceFound) -> bool:
    cities = gazetteer()
    big = np.flatnonzero(cities.people > max(_BIG_CITY, 3 * place.population))
    near = _km(place.lat, place.lon, cities.lats[big], cities.lons[big]) < _SUBURB_KM
    return bool(near.any())


def _country_as_place(name: str) -> list[PlaceFound]:
    """The city that is called as its country, else the whole country where one zone serves it."""
    code = country_code(name) or ""
    cities = [place for place in map(_place, gazetteer().bearers(name)) if place.country == code]
    namesakes = [place for place in cities if name in (fold(place.name), *place.also)]
    zone = country_zone(code)
    if namesakes or not zone:
        return _told_apart(namesakes, name)
    title = country_name(code)
    return [
        PlaceFound(name=title, country=code, country_name=title, zone=zone, lat=0.0, lon=0.0, population=0)
    ]


_NICKNAMES = {
    "la": "los angeles",
    "nyc": "new york city",
    "new york": "new york city",
    "ny": "new york city",
    "sf": "san francisco",
    "vegas": "las vegas",
    "philly": "philadelphia",
    "dc": "washington",
    "washington dc": "washington",
    "rio": "rio de janeiro",
    "ba": "buenos aires",
    "kl": "kuala lumpur",
    "hk": "hong kong",
    "saigon": "ho chi minh city",
    "st petersburg russia": "saint petersburg russia",
    "the hague": "the hague",
    "st johns": "saint johns",
    "st louis": "saint louis",
}


def _usual(name: str) -> str:
    return _NICKNAMES.get(name) or OTHERWISE_CALLED.get(name, name)


def _km(
    lat: float, lon: float, lats: npt.NDArray[np.float32], lons: npt.NDArray[np.float32]
) -> npt.NDArray[np.float64]:
    """Great-circle distances by the haversine formula, on a sphere of 6,371 km."""
    here, there = np.radians(lat), np.radians(lats.astype(np.float64))
    across = (
        np.sin((there - here) / 2) ** 2
        + np.cos(here) * np.cos(there) * np.sin(np.radians(lons - lon) / 2) ** 2
    )
    distance: npt.NDArray[np.float64] = 2 * _EARTH_KM * np.arcsin(np.sqrt(np.clip(across, 0, 1)))
    return distance


def _apart_km(one: PlaceFound, other: PlaceFound) -> float:
    lats, lons = np.array([other.lat], dtype=np.float32), np.array([other.lon], dtype=np.float32)
    return float(_km(one.lat, one.lon, lats, lons)[0])


def _place(city: int) -> PlaceFound:
    cities = gazetteer()
    code, native = cities.countries[city], cities.title(city)
    return PlaceFound(
        name=english_name(code, native),
        country=code,
        country_name=country_name(code),
        zone=cities.zones[city],
        lat=round(float(cities.lats[city]), 4),
        lon=round(float(cities.lons[city]), 4),
        population=int(cities.people[city]),
        region=cities.regions[city],
        also=(fold(native),),
    )


@cache
def _main_zones() -> dict[str, str]:
    return gazetteer().main_zones()
