"""Which events of a calendar file are trips, and where to: places looked up offline, nothing guessed.

An event is a trip where it names a place that is known, and is not at home; one of a single day only where it has a location, since
a title alone ('Nancy') may be anybody's birthday. Whoever sent the file sees what was understood before anything is kept.
"""

import datetime as dt
import functools
import re
from collections.abc import Iterator
from dataclasses import dataclass

from core.calendar.gazetteer import fold
from core.calendar.places import PlaceFound, find_places, the_one
from core.calendar.trip_file import Span, read_spans

_MOST_PLACES = 6  # that one is asked to choose from
_LONGEST_TEXT = 200
_LARGE = 100_000
_PARTS = re.compile(r"[,;:()\[\]/|\n]|\s[-–—]\s|→|->")
_TOWARDS = re.compile(r".*\b(?:to|in|at|for|nach|à|en)\s+(.+)", re.IGNORECASE)
_NO_PLACE = re.compile(
    r"\b(?:trip|tour|travel|travelling|visit|flight|flights|train|stay|week|weekend|conference|festival|shows?|"
    r"residency|rehearsals?|work|holidays?|vacation|hotel|survey|leg|business|get-in|run|days?|(?=\w*\d)\w{3,}(?:-\d+)?)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class TripRead:
    """A trip as a calendar names it: the place, or the few that may be meant."""

    title: str
    places: tuple[PlaceFound, ...]
    first: dt.date
    last: dt.date


@dataclass(frozen=True, slots=True)
class TripsRead:
    """What a calendar file was taken to say.

    ``unknown``: days away by their looks, to a place that is not known; the first of them, where they come back. ``unread``: the
    titles of what comes back in a way that is not read.
    """

    trips: tuple[TripRead, ...]
    unknown: tuple[Span, ...]
    left_out: int  # events that are no trips
    unread: tuple[str, ...] = ()


def read_trips(data: bytes, *, since: dt.date, until: dt.date, zone: str, home: str) -> TripsRead:
    """The trips of a calendar file between two dates. ``Refused`` as ``read_spans`` does."""
    reading = read_spans(data, since=since, until=until, zone=zone)
    trips, unknown, others = list[TripRead](), dict[str, Span](), 0
    found = functools.cache(_places)  # what repeats is looked up once
    for span in reading.spans:
        located, longer = span.place != span.title, span.last > span.first
        places = found(span.place, span.title) if located or longer else ()
        if places and not _is_home(places, home, zone):
            trips.append(TripRead(span.title, places, span.first, span.last))
        elif located and longer and not places:
            unknown.setdefault(span.title, span)
        else:
            others += 1
    return TripsRead(tuple(trips), tuple(unknown.values()), reading.left_out + others, reading.unread)


def _is_home(places: tuple[PlaceFound, ...], home: str, zone: str) -> bool:
    """Whether home is one of them, by its English name or its own: it may have been kept by either."""
    own = fold(home)
    return any(own in (fold(place.name), *place.also) and place.zone == zone for place in places)


def _places(place: str, title: str) -> tuple[PlaceFound, ...]:
    """The one place that an event names, or those of one name that it may mean; none where it names none."""
    for text in dict.fromkeys((place, title)):
        for name in _names(text[:_LONGEST_TEXT]):
            meant = [each for each in find_places(name, forgiving=False) if _is_meant(each, name)]
            if meant:
                one = the_one(meant)
                return (one,) if one is not None else tuple(meant[:_MOST_PLACES])
    return ()


def _is_meant(place: PlaceFound, name: str) -> bool:
    """A name that is not its first one ('Hall' for Schwäbisch Hall) is believed of a large city alone."""
    return "," in name or fold(place.name) == fold(name) or place.population >= _LARGE


def _names(text: str) -> Iterator[str]:
    """What may be a place in a location or title, the likeliest first: 'Hotel X, 1100 Lisboa, Portugal' gives Lisboa, Portugal."""
    parts = [_bare(part) for part in _PARTS.split(text)]
    parts = [part for part in parts if part]
    for part in reversed(parts[:-1]):
        yield f"{part}, {parts[-1]}"
    for part in reversed(parts):
        yield part
    for part in reversed(parts):
        towards = _TOWARDS.fullmatch(part)
        if towards is not None:
            yield towards[1]


def _bare(part: str) -> str:
    """A part of an address or title without numbers and the words that only say that it is a journey."""
    return " ".join(_NO_PLACE.sub(" ", part).split())
