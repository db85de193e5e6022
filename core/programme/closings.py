"""What follows the lifts, and the options for it: small exercises, a carry, intervals, easy minutes."""

import itertools
from collections.abc import Iterator, Sequence

from core.programme.candidates import accessories, beside
from core.programme.choices import (
    AIMS,
    NOTHING,
    USEFUL_SETS,
    Choice,
    Closing,
    Taken,
    dose_today,
    freshness,
    on_the_grid,
)
from core.programme.movements import Exercise, Library, Use
from core.programme.optimum import Option, Slot
from core.programme.session import Emphasis, SessionRequest
from core.programme.slots import LEGS, rest_in_pair
from core.terms import Block, Pattern

# What the sets are worth in the last aim, first set first: more work is worth less and less.
ACCESSORY_SET = (42, 36, 30)
CARRY_SET = (34, 28, 22)

_WITH_ACCESSORIES = frozenset({Block.HYPERTROPHY, Block.STRENGTH, Block.POWER})
_WITH_CARRIES = frozenset({Block.HYPERTROPHY, Block.STRENGTH, Block.RETURN})
HARDEST_STEADY_STEP, MILDEST_HARD_STEP = 4, 5  # what can be kept up, talking; and what just cannot
_ENOUGH_TO_VARY = 3


def accessory_slots(request: SessionRequest, library: Library) -> list[Slot[Choice]]:
    """Small exercises for the limbs of today's patterns: upper body in one place, legs in another; pairs save time."""
    if request.block not in _WITH_ACCESSORIES or request.emphasis is Emphasis.CONDITIONING:
        return []
    halves = ((Pattern.PUSH, Pattern.PULL), (Pattern.SQUAT, Pattern.HINGE))
    return [
        [NOTHING, *_small(request, library, [p for p in half if p in request.patterns])] for half in halves
    ]


def _small(request: SessionRequest, library: Library, half: Sequence[Pattern]) -> Iterator[Option[Choice]]:
    found = [accessories(request, library, pattern) for pattern in half]
    for exercise in itertools.chain(*found):
        yield from _sets_of((exercise,), request)
    if len(found) == len(LEGS):
        for pair in itertools.product(*found):
            yield from _sets_of(pair, request)


def _sets_of(exercises: tuple[Exercise, ...], request: SessionRequest) -> Iterator[Option[Choice]]:
    doses = [dose_today(each, request) for each in exercises]
    works = [on_the_grid(each.work_seconds(dose.high)) for each, dose in zip(exercises, doses, strict=True)]
    alone = len(exercises) == 1
    rest = (
        doses[0].least_rest if alone else rest_in_pair(tuple(works), tuple(dose.least_rest for dose in doses))
    )
    most = min(dose.most_sets for dose in doses)
    for sets in range(min(USEFUL_SETS, most), most + 1):
        takes = tuple(
            Taken(
                exercise=each,
                dose=dose,
                sets=sets,
                amount=dose.high,
                work_s=work,
                rest_s=rest,
                between_s=rest if alone else 2 * rest + sum(works) - work,
                pair=0 if alone else 1,
                accessory=True,
            )
            for each, dose, work in zip(exercises, doses, works, strict=True)
        )
        worth = sum(
            sum(ACCESSORY_SET[:sets]) + 30 * freshness(each, request) + each.step for each in exercises
        )
        yield Option(sum(t.seconds for t in takes), (0,) * (AIMS - 1) + (worth,), takes)


def carry_slot(request: SessionRequest, library: Library) -> Slot[Choice]:
    if request.block not in _WITH_CARRIES or request.emphasis is Emphasis.CONDITIONING:
        return [NOTHING]
    options = [NOTHING]
    for exercise in beside(request, library, Use.CARRY):
        work = 40 if exercise.a_side else 30
        for sets in range(2, (2 if request.deload else min(3, int(4 * request.allowed_share))) + 1):
            closing = Closing(use=Use.CARRY, exercise=exercise, sets=sets, work_s=work, rest_s=60)
            worth = sum(CARRY_SET[:sets]) + 3 * freshness(exercise, request)
            options.append(Option(closing.seconds, (0,) * (AIMS - 1) + (worth,), (closing,)))
    return options


def conditioning_slots(request: SessionRequest, library: Library) -> list[Slot[Choice]]:
    """Intervals, and where the day leans towards conditioning (or the block is easy) steady minutes after them."""
    found = beside(request, library, Use.CONDITIONING)
    steady = [each for each in found if each.step <= HARDEST_STEADY_STEP]
    hard = _hard_ones(found) or found
    worth, most = _interval_worth(request)
    most = most // 2 if request.deload or request.short_sleep else most
    long_worth, longest = _steady_worth(request)
    intervals = _conditioning(hard, range(4, most + 1), worth, (20, 40), request)
    minutes = _conditioning(steady, range(4, longest + 1), long_worth, (60, 0), request)
    return [[NOTHING, *intervals], [NOTHING, *minutes]]


def _hard_ones(found: Sequence[Exercise]) -> list[Exercise]:
    """What takes the breath away; the mildest of it only where there would be too little to vary."""
    hard = [each for each in found if each.step > HARDEST_STEADY_STEP]
    harder = [each for each in hard if each.step > MILDEST_HARD_STEP]
    return harder if len(harder) >= _ENOUGH_TO_VARY else hard


def _conditioning(
    found: Sequence[Exercise],
    rounds: range,
    worth: int,
    work_and_rest: tuple[int, int],
    request: SessionRequest,
) -> Iterator[Option[Choice]]:
    """Every exercise for every number of rounds of a minute each."""
    work, rest = work_and_rest
    for exercise, count in itertools.product(found, rounds):
        if exercise.most is not None and work * count > exercise.most:
            continue
        closing = Closing(use=Use.CONDITIONING, exercise=exercise, sets=count, work_s=work, rest_s=rest)
        gained = worth * count + 4 * freshness(exercise, request) + exercise.step
        yield Option(closing.seconds, (0,) * (AIMS - 1) + (gained,), (closing,))


def _interval_worth(request: SessionRequest) -> tuple[int, int]:
    """What a round is worth, and how many are enough; none where they would blunt speed (Schumann 2022)."""
    if request.block in {Block.REST, Block.RETURN, Block.TAPER}:
        return 0, 0
    if request.emphasis is Emphasis.CONDITIONING:
        return 60, 10
    return {Block.HYPERTROPHY: (14, 8), Block.POWER_ENDURANCE: (14, 8), Block.STRENGTH: (8, 6)}.get(
        request.block, (0, 0)
    )


def _steady_worth(request: SessionRequest) -> tuple[int, int]:
    """What an easy minute is worth, and how many are enough."""
    if request.emphasis is Emphasis.CONDITIONING:
        return 24, 20
    return {Block.REST: (20, 20), Block.RETURN: (14, 10)}.get(request.block, (0, 0))


def easing_slot(request: SessionRequest) -> Slot[Choice]:
    """Easy minutes on the floor at the end, by the half minute: three are worth having, more only fill."""
    options = [NOTHING]
    most = 20 if request.block is Block.REST else 10
    for halves in range(2, most + 1):
        closing = Closing(use=Use.STRETCH, exercise=None, sets=1, work_s=30 * halves, rest_s=0)
        worth = 6 * min(halves, 6) + 2 * max(0, halves - 6)
        options.append(Option(closing.seconds, (0,) * (AIMS - 1) + (worth,), (closing,)))
    return options
