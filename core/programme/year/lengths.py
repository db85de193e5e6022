"""How long the blocks of a year are, and what may follow what. All in weeks.

Common practice: hypertrophy six to eight, strength about six, power and power endurance shorter; a deload every fourth to
eighth week (Rogerson 2024: every 5.6 with a standard deviation of 2.3). Return one to four (Caterisano 2019), taper one to
three, rest one to six.
"""

import dataclasses
from types import MappingProxyType

from core.terms import Block

HARD = frozenset({Block.HYPERTROPHY, Block.STRENGTH, Block.POWER, Block.POWER_ENDURANCE})


@dataclasses.dataclass(frozen=True, slots=True)
class Length:
    """The usual range, the length that is liked best, and the least that is still worth calling by its name."""

    usual: tuple[int, int]
    best: int
    least: int


LENGTHS = MappingProxyType(
    {
        Block.HYPERTROPHY: Length((6, 8), 7, 3),
        Block.STRENGTH: Length((5, 7), 6, 3),
        Block.POWER: Length((3, 4), 4, 2),
        Block.POWER_ENDURANCE: Length((3, 4), 4, 2),
        Block.RETURN: Length((2, 4), 2, 1),
        Block.TAPER: Length((1, 3), 2, 1),
        Block.REST: Length((1, 6), 1, 1),
    }
)

FEWEST_BETWEEN_DELOADS = 3  # hard weeks: at the earliest the fourth is easier
MOST_IN_A_ROW = 7  # hard weeks: at the latest the eighth is easier
LONG_REST = 2  # weeks off, from which a return block follows

# Weeks back before loading fully: at least two (50 %, 30 %); after a long time away all four.
RETURN_AFTER = ((2, 2), (4, 3), (6, 4))

# What following another block costs: building size, then strength, then speed is free.
_H, _S, _P, _E = Block.HYPERTROPHY, Block.STRENGTH, Block.POWER, Block.POWER_ENDURANCE
FOLLOWS = MappingProxyType(
    {
        (_H, _S): 0,
        (_S, _P): 0,
        (_S, _E): 0,
        (_P, _H): 2,
        (_E, _H): 2,
        (_S, _H): 4,
        (_P, _S): 5,
        (_E, _S): 5,
        (_P, _E): 25,
        (_E, _P): 25,
        (_H, _P): 10,
        (_H, _E): 8,
        (_S, _S): 40,
        (_H, _H): 40,
        (_P, _P): 60,
        (_E, _E): 60,
    }
)

# A year or a new stretch of it begins with size, then strength.
BEGINS = MappingProxyType({_H: 0, _S: 3, _P: 12, _E: 10})


def weeks_of_return(weeks_off: int) -> int:
    """How many weeks a return block lasts after so many weeks off."""
    return next((weeks for most, weeks in reversed(RETURN_AFTER) if weeks_off >= most), 1)
