"""The builder's optimum against two others: brute force on small instances, scipy.optimize.milp (HiGHS) on real ones."""

import itertools
import random
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from core.programme.build import possibilities
from core.programme.movements import our_library
from core.programme.optimum import Option, best_of
from core.programme.session import SessionRequest
from core.programme.warm_up import warm_up_seconds
from core.terms import Block, Level, Place, Room

Slots = Sequence[Sequence[Option[Any]]]
LIBRARY = our_library()


def by_brute_force(slots: Slots, seconds: int) -> tuple[int, ...]:
    """The lexicographically largest totals over all combinations that fit."""
    fitting = (
        tuple(sum(column) for column in zip(*(option.aims for option in chosen), strict=True))
        for chosen in itertools.product(*slots)
        if sum(option.seconds for option in chosen) <= seconds
    )
    return max(fitting)


def by_milp(slots: Slots, seconds: int) -> tuple[int, ...]:
    """One aim after another: each is maximised with all earlier ones held at their optimum."""
    options = [(index, option) for index, slot in enumerate(slots) for option in slot]
    one_each = np.zeros((len(slots), len(options)))
    for column, (row, _) in enumerate(options):
        one_each[row, column] = 1
    held = [
        LinearConstraint(one_each, 1, 1),
        LinearConstraint(np.array([[o.seconds for _, o in options]]), 0, seconds),
    ]
    totals: list[int] = []
    for aim in range(len(options[0][1].aims)):
        gain = np.array([float(option.aims[aim]) for _, option in options])
        solved = milp(-gain, integrality=np.ones(len(options)), bounds=Bounds(0, 1), constraints=held)
        assert solved.success, solved.message
        totals.append(round(-solved.fun))
        held.append(LinearConstraint(gain[np.newaxis, :], totals[-1] - 0.5, np.inf))
    return tuple(totals)


def test_brute_force_agrees_on_small_instances() -> None:
    chance = random.Random(4)
    for _ in range(150):
        slots = [
            [
                Option(0, (0, 0, 0), None),
                *(
                    Option(5 * chance.randint(1, 40), tuple(chance.randint(0, 6) for _ in range(3)), None)
                    for _ in range(chance.randint(1, 5))
                ),
            ]
            for _ in range(chance.randint(1, 5))
        ]
        seconds = 5 * chance.randint(0, 120)
        best = best_of([], [slots], seconds)
        assert best.aims == by_brute_force(slots, seconds)
        assert sum(option.seconds for option in best.chosen) <= seconds


def test_brute_force_agrees_over_structures() -> None:
    chance = random.Random(5)
    for _ in range(40):
        made = [
            [
                [
                    Option(0, (0, 0), None),
                    Option(5 * chance.randint(1, 9), (chance.randint(0, 3), chance.randint(0, 9)), None),
                ]
            ]
            for _ in range(4)
        ]
        shared, structures = made[0], made[1:]
        best = best_of(shared, structures, 60)
        assert best.aims == max(by_brute_force([*shared, *structure], 60) for structure in structures)


@pytest.mark.parametrize(
    ("block", "minutes", "room", "level", "complaints"),
    [
        (Block.STRENGTH, 60, Room.FULL_GYM, Level.INTERMEDIATE, frozenset[Place]()),
        (Block.HYPERTROPHY, 30, Room.DUMBBELLS, Level.BEGINNER, frozenset({Place.KNEE})),
        (Block.POWER, 45, Room.HOTEL_GYM, Level.ADVANCED, frozenset[Place]()),
    ],
)
def test_milp_finds_nothing_better(
    block: Block, minutes: int, room: Room, level: Level, complaints: frozenset[Place]
) -> None:
    request = SessionRequest(block=block, minutes=minutes, room=room, level=level, complaints=complaints)
    shared, structures = possibilities(request, LIBRARY)
    seconds = minutes * 60 - warm_up_seconds(minutes)
    best = best_of(shared, structures, seconds)
    likely = sorted(range(len(structures)), key=lambda index: index != best.structure)[:3]
    assert best.aims == max(by_milp([*shared, *structures[index]], seconds) for index in likely)


def test_milp_and_the_table_agree_structure_by_structure() -> None:
    request = SessionRequest(block=Block.HYPERTROPHY, minutes=20, room=Room.BANDS)
    shared, structures = possibilities(request, LIBRARY)
    seconds = 20 * 60 - warm_up_seconds(20)
    for structure in structures[::4]:
        assert best_of(shared, [structure], seconds).aims == by_milp([*shared, *structure], seconds)
