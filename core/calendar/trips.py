"""Where a client is: the stay that holds at an instant, and what that makes of their days.

A trip holds from 00:00 of its first date to 24:00 of its last, in its own zone. So a person's days need not be whole: an eastward
flight swallows hours or a date, a westward one gives them again. Everything here follows from one list of stretches of time in
each of which the clocks on the wall run steadily.
"""

import datetime as dt
import functools
import itertools
from collections.abc import Iterator
from dataclasses import dataclass, field

from core.calendar import zones
from core.errors import Refused
from core.terms import Room

_DAY = dt.timedelta(days=1)
_BEGINNING = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)
_END = dt.datetime(2201, 1, 1, tzinfo=dt.UTC)
_FARTHEST = dt.timedelta(hours=26)  # farther than any zone's clocks have been from UTC
_YEARS = range(1971, 2200)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """What is true of a place while the client is there.

    ``country`` is an ISO 3166 code of two letters, or None where nobody knows (at sea); ``room`` None and ``minutes`` None: as
    usual; ``in_reach`` False: no signal, so nothing is asked.
    """

    zone: str
    country: str | None = None
    room: Room | None = None
    minutes: int | None = None
    in_reach: bool = True
    place: str | None = None

    def __post_init__(self) -> None:
        _require_zone(self.zone)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """Some days elsewhere, both dates inclusive; ``last`` None while its end is open."""

    place: str
    zone: str
    first: dt.date
    last: dt.date | None
    country: str | None = None
    room: Room | None = None
    minutes: int | None = None
    in_reach: bool = True

    def __post_init__(self) -> None:
        _require_zone(self.zone)
        if self.last is not None and self.last < self.first:
            raise Refused(
                f"The trip to {self.place} would end on {self.last} before it begins on {self.first}: swap the two dates."
            )
        if self.first.year not in _YEARS or (self.last or self.first).year not in _YEARS:
            raise Refused(
                f"The trip to {self.place} has a year that cannot be meant: write it with four digits, such as 2026."
            )

    @property
    def stay(self) -> Stay:
        return Stay(
            zone=self.zone,
            country=self.country,
            room=self.room,
            minutes=self.minutes,
            in_reach=self.in_reach,
            place=self.place,
        )

    @property
    def since(self) -> dt.datetime:
        """00:00 of the first date, there, in UTC."""
        return zones.resolve(self.first, dt.time(0), self.zone)

    @property
    def until(self) -> dt.datetime:
        """24:00 of the last date, there, in UTC; the end of time while it is open."""
        return _END if self.last is None else zones.resolve(self.last + _DAY, dt.time(0), self.zone)

    def covers(self, day: dt.date) -> bool:
        return self.first <= day and (self.last is None or day <= self.last)


