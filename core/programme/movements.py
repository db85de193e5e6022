"""Movements: what an exercise is, and the library of them, read from one file a pattern.

The files are written to be read and edited by a coach; ``core/programme/library/README.md`` explains their fields.
"""

import dataclasses
import enum
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from functools import cache, cached_property
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from core.terms import Level, Pattern, Place, Room


class Use(enum.StrEnum):
    """What an exercise is for in a session."""

    MAIN = "main"  # heavy, on both legs or both arms: the lift that a session is built round
    ASSIST = "assist"  # a whole movement that trains its pattern
    ACCESSORY = "accessory"  # a small one, beside it
    POWER = "power"  # moved as fast as possible
    CARRY = "carry"
    CONDITIONING = "conditioning"
    MOBILITY = "mobility"  # moving, before the work
    STRETCH = "stretch"  # held, after it


class Load(enum.StrEnum):
    """What resists."""

    BODY = "body"
    BAND = "band"
    DUMBBELL = "dumbbell"
    CABLE = "cable"
    MACHINE = "machine"
    BARBELL = "barbell"
    BELT = "belt"  # the body, with weight on a belt or help from a band


class Unit(enum.StrEnum):
    REPETITIONS = "repetitions"
    SECONDS = "seconds"
    METRES = "metres"


# A coach with two dumbbells in a flat has no bands there, and the usual hotel gym has none either.
ROOM_HAS: Mapping[Room, frozenset[Room]] = MappingProxyType(
    {
        Room.NONE: frozenset({Room.NONE}),
        Room.BANDS: frozenset({Room.NONE, Room.BANDS}),
        Room.DUMBBELLS: frozenset({Room.NONE, Room.DUMBBELLS}),
        Room.HOTEL_GYM: frozenset({Room.NONE, Room.DUMBBELLS, Room.HOTEL_GYM}),
        Room.FULL_GYM: frozenset(Room),
    }
)


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Exercise:
    """One movement. ``step`` runs from 1, the easiest regression of its pattern, to 10, the hardest progression.

    ``seconds`` is the time of one repetition of one side (of one second or one metre where that is the unit);
    ``room`` the least room that it needs; ``avoid`` the complaints that forbid it; ``easier`` and ``harder`` the keys
    of its neighbours on the scale. A ``stand_in`` is only used where the room, the level or a complaint leaves nothing else; a
    ``makeshift`` one (a towel, a table, a sofa) only where there is no better kit for its pattern.
    ``most`` is the largest number that is ever asked of one set. Two of one ``kin`` ask the same of the body and do not meet in
    one session; a ``slow`` one is lowered with care and never moved for speed.
    """

    key: str
    name: str
    pattern: Pattern | None
    use: Use
    room: Room
    load: Load
    levels: frozenset[Level] = frozenset(Level)
    step: int = 5
    unit: Unit = Unit.REPETITIONS
    a_side: bool = False
    seconds: float = 3.0
    avoid: frozenset[Place] = frozenset()
    easier: str | None = None
    harder: str | None = None
    set_up: str = ""
    cues: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    prepares: frozenset[Pattern] = frozenset()
    grip: bool = False
    most: int | None = None
    stand_in: bool = False
    makeshift: bool = False
    kin: str = ""
    slow: bool = False
    own: bool = False

    def fits(self, room: Room, level: Level, complaints: frozenset[Place]) -> bool:
        """Whether it can be done there, by such a person, with these complaints."""
        return self.room in ROOM_HAS[room] and level in self.levels and not self.avoid & complaints

    def work_seconds(self, amount: int) -> float:
        """Seconds that a set of ``amount`` (repetitions, seconds or metres, each side) lasts."""
        return amount * self.seconds * (2 if self.a_side else 1)


@dataclasses.dataclass(frozen=True)
class Library:
    """Exercises by key, ours and the coach's own."""

    exercises: tuple[Exercise, ...]

    @cached_property
    def by_key(self) -> Mapping[str, Exercise]:
        return MappingProxyType({each.key: each for each in self.exercises})

    @cached_property
    def by_name(self) -> Mapping[str, Exercise]:
        return MappingProxyType({each.name.casefold(): each for each in self.exercises})

    @cached_property
    def by_pattern(self) -> Mapping[Pattern | None, tuple[Exercise, ...]]:
        """What trains each pattern; under None all that trains none of the five."""
        patterns: tuple[Pattern | None, ...] = (None, *Pattern)
        return MappingProxyType(
            {p: tuple(each for each in self.exercises if each.pattern is p) for p in patterns}
        )

    def __iter__(self) -> Iterator[Exercise]:
        return iter(self.exercises)

    def __len__(self) -> int:
        return len(self.exercises)

    def and_own(self, own: Iterable[Exercise]) -> "Library":
        """With a coach's own exercises, which are used before ours and replace ours of the same key."""
        added = tuple(dataclasses.replace(each, own=True) for each in own)
        keys = {each.key for each in added}
        return Library(added + tuple(each for each in self.exercises if each.key not in keys))

    def scale(self, pattern: Pattern, room: Room) -> tuple[Exercise, ...]:
        """What trains a pattern in a room, from the easiest regression to the hardest progression."""
        there = [each for each in self.exercises if each.pattern is pattern and each.room in ROOM_HAS[room]]
        return tuple(sorted(there, key=lambda each: (each.step, each.key)))


FILES = ("squat", "hinge", "push", "pull", "rotation", "carry", "conditioning", "mobility")


@cache
def our_library() -> Library:
    """The library that comes with Keptword."""
    folder = files("core.programme") / "library"
    return Library(
        tuple(each for name in FILES for each in read_movements((folder / f"{name}.toml").read_text("utf-8")))
    )


def read_movements(text: str) -> list[Exercise]:
    """The exercises of one file of the library."""
    content = tomllib.loads(text)
    pattern = Pattern(content["pattern"]) if "pattern" in content else None
    use = Use(content["use"]) if "use" in content else None
    return [_exercise(key, fields, pattern, use) for key, fields in content["exercise"].items()]


# Fields of a file whose words are terms of the trade: one word, or a list of them.
_ONE: Mapping[str, type[enum.StrEnum]] = {"use": Use, "room": Room, "load": Load, "unit": Unit}
_MANY: Mapping[str, type[enum.StrEnum]] = {"levels": Level, "avoid": Place, "prepares": Pattern}


def _exercise(key: str, fields: dict[str, object], pattern: Pattern | None, use: Use | None) -> Exercise:
    """One entry of a file: words become the terms of the trade, lists become tuples and sets."""
    known: dict[str, Any] = {"use": use, **fields, "key": key, "pattern": pattern}
    for name in _ONE.keys() & known.keys():
        known[name] = _ONE[name](known[name])
    for name in _MANY.keys() & known.keys():
        known[name] = frozenset(_MANY[name](each) for each in _listed(known[name]))
    for name in ("cues", "faults"):
        known[name] = tuple(_listed(known.get(name, [])))
    return Exercise(**known)


def _listed(value: object) -> list[str]:
    return [str(each) for each in value] if isinstance(value, list) else []
