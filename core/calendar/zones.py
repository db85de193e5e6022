"""Wall time and instants: the one place that turns the one into the other.

Importing this module makes ``zoneinfo`` read the zones of the ``tzdata`` package alone. Left to itself it reads the machine's own
files first, which are often a year old, and several zones changed their rules in 2026: a prompt would be an hour off, silently.
"""

import datetime as dt
import functools
import zoneinfo
from collections.abc import Iterator
from importlib.metadata import version

from core.errors import Refused

zoneinfo.reset_tzpath(to=[])
zoneinfo.ZoneInfo.clear_cache()


class UnknownZone(Refused):
    """A name that is no zone's."""

    def __init__(self, name: str) -> None:
        super().__init__(
            f"'{name}' is not a time zone that is known: write one such as Europe/Lisbon, or name a city."
        )
        self.name = name


# Names in the data that are no zone of anybody's.
_NOT_PLACES = frozenset({"localtime", "posixrules", "Factory"})
_STEP = dt.timedelta(hours=6)  # no zone has ever changed its offset twice within this


def data_version() -> str:
    """The release of the zone data in use, such as '2026.6'."""
    return version("tzdata")


@functools.cache
def _names() -> frozenset[str]:
    return frozenset(zoneinfo.available_timezones()) - _NOT_PLACES


def known_zone(name: str) -> bool:
    """Whether this is the exact name of a zone that a person may live in, such as 'Europe/Lisbon'."""
    return name in _names()


def resolve(day: dt.date, at: dt.time, zone: str) -> dt.datetime:
    """The instant, in UTC, at which the clocks of the zone show this day and time.

    RFC 5545 §3.3.5: a time that the clocks skip is reckoned with the offset before the gap (02:30 becomes 03:30); of a time that
    they show twice it is the first.
    """
    wall = dt.datetime.combine(day, at.replace(tzinfo=None, fold=0), zoneinfo.ZoneInfo(zone))
    return wall.astimezone(dt.UTC)


def after_gap(day: dt.date, at: dt.time, zone: str) -> dt.datetime | None:
    """Where ``resolve`` puts a time that the zone's clocks skip; None for one that they show."""
    then = resolve(day, at, zone)
    shown = local(then, zone).replace(tzinfo=None, fold=0)
    return None if shown == dt.datetime.combine(day, at.replace(tzinfo=None, fold=0)) else then


def local(at: dt.datetime, zone: str) -> dt.datetime:
    """What the clocks of the zone show at an instant (aware)."""
    return at.astimezone(zoneinfo.ZoneInfo(zone))


def offset_at(at: dt.datetime, zone: str) -> dt.timedelta:
    """How far the zone's clocks are ahead of UTC at an instant."""
    offset = local(at, zone).utcoffset()
    if offset is None:  # zoneinfo's zones always have one
        raise ValueError(zone)
    return offset


def steady_offsets(
    since: dt.datetime, until: dt.datetime, zone: str
) -> Iterator[tuple[dt.datetime, dt.datetime, dt.timedelta]]:
    """Cut ``[since, until)`` (UTC) where the zone's offset changes: (from, to, offset), in order, without gap or overlap."""
    start, here = since, since
    while here < until:
        following = min(here + _STEP, until)
        offset = offset_at(here, zone)
        if offset_at(following, zone) != offset:
            change = _first_change(here, following, zone)
            if change < until:
                yield start, change, offset
                start = change
        here = following
    if start < until:
        yield start, until, offset_at(start, zone)


def _first_change(before: dt.datetime, after: dt.datetime, zone: str) -> dt.datetime:
    """The second at which the offset changes, known to lie in ``(before, after]``."""
    offset = offset_at(before, zone)
    low, high = 0, int((after - before).total_seconds())
    while high - low > 1:
        middle = (low + high) // 2
        if offset_at(before + dt.timedelta(seconds=middle), zone) == offset:
            low = middle
        else:
            high = middle
    return before + dt.timedelta(seconds=high)
