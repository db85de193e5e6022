"""What a coach is told of a week, before it has words: one client's facts, and the group's."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from core.calendar.trips import Trip
from core.calendar.weeks import IsoWeek
from core.wellbeing.load import LoadWeek
from core.wellbeing.sleep import SleepWeek


@dataclass(frozen=True, slots=True, kw_only=True)
class NextWeek:
    """What is recommended for the coming week.

    ``keep`` and ``expected`` hold, by size, the odds of keeping a promise and the number that would be done. ``why`` is a
    sentence whose parts semicolons set apart; those that give odds in per cent are not repeated beside them. ``if_open_done`` is
    the number where asks of the running week are open and get done, None where none is open. ``explore`` is a size offered as an
    experiment. ``settled`` is the coach's own number, where they have settled the week already. ``confidence`` is how sure a promise
    must be.
    """

    recommended: int
    minutes: int
    keep: Mapping[int, float]
    expected: Mapping[int, float]
    why: str
    previous: int | None = None
    if_open_done: int | None = None
    never_tried: bool = False
    talk_first: bool = False
    explore: int | None = None
    settled: int | None = None
    confidence: float | None = None

    @property
    def number(self) -> int:
        """The number as it stands: the coach's own, else the recommended one."""
        return self.recommended if self.settled is None else self.settled

    @property
    def sizes(self) -> tuple[int, ...]:
        """One less, itself, one more: as far as there are odds for them."""
        near = (self.number - 1, self.number, self.number + 1)
        return tuple(size for size in near if size in self.keep and size in self.expected)

    @property
    def is_lower(self) -> bool:
        return self.previous is not None and self.recommended < self.previous


@dataclass(frozen=True, slots=True)
class Pain:
    """A place that hurts, and how often it was named lately."""

    place: str
    times: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientWeek:
    """One client's week. ``done`` counts short sessions too, and ``short`` says how many of them were; extras are apart.

    ``promised`` is None before the first week; ``engaged`` is 1 less the probability of having fallen silent; ``said`` holds what
    still waits for an answer of the coach, in the client's own words; ``red_flags`` the words of those not cleared yet.
    """

    name: str
    promised: int | None
    done: int = 0
    short: int = 0
    missed: int = 0
    unanswered: int = 0
    excused: int = 0
    extras: int = 0
    still_open: int = 0
    lowered: bool = False
    engaged: float | None = None
    silent_since: dt.date | None = None
    paused_until: dt.date | None = None
    unwell: bool = False
    unreachable: bool = False
    sleep: SleepWeek | None = None
    load: LoadWeek | None = None
    red_flags: tuple[str, ...] = ()
    pain: tuple[Pain, ...] = ()
    trips: tuple[Trip, ...] = ()
    said: tuple[str, ...] = ()
    wins: tuple[str, ...] = ()
    next_week: NextWeek | None = None

    @property
    def counted(self) -> bool:
        """Whether the week says anything: not a rest week, nor one in which nothing was asked."""
        return self.done + self.broken > 0

    @property
    def broken(self) -> int:
        """Asks that were missed or left without an answer."""
        return self.missed + self.unanswered

    @property
    def not_asked(self) -> int:
        """What of the promise was never asked for."""
        ended = self.done + self.broken + self.excused + self.still_open
        return max(0, (self.promised or 0) - ended)

    @property
    def kept(self) -> bool:
        return self.done > 0 and not self.broken and not self.still_open

    @property
    def undecided(self) -> bool:
        """Whether it still depends on what is open."""
        return self.still_open > 0 and not self.broken


@dataclass(frozen=True, slots=True)
class Audit:
    """How past forecasts came true: of ``given`` promises issued at about ``said``, so many were ``kept``."""

    said: float
    kept: int
    given: int


@dataclass(frozen=True, slots=True)
class Unread:
    """A client of whom nothing can be told, since what is stored of them cannot be read, and why that is so."""

    name: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupWeek:
    """A coach's whole group in one week."""

    week: IsoWeek
    clients: tuple[ClientWeek, ...]
    unread: tuple[Unread, ...] = ()
    audit: tuple[Audit, ...] = ()

    @property
    def counted(self) -> int:
        """Promises of which it is known whether they were kept."""
        return sum(client.counted and not client.undecided for client in self.clients)

    @property
    def kept(self) -> int:
        return sum(client.kept for client in self.clients)

    @property
    def done(self) -> int:
        return sum(client.done for client in self.clients)

    @property
    def asked(self) -> int:
        """Sessions that were asked for and have ended one way or the other; what was excused is no part of it."""
        return sum(client.done + client.broken for client in self.clients)

    @property
    def extras(self) -> int:
        return sum(client.extras for client in self.clients)

    @property
    def still_open(self) -> int:
        return sum(client.still_open for client in self.clients)
