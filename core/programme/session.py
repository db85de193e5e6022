"""A session: what is asked for, and what is built. Both are plain values; a session is stored as it was sent."""

import dataclasses
import enum
from collections.abc import Mapping
from typing import Any

from core.programme.results import LiftResult
from core.terms import Block, Level, Pattern, Place, Room

SHORTEST, LONGEST = 10, 180  # minutes
FIRST_WEEK_BACK = 0.5  # of the usual volume (Caterisano 2019)


class Emphasis(enum.StrEnum):
    """What a session of a week leans towards."""

    STRENGTH = "strength"
    CONDITIONING = "conditioning"


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class SessionRequest:
    """What a session is built for.

    ``patterns`` are those that it should carry, the most overdue first; ``lasts`` the results of lifts, the oldest first;
    ``recent`` the keys of the exercises of the sessions before, the latest first; ``share`` the part of the usual number
    of sets that is allowed: left open it is all, and half in a return block, as in its first week; ``without`` the keys of
    exercises that are not to be taken, ``wanted`` of those that somebody chose by hand.
    """

    block: Block
    minutes: int
    room: Room
    level: Level = Level.INTERMEDIATE
    complaints: frozenset[Place] = frozenset()
    patterns: tuple[Pattern, ...] = tuple(Pattern)
    emphasis: Emphasis = Emphasis.STRENGTH
    lasts: tuple[LiftResult, ...] = ()
    recent: tuple[frozenset[str], ...] = ()
    short_sleep: bool = False
    deload: bool = False
    share: float | None = None
    without: frozenset[str] = frozenset()
    wanted: frozenset[str] = frozenset()

    @property
    def allowed_share(self) -> float:
        if self.share is None:
            return FIRST_WEEK_BACK if self.block is Block.RETURN else 1.0
        return self.share


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A stretch of time before or after the exercises: a drill, lighter sets, a carry, a stretch."""

    name: str
    dose: str
    seconds: int
    key: str | None = None


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """One exercise as prescribed: ``sets`` of ``low`` to ``high``, ``rir`` repetitions left in reserve.

    ``work_s`` is the length of one set (both sides); ``rest_s`` the rest after it. With ``alternates_with`` the other
    exercise is done in between, so that ``between_s`` seconds pass from the end of one set to the start of the next.
    ``percent`` of 1RM is given where the load can be chosen so finely, ``kg`` where last time says what to take.
    """

    key: str
    name: str
    pattern: Pattern
    sets: int
    low: int
    high: int
    unit: str
    rir: int
    rest_s: int
    work_s: int
    between_s: int
    alternates_with: str | None = None
    percent: tuple[int, int] | None = None
    kg: float | None = None
    note: str = ""
    main: bool = False
    fast: bool = False

    @property
    def seconds(self) -> int:
        return self.sets * (self.work_s + self.rest_s)


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """A whole session. ``why`` says what it leads with, ``left_out`` in one line what it does without, and why."""

    block: Block
    minutes: int
    room: Room
    level: Level
    warm_up: tuple[Part, ...]
    exercises: tuple[Planned, ...]
    finish: tuple[Part, ...]
    why: str
    left_out: str
    cautions: tuple[str, ...]

    @property
    def estimated_seconds(self) -> int:
        """The sum of its parts: every part of warm-up and finish, and sets x (work + rest) of every exercise."""
        around = sum(part.seconds for part in (*self.warm_up, *self.finish))
        return around + sum(each.seconds for each in self.exercises)

    @property
    def keys(self) -> frozenset[str]:
        """The exercises in it, to be passed as ``recent`` to the next."""
        around = {part.key for part in (*self.warm_up, *self.finish) if part.key}
        return frozenset(around | {each.key for each in self.exercises})

    @property
    def lead(self) -> Pattern:
        """The pattern of its first exercise."""
        return self.exercises[0].pattern

    @property
    def patterns(self) -> tuple[Pattern, ...]:
        """The patterns that it trains, in order."""
        return tuple(dict.fromkeys(each.pattern for each in self.exercises))

    def to_json(self) -> dict[str, Any]:
        """As ``keptword build-session`` prints it, and as it is stored."""
        return {
            "block": str(self.block),
            "minutes": self.minutes,
            "room": str(self.room),
            "level": str(self.level),
            "estimated_seconds": self.estimated_seconds,
            "warm_up": [dataclasses.asdict(part) for part in self.warm_up],
            "exercises": [_planned_json(each) for each in self.exercises],
            "finish": [dataclasses.asdict(part) for part in self.finish],
            "why": self.why,
            "left_out": self.left_out,
            "cautions": list(self.cautions),
        }


def _planned_json(each: Planned) -> dict[str, Any]:
    known = dataclasses.asdict(each)
    low, high = known.pop("low"), known.pop("high")
    known["percent"] = list(each.percent) if each.percent else None
    return {**known, "pattern": str(each.pattern), "repetitions": [low, high]}


def session_from_json(stored: Mapping[str, Any]) -> Session:
    """The session that ``to_json`` wrote."""
    return Session(
        block=Block(stored["block"]),
        minutes=stored["minutes"],
        room=Room(stored["room"]),
        level=Level(stored["level"]),
        warm_up=tuple(Part(**part) for part in stored["warm_up"]),
        exercises=tuple(_planned_from_json(each) for each in stored["exercises"]),
        finish=tuple(Part(**part) for part in stored["finish"]),
        why=stored["why"],
        left_out=stored["left_out"],
        cautions=tuple(stored["cautions"]),
    )


def _planned_from_json(stored: Mapping[str, Any]) -> Planned:
    known = dict(stored)
    low, high = known.pop("repetitions")
    percent = known.pop("percent")
    pattern = Pattern(known.pop("pattern"))
    return Planned(**known, low=low, high=high, pattern=pattern, percent=tuple(percent) if percent else None)
