"""What one message of a client can mean, as values: every field is there only if the words say so."""

import datetime as dt
import enum
from dataclasses import dataclass
from typing import Any

from core.calendar.places import PlaceFound
from core.terms import Place, Weekday


class Asked(enum.StrEnum):
    """What was asked last: it decides what a bare number means."""

    SESSION = "session"
    SLEEP = "sleep"
    EFFORT = "effort"
    DAYS = "days"
    NOTHING = "nothing"


class Said(enum.StrEnum):
    """What a client says became of a session; 'later' is not yet, perhaps, or another time."""

    DONE = "done"
    SHORT = "short"
    MISSED = "missed"
    LATER = "later"


class Near(enum.StrEnum):
    """A day named by its distance from today."""

    TODAY = "today"
    TOMORROW = "tomorrow"


class SleepQuality(enum.StrEnum):
    GOOD = "good"
    OK = "ok"
    BAD = "bad"


class Urgency(enum.StrEnum):
    """A red flag, or words that may be one and must be asked about at once."""

    ALARM = "alarm"
    ASK = "ask"


class TripDoubt(enum.StrEnum):
    """What has to be asked back before a trip can be entered."""

    PLACE = "place"
    DATES = "dates"
    WHICH_PLACE = "which place"
    WHICH_DATE = "which date"
    BOTH = "both"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """A stay in another place, dates inclusive; ``ends`` is None while it is open. ``then`` holds further legs, in order."""

    place: str
    country: str
    zone: str
    starts: dt.date
    ends: dt.date | None
    then: "tuple[Trip, ...]" = ()

    def to_json(self) -> dict[str, Any]:
        said: dict[str, Any] = {
            "place": self.place,
            "country": self.country,
            "zone": self.zone,
            "from": self.starts.isoformat(),
            "to": self.ends.isoformat() if self.ends else None,
        }
        if self.then:
            said["then"] = [leg.to_json() for leg in self.then]
        return said


@dataclass(frozen=True, slots=True)
class Return:
    """A trip that is known already ends on another day than planned: home early, or a stay made longer."""

    ends: dt.date

    def to_json(self) -> dict[str, Any]:
        return {"to": self.ends.isoformat()}


@dataclass(frozen=True, slots=True)
class CalledOff:
    """A trip that will not take place; ``places`` are those that the words name."""

    places: tuple[PlaceFound, ...] = ()

    def to_json(self) -> dict[str, Any]:
        return {"cancel": True}


@dataclass(frozen=True, slots=True, kw_only=True)
class TripQuestion:
    """A trip that cannot be entered yet, with what is known of it, so that only the missing part is asked."""

    about: TripDoubt
    places: tuple[PlaceFound, ...] = ()
    starts: dt.date | None = None
    ends: dt.date | None = None

    def to_json(self) -> dict[str, Any]:
        return {"ask": self.about.value}


TripSaid = Trip | Return | CalledOff | TripQuestion


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """All that one message says. Effort is CR-10, sleep in hours, minutes are minutes of training, pause in days."""

    outcome: Said | None = None
    move_to: Weekday | Near | None = None
    time: dt.time | None = None
    minutes: int | None = None
    effort: float | None = None
    sleep_h: float | None = None
    sleep_quality: SleepQuality | None = None
    days: tuple[Weekday, ...] = ()
    promise: int | None = None
    pain: tuple[Place, ...] = ()
    urgent: Urgency | None = None
    unwell: bool = False
    trip: TripSaid | None = None
    stop: bool = False
    pause: int | None = None
    question: bool = False
    tell_coach: bool = False
    thanks: bool = False
    unknown: bool = False

    def to_json(self) -> dict[str, Any]:
        """Only the keys that the words say, as plain JSON values."""
        said = {
            "outcome": self.outcome and self.outcome.value,
            "move_to": _day_name(self.move_to),
            "time": self.time and self.time.strftime("%H:%M"),
            "minutes": self.minutes,
            "effort": _tidy(self.effort),
            "sleep_h": _tidy(self.sleep_h),
            "sleep_quality": self.sleep_quality and self.sleep_quality.value,
            "days": [day.english for day in self.days] or None,
            "promise": self.promise,
            "pain": sorted(place.value for place in self.pain) or None,
            "urgent": _urgent_json(self.urgent),
            "trip": self.trip and self.trip.to_json(),
            "pause": self.pause,
        }
        flags = ("unwell", "stop", "question", "tell_coach", "thanks", "unknown")
        return {key: value for key, value in said.items() if value is not None} | {
            flag: True for flag in flags if getattr(self, flag)
        }


def _day_name(day: Weekday | Near | None) -> str | None:
    return day.english if isinstance(day, Weekday) else day and day.value


def _urgent_json(urgency: Urgency | None) -> bool | str | None:
    return True if urgency is Urgency.ALARM else urgency and urgency.value


def _tidy(number: float | None) -> float | None:
    """7.0 is written 7."""
    if number is None:
        return None
    return int(number) if number == int(number) else round(number, 2)
