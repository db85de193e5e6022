"""The places in a session and the options for each: the main lift, and the other patterns alone or in pairs, or in a circuit."""

import dataclasses
import itertools
from collections.abc import Iterator, Sequence

from core.programme.candidates import PREFERRED_STEP, candidates
from core.programme.choices import (
    CHOSEN,
    NOTHING,
    OWN_FIRST,
    USEFUL_SETS,
    Choice,
    Taken,
    dose_today,
    freshness,
    on_the_grid,
    progress,
    useful_sets,
)
from core.programme.movements import Exercise, Library, Load, Use
from core.programme.optimum import Option, Slot
from core.programme.ranges import Dose, Loading, loading
from core.programme.session import SessionRequest
from core.terms import Block, Pattern, Place

# What the sets are worth in the last aim, first set first: more work is worth less and less.
MAIN_SET = (120, 110, 100, 90, 80)
PATTERN_SET = (110, 100, 85, 45, 25)
FULL_REST, FULL_REST_MAIN = 15, 40  # for a set that has its whole rest
SECOND_MAIN_SET = 2  # the second set of the main lift counts for three of others
ALTERNATED_HEAVY = -25  # a heavy set between which another exercise is done: only where time is short

HEAVY_BESIDE_FAST, BACK_TWICE = 20, -20

_HEAVY_BLOCKS = frozenset({Block.STRENGTH, Block.POWER, Block.TAPER})
_STATIONS = frozenset({Load.BARBELL, Load.MACHINE, Load.BELT})
LEGS = frozenset({Pattern.SQUAT, Pattern.HINGE})
_DIGIT = 24  # bits for one aim
_SHORTEST_CHANGE = 30  # seconds between two different exercises
_CIRCUIT_SECONDS, _CIRCUIT_RESTS = (20, 30, 40), (30, 15)


def trained_by(exercise: Exercise) -> Pattern:
    """The pattern of an exercise that has one."""
    if exercise.pattern is None:
        raise ValueError(exercise.key)
    return exercise.pattern


def weight_of(pattern: Pattern, request: SessionRequest) -> int:
    """Twice the weight of the next less overdue one, so that it counts more than all of those together."""
    return int(2 ** (len(request.patterns) - 1 - request.patterns.index(pattern)))


def main_pattern(request: SessionRequest, library: Library) -> Pattern:
    """The most overdue pattern that can have a main lift here: one for limbs, and no stand-in."""
    able: list[Pattern] = [
        p for p in request.patterns if p is not Pattern.ROTATION and _can_lead(request, library, p)
    ]
    limbs: list[Pattern] = [p for p in request.patterns if p is not Pattern.ROTATION]
    return (able or limbs or list(request.patterns))[0]


def _can_lead(request: SessionRequest, library: Library, pattern: Pattern) -> bool:
    return any(not each.stand_in for each in candidates(request, library, pattern, main=True))


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """An exercise that may be taken today, with all that does not depend on its sets worked out once."""

    exercise: Exercise
    dose: Dose
    work_s: int
    progress: int
    freshness: int

    def taken(self, sets: int, rest_s: int, between_s: int, *, main: bool = False, pair: int = 0) -> Taken:
        return Taken(
            exercise=self.exercise,
            dose=self.dose,
            sets=sets,
            amount=self.dose.high,
            work_s=self.work_s,
            rest_s=rest_s,
            between_s=between_s,
            main=main,
            pair=pair,
        )


def ready_for(
    request: SessionRequest, library: Library, pattern: Pattern, *, main: bool = False
) -> list[Ready]:
    """What may train a pattern today."""
    return [
        _ready(each, request, library, main=main) for each in candidates(request, library, pattern, main=main)
    ]


def _ready(exercise: Exercise, request: SessionRequest, library: Library, *, main: bool) -> Ready:
    dose = dose_today(exercise, request, main=main)
    return Ready(
        exercise=exercise,
        dose=dose,
        work_s=on_the_grid(exercise.work_seconds(dose.high)),
        progress=progress(exercise, request, library, main=main),
        freshness=_preferred_main(exercise, request) if main else freshness(exercise, request),
    )


def _preferred_main(exercise: Exercise, request: SessionRequest) -> int:
    """A main lift need not vary; what was chosen by hand, and the coach's own, come first."""
    return CHOSEN if exercise.key in request.wanted else OWN_FIRST * exercise.own


