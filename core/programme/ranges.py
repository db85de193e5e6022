"""How much, how heavy, how long the rest: the published ranges for every block, and the doses that are drawn from them.

Sources, named beside each range below:

* ACSM 2009: Ratamess et al., Med Sci Sports Exerc 41(3):687-708. Novices 8-12 RM, others 1-12 RM with an emphasis on 1-6.
* ACSM 2026: position stand, Med Sci Sports Exerc, April 2026. Strength at 80 % 1RM or more, 2-3 sets an exercise;
  power at 30-70 % moved fast.
* NSCA: Haff & Triplett, Essentials of Strength Training and Conditioning, 4th ed. 2016, chapters 17 and 21.
* Iversen 2021: Sports Med 51:2079-2095. Short on time: 6-15 RM, or 15-40 repetitions close to failure.
* Caterisano 2019: Strength Cond J 41(3):1-23. After a lay-off: sets x repetitions x part of 1RM within 11-30, of which the upper
  end is kept as a cap; less is allowed, where half the sets leave one.
* Spiering 2021: J Strength Cond Res 35(5):1449-1458. One set at the same load keeps strength.
"""

import dataclasses
import enum

from core.programme.movements import Exercise, Load
from core.terms import Block, Level


class Loading(enum.IntEnum):
    """How near a room comes to the load that a block asks for."""

    LIGHT = 1  # more repetitions, close to failure
    PART = 2  # 6 to 15 repetitions, near enough
    FULL = 3  # any load that is wanted


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """The range within which a block's prescriptions stay: sets, repetitions, seconds of rest between sets, percent of 1RM."""

    sets: tuple[int, int]
    repetitions: tuple[int, int]
    rest: tuple[int, int]
    percent: tuple[int, int] | None
    source: str


PUBLISHED: dict[Block, Published] = {
    Block.HYPERTROPHY: Published(
        sets=(3, 6),
        repetitions=(6, 12),
        rest=(30, 120),
        percent=(67, 85),
        source="NSCA ch. 17; rest to 2 min: ACSM 2009",
    ),
    Block.STRENGTH: Published(
        sets=(2, 6),
        repetitions=(1, 6),
        rest=(120, 300),
        percent=(80, 100),
        source="NSCA ch. 17; load: ACSM 2026",
    ),
    Block.POWER: Published(
        sets=(3, 5),
        repetitions=(3, 6),
        rest=(120, 300),
        percent=(0, 85),
        source="NSCA ch. 17; fast at 0-70 %: ACSM",
    ),
    Block.POWER_ENDURANCE: Published(
        sets=(3, 5), repetitions=(8, 20), rest=(15, 60), percent=None, source="common practice, no source"
    ),
    Block.RETURN: Published(
        sets=(1, 3),
        repetitions=(8, 12),
        rest=(60, 120),
        percent=(50, 70),
        source="Caterisano 2019: IRV 11-30; ACSM 2009",
    ),
    Block.TAPER: Published(
        sets=(1, 3),
        repetitions=(2, 4),
        rest=(120, 300),
        percent=(85, 93),
        source="NSCA ch. 21: load kept, volume cut",
    ),
    Block.REST: Published(
        sets=(1, 2), repetitions=(8, 12), rest=(30, 60), percent=None, source="NSCA ch. 21: active rest"
    ),
}

# What the room cannot load to the block's range: Iversen 2021.
PART_REPETITIONS, LIGHT_REPETITIONS = (6, 15), (15, 40)

# NSCA's table of repetitions and percent of 1RM; 11, 13 and 14 lie between their neighbours, 15 is from memory.
PERCENT_OF_1RM = {
    1: 100,
    2: 95,
    3: 93,
    4: 90,
    5: 87,
    6: 85,
    7: 83,
    8: 80,
    9: 77,
    10: 75,
    11: 73,
    12: 70,
    13: 68,
    14: 67,
    15: 65,
}

HARD_STEP = {
    Level.BEGINNER: 3,
    Level.INTERMEDIATE: 6,
    Level.ADVANCED: 8,
}  # a bodyweight movement this far up is heavy enough


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Dose:
    """One set of one exercise in one block: how many, how many left in reserve, and the shortest and the best rest."""

    low: int
    high: int
    rir: int
    rest: int
    least_rest: int
    most_sets: int
    percent: tuple[int, int] | None = None
    fast: bool = False


def loading(exercise: Exercise, level: Level) -> Loading:
    """How near an exercise comes to any load that is wanted.

    Dumbbells and cables never come all the way, in the best gym neither: what is held in the hands or hangs on a pulley is
    not for sets of four (NSCA Essentials ch. 17, from memory: assistance exercises no heavier than an 8RM).
    """
    if exercise.load in {Load.BARBELL, Load.MACHINE, Load.BELT}:
        return Loading.FULL
    if exercise.load in {Load.DUMBBELL, Load.CABLE}:
        return Loading.PART
    return Loading.PART if exercise.step >= HARD_STEP[level] else Loading.LIGHT


def percent_of_1rm(repetitions: int) -> int:
    """The percent of 1RM with which so many repetitions can just be done (NSCA); below 15 repetitions it says no more."""
    return PERCENT_OF_1RM[min(max(repetitions, 1), 15)]
