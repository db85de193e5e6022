"""People as values. Nothing here knows how it is stored or shown."""

import datetime as dt
import enum
from dataclasses import dataclass

from core.calendar.weeks import IsoWeek
from core.terms import Level, Room

CONSENT_VERSION = "2026-11"
INVITATION_HOLDS = dt.timedelta(hours=72)

QUIET_FROM = dt.time(21)
QUIET_TO = dt.time(7)
DIGEST_AT = dt.time(18)
USUAL_TIME = dt.time(18)
USUAL_MINUTES = 45
USUAL_CONFIDENCE = 0.8


class Stage(enum.StrEnum):
    """How far somebody has come with us."""

    ENROLLING = "enrolling"  # answering the first questions
    WAITING = "waiting"  # the coach has yet to confirm the screening
    ACTIVE = "active"
    STOPPED = "stopped"  # said 'stop': we keep quiet for good, until they come back


class SleepAsked(enum.StrEnum):
    """When a client is asked how they slept."""

    TRAINING = "training"  # on the mornings they train
    DAILY = "daily"
    NEVER = "never"


@dataclass(frozen=True, slots=True, kw_only=True)
class Coach:
    id: int
    name: str
    telegram_id: int | None = None
    zone: str = "UTC"
    digest_at: dt.time = DIGEST_AT
    stage: Stage = Stage.ENROLLING
    raise_without_me: bool = False
    next_due_at: dt.datetime | None = None
    last_digest: IsoWeek | None = None  # the week that the last digest closed
    last_short_list: IsoWeek | None = None
    unreachable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Client:
    """One client. Times of day are wall time where the client is; place, country, zone and room hold where no trip says otherwise.

    ``minutes`` is the usual length of a session, ``sleep_need`` is in hours, ``confidence`` a probability; ``daily_limit`` and
    ``weekly_limit`` count the messages that are sent unasked.
    """

    id: int
    coach_id: int
    name: str
    telegram_id: int | None = None
    stage: Stage = Stage.ENROLLING
    consented_at: dt.datetime | None = None
    consent_version: str | None = None
    place: str = ""
    country: str = ""
    zone: str = "UTC"
    room: Room = Room.HOTEL_GYM
    level: Level = Level.INTERMEDIATE
    lately: int | None = None  # sessions a week before enrolment
    minutes: int = USUAL_MINUTES
    usual_days: tuple[int, ...] = ()
    usual_time: dt.time = USUAL_TIME
    goal: str = ""
    complaints: tuple[str, ...] = ()
    sleep_need: float = 8.0
    sleep_asked: SleepAsked = SleepAsked.TRAINING
    quiet_from: dt.time = QUIET_FROM
    quiet_to: dt.time = QUIET_TO
    confidence: float = USUAL_CONFIDENCE
    floor: int | None = None
    daily_limit: int = 2
    weekly_limit: int = 12
    first_week: IsoWeek | None = None  # the first week that is asked about
    heard_at: dt.datetime | None = None
    silent_since: dt.date | None = None
    unwell_since: dt.date | None = None
    paused_until: dt.date | None = None  # the last local day of the pause
    unreachable: bool = False
    calendar_hash: str | None = None  # of the secret address of their calendar feed
    next_due_at: dt.datetime | None = None

    def is_paused_on(self, day: dt.date) -> bool:
        return self.paused_until is not None and day <= self.paused_until

    @property
    def may_be_asked(self) -> bool:
        """Whether anything at all may be sent unasked."""
        return self.stage is Stage.ACTIVE and not self.unreachable and self.telegram_id is not None


class Role(enum.StrEnum):
    COACH = "coach"
    CLIENT = "client"


@dataclass(frozen=True, slots=True, kw_only=True)
class Invitation:
    """A single-use link. Only the hash of its token is kept."""

    id: int
    role: Role
    person_id: int
    token_hash: str
    expires_at: dt.datetime
    used_at: dt.datetime | None = None

    def holds(self, at: dt.datetime) -> bool:
        return self.used_at is None and at < self.expires_at