def alone_slot(ready: Sequence[Ready], request: SessionRequest, *, main: bool = False) -> Slot[Choice]:
    """Every exercise by itself, with every number of sets and with its shortest and its best rest; or nothing."""
    options = [NOTHING]
    for each in ready:
        for sets in range(1, each.dose.most_sets + 1):
            shortest = each.dose.least_rest if sets > 1 else change_of(each.dose)
            for rest in sorted({shortest, each.dose.rest}):
                taken = each.taken(sets, rest, rest, main=main)
                options.append(Option(taken.seconds, aims_of(taken, each, request), (taken,)))
    return options


def change_of(dose: Dose) -> int:
    """After a single set comes another exercise: half the rest is enough to change over."""
    return max(_SHORTEST_CHANGE, on_the_grid(dose.least_rest / 2))


def aims_of(taken: Taken, ready: Ready, request: SessionRequest) -> tuple[int, ...]:
    """What one exercise with its sets gives to each aim."""
    exercise, main = taken.exercise, taken.main
    load = int(loading(exercise, request.level)) if main else 0
    return (
        weight_of(trained_by(exercise), request),
        min(taken.sets, useful_sets(trained_by(exercise), request))
        + SECOND_MAIN_SET * (main and taken.sets >= USEFUL_SETS),
        10 * (load + CHOSEN * (exercise.key in request.wanted)) + taken.sets if main else 0,
        ready.progress,
        ready.freshness,
        _well_used(taken, request),
    )


def _well_used(taken: Taken, request: SessionRequest) -> int:
    """The last aim: sets, their rest, and a step that suits the level."""
    worth = sum((MAIN_SET if taken.main else PATTERN_SET)[: taken.sets])
    between = taken.sets if taken.sets > 1 else 0
    rest = (FULL_REST_MAIN if taken.main else FULL_REST) * between * (taken.between_s >= taken.dose.rest)
    alternated = ALTERNATED_HEAVY * taken.sets * (taken.pair > 0 and request.block in _HEAVY_BLOCKS)
    suits = 10 - abs(taken.exercise.step - PREFERRED_STEP[request.level])
    longer = taken.sets * taken.amount // 2 if request.block is Block.POWER_ENDURANCE else 0
    return max(
        0,
        worth + rest + alternated + longer + suits * (40 if taken.main else 1) + _beside_main(taken, request),
    )


def _beside_main(taken: Taken, request: SessionRequest) -> int:
    """Beside a jump or a throw something heavy; beside a heavy squat a hinge that leaves the lower back alone."""
    if taken.main:
        return 0
    full = loading(taken.exercise, request.level) is Loading.FULL
    if request.block is Block.POWER and taken.exercise.use is Use.MAIN and full:
        return HEAVY_BESIDE_FAST * taken.sets
    both_legs = taken.exercise.pattern in LEGS and request.patterns[0] in LEGS
    loads_back = Place.LOWER_BACK in taken.exercise.avoid and request.block in _HEAVY_BLOCKS
    return BACK_TWICE * taken.sets if both_legs and loads_back else 0


# --- pairs: two exercises set about, each resting while the other works ---------------------------------------------------


def pair_slot(firsts: Sequence[Ready], seconds: Sequence[Ready], request: SessionRequest) -> Slot[Choice]:
    """Two exercises alternated for the same number of sets, or nothing.

    There are thousands; of those that take equally long only the best is kept, found by its aims packed into one integer.
    """
    best: dict[int, tuple[int, _Pair]] = {}
    worths = {id(each): _worths(each, request) for each in (*firsts, *seconds)}
    for one, other in itertools.product(firsts, seconds):
        if not go_together(one.exercise, other.exercise):
            continue
        for sets in range(USEFUL_SETS, min(one.dose.most_sets, other.dose.most_sets) + 1):
            for rest in _rests_in_pair(one, other):
                cost = sets * (one.work_s + other.work_s + 2 * rest)
                full = (2 * rest + other.work_s >= one.dose.rest) + (2 * rest + one.work_s >= other.dose.rest)
                worth = worths[id(one)][sets] + worths[id(other)][sets] + FULL_REST * sets * full
                if worth > best.get(cost, (-1, None))[0]:
                    best[cost] = worth, (one, other, sets, rest)
    return [NOTHING, *(_pair_option(pair, request) for _, pair in best.values())]


_Pair = tuple[Ready, Ready, int, int]


