"""Jet lag by rules of thumb: how far the clock moves, and how long the body takes to follow.

Eastward about one day a zone, westward about one day for a zone and a half (Mayo Clinic Health Letter, November 2018). Up to
three zones it is mostly the tiredness of travelling and soon over, and on a stay of two days or fewer one may keep to the hours
of home (CDC Yellow Book, chapter on jet lag). Rules of thumb: people differ.
"""

import datetime as dt
import enum
import math
from dataclasses import dataclass

from core.calendar import zones
from core.calendar.trips import Whereabouts

_FELT_FROM = 3.0  # zones: Roach & Sargent 2019, Front Physiol 10:927
_MOSTLY_TIREDNESS = 3.0  # zones
_LONGEST = 14  # days: no shift takes longer, being twelve hours at most
_SHORT_STAY = 2  # days
_WESTWARD = 1.5  # zones a day


class Direction(enum.StrEnum):
    EAST = "east"
    WEST = "west"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class JetLag:
    """``hours`` by which the body clock must move, without sign; ``days`` until it has, counted from arrival."""

    hours: float
    direction: Direction
    days: int

    @property
    def is_mostly_tiredness(self) -> bool:
        return self.hours <= _MOSTLY_TIREDNESS


def shift_hours(from_zone: str, to_zone: str, at: dt.datetime) -> float:
    """Hours that the body clock must move, forward (east) positive, by the shorter way round: in [-12, 12)."""
    ahead = zones.offset_at(at, to_zone) - zones.offset_at(at, from_zone)
    return (ahead / dt.timedelta(hours=1) + 12) % 24 - 12


def jet_lag(from_zone: str, to_zone: str, at: dt.datetime) -> JetLag:
    """What a flight between two zones asks of the body, with the clocks as they are at an instant."""
    shift = shift_hours(from_zone, to_zone, at)
    if shift == 0:
        return JetLag(hours=0.0, direction=Direction.NONE, days=0)
    if shift > 0:
        return JetLag(hours=shift, direction=Direction.EAST, days=math.ceil(shift))
    return JetLag(hours=-shift, direction=Direction.WEST, days=math.ceil(-shift / _WESTWARD))


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """The last time that a client came from clocks far from these: the first date here, and how long they stay (None: not known)."""

    day: dt.date
    place: str
    lag: JetLag
    stay_days: int | None

    @property
    def is_short_stay(self) -> bool:
        return self.stay_days is not None and self.stay_days <= _SHORT_STAY


def arrival_before(day: dt.date, where: Whereabouts) -> Arrival | None:
    """The arrival that a client may still feel on a date: across three zones or more, no longer ago than it takes to adjust."""
    here = where.stay_on(day)
    back = (day - dt.timedelta(days=n) for n in range(1, _LONGEST))
    came = next((eve for eve in back if where.stay_on(eve).zone != here.zone), None)
    if came is None:
        return None
    first = came + dt.timedelta(days=1)
    lag = jet_lag(where.stay_on(came).zone, here.zone, dt.datetime.combine(first, dt.time(12), dt.UTC))
    if lag.hours < _FELT_FROM or (day - first).days >= lag.days:
        return None
    trip = where.trip_on(day)
    stay = None if trip is None or trip.last is None else (trip.last - first).days + 1
    return Arrival(day=first, place=here.place or "", lag=lag, stay_days=stay)
