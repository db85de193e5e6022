"""What is kept of a client beside their weeks: trips, nights, words, red flags, sessions sent."""

import datetime as dt
from dataclasses import dataclass, field
from typing import Any

from core.calendar.trips import Trip
from core.calendar.weeks import IsoWeek
from core.people.model import Role
from core.terms import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedTrip:
    """A trip as it was told to us."""

    id: int
    client_id: int
    place: str
    zone: str
    first: dt.date
    last: dt.date | None
    country: str | None = None
    room: Room | None = None
    minutes: int | None = None
    in_reach: bool = True
    said_by: Role = Role.CLIENT
    cancelled_at: dt.datetime | None = None

    @property
    def trip(self) -> Trip:
        return Trip(
            place=self.place,
            zone=self.zone,
            first=self.first,
            last=self.last,
            country=self.country,
            room=self.room,
            minutes=self.minutes,
            in_reach=self.in_reach,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Night:
    """The night before a local day, as told."""

    id: int
    client_id: int
    day: dt.date
    slept: dict[str, Any]  # {"hours": 6.5, "quality": "ok"}, either may be absent
    said_at: dt.datetime

    @property
    def hours(self) -> float | None:
        return self.slept.get("hours")

    @property
    def quality(self) -> str | None:
        return self.slept.get("quality")


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreeningAnswers:
    """What a client declared before the first session; the coach confirms it."""

    id: int
    client_id: int
    answers: dict[str, Any]
    answered_at: dt.datetime
    confirmed_at: dt.datetime | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RedFlag:
    """Words that may be a sign of danger. Until the coach clears it, with a note, nothing asks the client to train."""

    id: int
    client_id: int
    words: str
    sure: bool  # False: words that may as well be a figure of speech, asked about once; until answered it counts as one
    raised_at: dt.datetime
    told: int = 0
    told_at: dt.datetime | None = None
    seen_at: dt.datetime | None = None
    cleared_at: dt.datetime | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Something said that a coach should have before them: pain, a question, a low mood, words we could not read."""

    id: int
    client_id: int
    said_by: Role
    kind: str  # pain | question | unread | unwell | note | answer
    words: str
    said_at: dt.datetime
    week: IsoWeek
    places: tuple[str, ...] = ()
    message_id: int | None = None  # the message in the coach's chat, so that a reply to it finds its way back


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoteSession:
    """A session that was sent. Receipts: sent (Telegram took it), opened, begun, done. A bot learns nothing more."""

    id: int
    client_id: int
    key: str
    by: Role
    title: str
    body: dict[str, Any]  # {"messages": [...]} as it is read, and what built it
    made_at: dt.datetime
    ask_id: int | None = None
    minutes: int | None = None
    room: Room | None = None
    sent_at: dt.datetime | None = None
    opened_at: dt.datetime | None = None
    begun_at: dt.datetime | None = None
    done_at: dt.datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dialogue:
    """Where a conversation stands: its open topic, and what was asked last (which decides what a bare '6' means)."""

    telegram_id: int
    at: dt.datetime
    topic: str = ""
    state: dict[str, Any] = field(default_factory=dict)
    asked: str = "nothing"
    about: int | None = None