@dataclass(frozen=True, order=True, slots=True)
class Interval:
    """Instants from ``since`` up to, not including, ``until`` (UTC)."""

    since: dt.datetime
    until: dt.datetime

    def __contains__(self, at: dt.datetime) -> bool:
        return self.since <= at < self.until

    @property
    def length(self) -> dt.timedelta:
        return self.until - self.since


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A stretch of time spent in one place on steady clocks: wall time is UTC plus ``offset`` throughout."""

    since: dt.datetime
    until: dt.datetime
    stay: Stay
    offset: dt.timedelta

    def wall(self, at: dt.datetime) -> dt.datetime:
        """What the clocks show (naive)."""
        return at.replace(tzinfo=None) + self.offset

    def instant(self, wall: dt.datetime) -> dt.datetime:
        """When they show it (UTC); it may lie outside the stretch."""
        return wall.replace(tzinfo=dt.UTC) - self.offset

    def within(self, since: dt.datetime, until: dt.datetime) -> Interval | None:
        """The part of the stretch while the clocks show ``[since, until)`` (naive)."""
        part = Interval(max(self.since, self.instant(since)), min(self.until, self.instant(until)))
        return part if part.since < part.until else None


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """Where a client is at any time: at home, but for the trips.

    Where trips overlap, the later-starting wins (of two that start together, the one named last). Where one follows another on
    the next day or sooner and the clocks leave a gap between them, the earlier holds until the later begins: nobody goes home
    between two adjacent trips.
    """

    home: Stay
    trips: tuple[Trip, ...] = field(default=())

    def stay_at(self, at: dt.datetime) -> Stay:
        """The stay that holds at an instant."""
        at = at.astimezone(dt.UTC)
        return next((stay for since, until, stay in _stays(self) if since <= at < until), self.home)

    def zone_at(self, at: dt.datetime) -> str:
        return self.stay_at(at).zone

    def local_at(self, at: dt.datetime) -> dt.datetime:
        """What the clocks on the wall show where the client is (aware)."""
        return zones.local(at, self.zone_at(at))

    def local_day(self, at: dt.datetime) -> dt.date:
        """The one date that it is for the client at an instant."""
        return self.local_at(at).date()

    def trip_on(self, day: dt.date) -> Trip | None:
        """The trip that names this date as one of its own, the later-starting first."""
        named = [(trip.first, n, trip) for n, trip in enumerate(self.trips) if trip.covers(day)]
        return max(named, key=lambda entry: entry[:2])[2] if named else None

    def stay_on(self, day: dt.date) -> Stay:
        """Where the client says to be on a date. For one moment of a day on which they travel, ask ``stay_at``."""
        trip = self.trip_on(day)
        return trip.stay if trip else self.home

    def away_on(self, day: dt.date) -> bool:
        return self.trip_on(day) is not None

    def in_reach_on(self, day: dt.date) -> bool:
        """False where nothing may be asked, for want of a signal."""
        return self.stay_on(day).in_reach

    def instants_of(self, day: dt.date) -> tuple[Interval, ...]:
        """When it is this date for the client: one interval as a rule, perhaps two for one lived twice, none for one skipped."""
        midnight = dt.datetime.combine(day, dt.time(0))
        return tuple(
            _joined(part for each in self._near(day) if (part := each.within(midnight, midnight + _DAY)))
        )

    def resolve(self, day: dt.date, at: dt.time) -> dt.datetime | None:
        """The instant at which the client lives this local minute, or None where they never do. Lived twice: the first.

        A time that a zone's clocks skip is taken as RFC 5545 §3.3.5 has it, as in ``zones.resolve``.
        """
        wall = dt.datetime.combine(day, at.replace(tzinfo=None, fold=0))
        lived = [
            each.instant(wall) for each in self._near(day) if each.since <= each.instant(wall) < each.until
        ]
        return min(lived) if lived else self._after_gap(day, at)

    def _after_gap(self, day: dt.date, at: dt.time) -> dt.datetime | None:
        """The instant of a time that the clocks of a place skipped while the client was there and the date did not change."""
        places = {each.stay.zone for each in self._near(day)}
        skipped = [(zone, then) for zone in places if (then := zones.after_gap(day, at, zone))]
        lived = (then for zone, then in skipped if self.zone_at(then) == zone and self.local_day(then) == day)
        return min(lived, default=None)

    def stretches(self, since: dt.datetime, until: dt.datetime) -> Iterator[Stretch]:
        """Cut ``[since, until)`` where the client moves or the clocks change, in order."""
        for start, end, stay in _stays(self):
            low, high = max(since, start), min(until, end)
            for begin, finish, offset in zones.steady_offsets(low, high, stay.zone):
                yield Stretch(since=begin, until=finish, stay=stay, offset=offset)

    def _near(self, day: dt.date) -> tuple[Stretch, ...]:
        return _stretches_near(self, day)


@functools.lru_cache(maxsize=4096)
def _stretches_near(whereabouts: Whereabouts, day: dt.date) -> tuple[Stretch, ...]:
    """The stretches in which it may be this date somewhere."""
    midnight = dt.datetime.combine(day, dt.time(0), dt.UTC)
    return tuple(whereabouts.stretches(midnight - _FARTHEST, midnight + _DAY + _FARTHEST))


@functools.lru_cache(maxsize=4096)
def _stays(whereabouts: Whereabouts) -> tuple[tuple[dt.datetime, dt.datetime, Stay], ...]:
    """All time, cut where the client moves: (from, to, stay), in order, without gap or overlap."""
    spans = _spans(whereabouts.trips)
    cuts = sorted({_BEGINNING, _END, *(cut for since, until, _ in spans for cut in (since, until))})
    return tuple(
        (since, until, _holding(since, spans) or whereabouts.home)
        for since, until in itertools.pairwise(cuts)
    )


def _holding(at: dt.datetime, spans: list[tuple[dt.datetime, dt.datetime, Stay]]) -> Stay | None:
    """The stay of the later-starting of the spans that hold at an instant; the spans are in the order of their first dates."""
    return next((stay for since, until, stay in reversed(spans) if since <= at < until), None)


def _spans(trips: tuple[Trip, ...]) -> list[tuple[dt.datetime, dt.datetime, Stay]]:
    """(from, to, stay) of each trip, in the order of their first dates; an earlier one reaches to an adjacent later one."""
    return [
        (trip.since, max([trip.until, *(later.since for later in trips if _follows(later, trip))]), trip.stay)
        for trip in sorted(trips, key=lambda trip: trip.first)
    ]


def _follows(later: Trip, trip: Trip) -> bool:
    """Whether one trip begins on the day after another's last, or sooner: nobody goes home in between."""
    return trip.last is not None and trip.first <= later.first <= trip.last + _DAY


def _joined(parts: Iterator[Interval]) -> Iterator[Interval]:
    """Intervals in order, those that touch made one."""
    held: Interval | None = None
    for part in parts:
        if held and held.until == part.since:
            held = Interval(held.since, part.until)
            continue
        if held:
            yield held
        held = part
    if held:
        yield held


def _require_zone(name: str) -> None:
    if not zones.known_zone(name):
        raise zones.UnknownZone(name)
