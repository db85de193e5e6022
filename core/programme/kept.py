"""What is kept of a programme: the coach's own exercises and sessions, media for an exercise, results, the laid-out year."""

import datetime as dt
from dataclasses import dataclass, field, replace
from typing import Any

from core.programme.movements import Exercise, Load
from core.programme.own import avoided_by_own, own_exercise
from core.terms import Pattern, Room


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnExercise:
    """An exercise in the coach's own words."""

    id: int
    coach_id: int
    name: str
    pattern: Pattern
    room: Room
    made_at: dt.datetime
    load: str = Load.BODY.value
    cues: list[str] = field(default_factory=list)

    @property
    def key(self) -> str:
        return f"own_{self.id}"

    @property
    def exercise(self) -> Exercise:
        """As the builder takes it: before ours, for every level, since the coach knows whom it is for."""
        cues = "\n".join(self.cues)
        avoid = avoided_by_own(self.pattern, cues)
        taken = own_exercise(name=self.name, pattern=self.pattern, room=self.room, cues=cues, avoid=avoid)
        return replace(taken, key=self.key, load=Load(self.load))


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnSession:
    """A whole session as the coach wrote it, for a room and a number of minutes; ``client_id``: for one client only."""

    id: int
    coach_id: int
    title: str
    words: str
    room: Room
    minutes: int
    made_at: dt.datetime
    client_id: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MediaNote:
    """A video or voice note of the coach's for one exercise: the message in the coach's own chat, to be copied."""

    id: int
    coach_id: int
    exercise: str
    media: str
    chat_id: int
    message_id: int
    made_at: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptResult:
    """One lift of one client as it was done: ``done`` holds sets, kg, feel, goal, block and whether it led its session."""

    id: int
    client_id: int
    exercise: str
    day: dt.date
    done: dict[str, Any]
    said_at: dt.datetime
    session_id: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptYear:
    """The laid-out year of a client: what was coming up, and the blocks that the coach accepted."""

    id: int
    client_id: int
    start: dt.date
    weeks: int
    events: list[dict[str, Any]]
    blocks: list[dict[str, Any]]
    accepted_at: dt.datetime