def _worths(ready: Ready, request: SessionRequest) -> dict[int, int]:
    """For every number of alternated sets, the aims of an exercise (with less than its whole rest) as one integer."""
    sets = range(1, ready.dose.most_sets + 1)
    return {n: _packed(aims_of(ready.taken(n, 0, 0, pair=1), ready, request)) for n in sets}


def _packed(aims: Sequence[int]) -> int:
    total = 0
    for aim in aims:
        total = (total << _DIGIT) + aim
    return total


def _rests_in_pair(one: Ready, other: Ready) -> list[int]:
    """The shortest and the best rest after each set."""
    works = one.work_s, other.work_s
    least = rest_in_pair(works, (one.dose.least_rest, other.dose.least_rest))
    return sorted({least, rest_in_pair(works, (one.dose.rest, other.dose.rest))})


def _pair_option(pair: _Pair, request: SessionRequest) -> Option[Choice]:
    one, other, sets, rest = pair
    takes = (
        one.taken(sets, rest, 2 * rest + other.work_s, pair=1),
        other.taken(sets, rest, 2 * rest + one.work_s, pair=1),
    )
    gained = (aims_of(takes[0], one, request), aims_of(takes[1], other, request))
    return Option(sum(each.seconds for each in takes), tuple(map(sum, zip(*gained, strict=True))), takes)


def go_together(one: Exercise, other: Exercise) -> bool:
    """Not two for the legs, the grip or the lower back, and not two stations that others in the gym would have to leave free."""
    if (
        {one.pattern, other.pattern} == LEGS
        or (one.grip and other.grip)
        or {one.load, other.load} <= _STATIONS
    ):
        return False
    return not (Place.LOWER_BACK in one.avoid and Place.LOWER_BACK in other.avoid)


def rest_in_pair(works: tuple[int, ...], wanted: tuple[int, ...]) -> int:
    """The rest after each set with which both get at least what they want from one of their sets to the next."""
    needed = max((want - other) / 2 for want, other in zip(wanted, reversed(works), strict=True))
    return max(_SHORTEST_CHANGE, on_the_grid(needed))


def ways_to_pair(patterns: Sequence[Pattern]) -> list[tuple[tuple[Pattern, ...], ...]]:
    """Every way to set some patterns about in pairs and leave the rest alone; all alone comes first."""
    if not patterns:
        return [()]
    first, rest = patterns[0], patterns[1:]
    ways = [((first,), *way) for way in ways_to_pair(rest)]
    for other in rest:
        if {first, other} != LEGS:
            ways += [((first, other), *way) for way in ways_to_pair([p for p in rest if p is not other])]
    return ways


# --- circuits: power endurance -------------------------------------------------------------------------------------------


def circuits(request: SessionRequest, library: Library) -> list[list[Slot[Choice]]]:
    """Every circuit of this block: rounds up to what today allows, 20 to 40 seconds of work, 15 or 30 of rest.

    Each has one slot a pattern, all with the same rounds, seconds of work and rest.
    """
    ready = [
        _best_of_each_length(ready_for(request, library, pattern), request) for pattern in request.patterns
    ]
    most = max((each.dose.most_sets for some in ready for each in some), default=1)
    plans = itertools.product(range(most, 0, -1), _CIRCUIT_SECONDS, _CIRCUIT_RESTS)
    return [[[NOTHING, *_circuit_options(some, request, plan)] for some in ready] for plan in plans]


def _best_of_each_length(ready: Sequence[Ready], request: SessionRequest) -> list[Ready]:
    """In a circuit all exercises last equally long, or twice as long if they are done a side: of each only the best is of use."""
    worth = {each.exercise.key: aims_of(each.taken(1, 0, 0), each, request) for each in ready}
    best: dict[bool, Ready] = {}
    for each in ready:
        known = best.get(each.exercise.a_side)
        if known is None or worth[each.exercise.key] > worth[known.exercise.key]:
            best[each.exercise.a_side] = each
    return list(best.values())


def _circuit_options(
    ready: Sequence[Ready], request: SessionRequest, plan: tuple[int, int, int]
) -> Iterator[Option[Choice]]:
    rounds, work, rest = plan
    for each in ready:
        side = each.exercise.a_side
        amount = _CIRCUIT_SECONDS[0] if side else work
        work_s = amount * (2 if side else 1)
        taken = dataclasses.replace(each.taken(rounds, rest, rest), amount=amount, work_s=work_s)
        yield Option(taken.seconds, aims_of(taken, each, request), (taken,))
