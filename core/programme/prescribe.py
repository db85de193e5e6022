"""The dose of one exercise: how many, how hard, how long the rest, in a block and at a level.

Every line of ``DOSES`` lies inside ``ranges.PUBLISHED`` or inside Iversen's ranges for what the room cannot load.
"""

import dataclasses
import enum
from types import MappingProxyType

from core.programme.movements import Exercise, Unit, Use
from core.programme.ranges import Dose, Loading, loading, percent_of_1rm
from core.terms import Block, Level, Pattern


class Part(enum.StrEnum):
    """What an exercise is in its session, as far as its dose goes."""

    MAIN = "main lift"
    FULL = "another lift with any load"
    PART = "near enough the load"
    LIGHT = "too light: more repetitions"
    TRUNK = "trunk"
    HOLD = "held for time"
    FAST = "moved fast"
    ACCESSORY = "accessory"


_H, _S, _P, _E, _R, _T, _Q = (
    Block.HYPERTROPHY,
    Block.STRENGTH,
    Block.POWER,
    Block.POWER_ENDURANCE,
    Block.RETURN,
    Block.TAPER,
    Block.REST,
)


def _dose(low: int, high: int, rir: int, rest: int, least: int, most: int) -> Dose:
    return Dose(low=low, high=high, rir=rir, rest=rest, least_rest=least, most_sets=most)


# repetitions low to high, in reserve, best rest, least rest (seconds), most sets
DOSES = MappingProxyType(
    {
        (_H, Part.MAIN): _dose(6, 10, 2, 120, 90, 5),
        (_H, Part.FULL): _dose(8, 12, 2, 90, 60, 4),
        (_H, Part.PART): _dose(8, 12, 2, 90, 60, 4),
        (_H, Part.LIGHT): _dose(15, 20, 1, 75, 45, 4),
        (_H, Part.TRUNK): _dose(8, 12, 2, 60, 45, 3),
        (_H, Part.HOLD): _dose(20, 40, 2, 60, 45, 3),
        (_H, Part.ACCESSORY): _dose(10, 12, 1, 60, 45, 3),
        (_S, Part.MAIN): _dose(4, 6, 2, 180, 120, 5),
        (_S, Part.FULL): _dose(4, 6, 2, 150, 120, 4),
        (_S, Part.PART): _dose(6, 10, 1, 120, 120, 4),
        (_S, Part.LIGHT): _dose(15, 20, 1, 120, 90, 4),
        (_S, Part.TRUNK): _dose(8, 10, 2, 90, 60, 3),
        (_S, Part.HOLD): _dose(20, 40, 2, 90, 60, 3),
        (_S, Part.ACCESSORY): _dose(8, 10, 2, 90, 60, 3),
        (_P, Part.MAIN): _dose(3, 5, 4, 180, 120, 5),
        (_P, Part.FULL): _dose(3, 5, 4, 150, 120, 4),
        (_P, Part.FAST): _dose(4, 6, 4, 120, 120, 4),
        (_P, Part.PART): _dose(4, 6, 4, 120, 120, 4),
        (_P, Part.LIGHT): _dose(6, 6, 4, 120, 120, 4),
        (_P, Part.TRUNK): _dose(6, 8, 3, 90, 60, 3),
        (_P, Part.HOLD): _dose(20, 30, 3, 90, 60, 3),
        (_P, Part.ACCESSORY): _dose(8, 10, 3, 90, 60, 2),
        (_R, Part.MAIN): _dose(8, 12, 4, 120, 90, 4),
        (_R, Part.FULL): _dose(8, 12, 4, 90, 60, 4),
        (_R, Part.PART): _dose(8, 12, 4, 90, 60, 4),
        (_R, Part.LIGHT): _dose(8, 12, 4, 75, 60, 4),
        (_R, Part.TRUNK): _dose(8, 10, 4, 60, 60, 3),
        (_R, Part.HOLD): _dose(15, 20, 4, 60, 60, 3),
        (_R, Part.ACCESSORY): _dose(10, 12, 4, 60, 60, 2),
        (_T, Part.MAIN): _dose(2, 4, 2, 180, 120, 3),
        (_T, Part.FULL): _dose(2, 4, 2, 150, 120, 2),
        (_T, Part.PART): _dose(6, 8, 3, 120, 120, 2),
        (_T, Part.LIGHT): _dose(15, 15, 4, 120, 120, 2),
        (_T, Part.TRUNK): _dose(6, 8, 3, 90, 60, 2),
        (_T, Part.HOLD): _dose(20, 30, 3, 90, 60, 2),
        (_T, Part.ACCESSORY): _dose(8, 10, 4, 90, 60, 1),
        (_Q, Part.MAIN): _dose(8, 12, 5, 60, 30, 2),
        (_Q, Part.FULL): _dose(8, 12, 5, 60, 30, 2),
        (_Q, Part.PART): _dose(8, 12, 5, 60, 30, 2),
        (_Q, Part.LIGHT): _dose(8, 12, 5, 60, 30, 2),
        (_Q, Part.TRUNK): _dose(8, 8, 5, 60, 30, 2),
        (_Q, Part.HOLD): _dose(15, 20, 5, 60, 30, 2),
        (_Q, Part.ACCESSORY): _dose(8, 10, 5, 60, 30, 1),
        (_E, Part.FAST): _dose(20, 40, 4, 30, 15, 5),
    }
)

