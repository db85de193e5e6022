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

_MOSTLY_TIREDNESS = 3.0  # zones
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


def easy_days(lag: JetLag, *, stay_days: int | None) -> int:
    """Days from arrival on which sessions are best kept easy: none for travel tiredness alone or a stay too short to adapt."""
    too_short = stay_days is not None and stay_days <= _SHORT_STAY
    return 0 if lag.is_mostly_tiredness or too_short else lag.days


def advice(lag: JetLag, *, place: str, stay_days: int | None) -> str | None:
    """One sentence for client and coach, or None where there is nothing to say."""
    if lag.direction is Direction.NONE:
        return None
    side = "ahead" if lag.direction is Direction.EAST else "behind"
    gap = f"{place} is {_in_words(lag.hours)} {side} by the body clock"
    if lag.is_mostly_tiredness:
        return f"{gap}: expect some tiredness from the journey, soon over."
    if stay_days is not None and stay_days <= _SHORT_STAY:
        return f"{gap}: for so short a stay it is often easier to keep to the hours of home."
    return f"{gap}: as a rule of thumb it takes about {lag.days} days to adjust, so keep the first sessions easy."


def _in_words(hours: float) -> str:
    return "an hour" if hours == 1 else f"{hours:g} hours"