SETS_OF_A_BEGINNER = 3  # ACSM: one to three sets for novices
LEAST_RIR_OF_A_BEGINNER = (
    2  # common practice; only what is too light goes closer to the limit, or it would do nothing
)

_LIFTED_FAST = frozenset({Part.MAIN, Part.FULL, Part.PART, Part.LIGHT})

# A beginner stays a repetition further from the limit; somebody advanced works at the heavy end of the strength range.
_STRENGTH_AT = {Level.BEGINNER: (4, 5, 3), Level.INTERMEDIATE: (4, 6, 2), Level.ADVANCED: (3, 5, 2)}


def part_of(exercise: Exercise, block: Block, level: Level, *, main: bool) -> Part:
    """What an exercise is in a session of this block."""
    if block is Block.POWER_ENDURANCE or (exercise.use is Use.POWER and block is Block.POWER):
        return Part.FAST
    if exercise.unit is Unit.SECONDS:
        return Part.HOLD
    if exercise.use is Use.ACCESSORY:
        return Part.ACCESSORY
    if exercise.pattern is Pattern.ROTATION:
        return Part.TRUNK
    near = loading(exercise, level)
    if near is Loading.FULL:
        return Part.MAIN if main else Part.FULL
    return Part.PART if near is Loading.PART else Part.LIGHT


def dose_of(exercise: Exercise, block: Block, level: Level, *, main: bool = False) -> Dose:
    """The usual dose, before short sleep, a deload or a return takes from it."""
    part = part_of(exercise, block, level, main=main)
    dose = DOSES[block, part]
    if block is Block.STRENGTH and part in {Part.MAIN, Part.FULL}:
        low, high, rir = _STRENGTH_AT[level]
        dose = dataclasses.replace(dose, low=low, high=high, rir=rir)
    if main and part is not Part.MAIN:
        most = DOSES.get((block, Part.MAIN), dose).most_sets
        dose = dataclasses.replace(dose, most_sets=max(dose.most_sets, most if part is Part.FAST else 0))
    if exercise.unit is Unit.SECONDS and exercise.a_side:
        dose = dataclasses.replace(dose, high=min(dose.high, 30))
    if level is Level.BEGINNER and block is not Block.POWER_ENDURANCE:
        rir = dose.rir if part is Part.LIGHT else max(dose.rir, LEAST_RIR_OF_A_BEGINNER)
        dose = dataclasses.replace(dose, most_sets=min(dose.most_sets, SETS_OF_A_BEGINNER), rir=rir)
    fast = part is Part.FAST or (block is Block.POWER and part in _LIFTED_FAST)
    dose = _within_reach(dose, exercise)
    return dataclasses.replace(dose, fast=fast, percent=_percent(part, dose))


def _within_reach(dose: Dose, exercise: Exercise) -> Dose:
    """Nobody does twelve of the hardest movements: a few fewer, over a range of three."""
    if exercise.most is None or dose.high <= exercise.most:
        return dose
    return dataclasses.replace(dose, high=exercise.most, low=min(dose.low, exercise.most - 2))


def _percent(part: Part, dose: Dose) -> tuple[int, int] | None:
    """The percent of 1RM that the repetitions and those in reserve amount to; only where the load can be set so finely."""
    if part not in {Part.MAIN, Part.FULL}:
        return None
    return percent_of_1rm(dose.high + dose.rir), percent_of_1rm(dose.low + dose.rir)
