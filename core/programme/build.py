"""Building a session: the best that fits the block, the room, the minutes and the person."""

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import replace

from core.errors import Refused
from core.programme.candidates import candidates, forbidden
from core.programme.choices import Choice, Closing, Taken
from core.programme.closings import accessory_slots, carry_slot, conditioning_slots, easing_slot
from core.programme.explain import cautions_for, left_out_of, why_of
from core.programme.finish import finish_for
from core.programme.movements import Exercise, Library, Unit, Use
from core.programme.optimum import Optimum, Slot, best_of
from core.programme.session import LONGEST, SHORTEST, Planned, Session, SessionRequest
from core.programme.slots import (
    Ready,
    alone_slot,
    circuits,
    main_pattern,
    pair_slot,
    ready_for,
    trained_by,
    ways_to_pair,
)
from core.programme.warm_up import warm_up_for, warm_up_seconds
from core.programme.weights import weight_for
from core.terms import Block, Pattern

Slots = list[Slot[Choice]]
BEFORE_KIN = 2  # aims that count for more than that no two exercises are kin


def build_session(request: SessionRequest, library: Library) -> Session:
    """The session for a request: exact, the same for the same request. Raises ``Refused`` where none can be built."""
    _check(request, library)
    return _assemble(best_choice(request, library, time_for_work(request, library)), request, library)


def time_for_work(request: SessionRequest, library: Library) -> int:
    """The seconds that the warm-up leaves; after short nights no more than would be used without them."""
    seconds = request.minutes * 60 - warm_up_seconds(request.minutes)
    if not request.short_sleep:
        return seconds
    rested = best_choice(replace(request, short_sleep=False), library, seconds)
    return sum(option.seconds for option in rested.chosen)


def best_choice(request: SessionRequest, library: Library, seconds: int) -> Optimum[Choice]:
    """The best choice in which no two exercises are kin; kin are only let meet where a pattern or its useful dose would suffer.

    Where the best of all has two kin, one of them must make way: the best without the one, or without the other, whichever
    gives more, and so on. So it is still exact.
    """
    best = best_of(*possibilities(request, library), seconds)
    pair = two_kin(best)
    if pair is None:
        return best
    ways = [
        best_choice(replace(request, without=request.without | like(one, library)), library, seconds)
        for one in pair
    ]
    instead = max(ways, key=lambda way: way.aims)
    return instead if instead.aims[:BEFORE_KIN] >= best.aims[:BEFORE_KIN] else best


def two_kin(best: Optimum[Choice]) -> tuple[Exercise, Exercise] | None:
    """The first two of the chosen exercises that are kin."""
    chosen = [each.exercise for option in best.chosen for each in option.what]
    kindred = [each for each in chosen if each is not None and each.kin]
    return next(
        ((one, other) for one, other in itertools.combinations(kindred, 2) if one.kin == other.kin), None
    )


def like(exercise: Exercise, library: Library) -> frozenset[str]:
    """The exercises of one kin that would stand in the same place."""
    small = {Use.ACCESSORY, Use.CARRY, Use.CONDITIONING}
    place = exercise.use if exercise.use in small else None
    return frozenset(
        each.key
        for each in library
        if each.kin == exercise.kin
        and each.pattern is exercise.pattern
        and (each.use if each.use in small else None) is place
    )


def possibilities(request: SessionRequest, library: Library) -> tuple[Slots, list[Slots]]:
    """All that the session could be: the places that every structure has, and for each structure its own."""
    after: Slots = [*conditioning_slots(request, library), easing_slot(request)]
    if request.block is Block.POWER_ENDURANCE:
        return after, circuits(request, library)
    main = main_pattern(request, library)
    lead = alone_slot(ready_for(request, library, main, main=True), request, main=True)
    shared = [*after, carry_slot(request, library), *accessory_slots(request, library), lead]
    ready = {
        pattern: ready_for(request, library, pattern) for pattern in request.patterns if pattern is not main
    }
    ways = ways_to_pair(list(ready))
    slots = {
        group: _slot(group, ready, request) for group in dict.fromkeys(group for way in ways for group in way)
    }
    return shared, [[slots[group] for group in way] for way in ways]


def _slot(
    group: tuple[Pattern, ...], ready: dict[Pattern, list[Ready]], request: SessionRequest
) -> Slot[Choice]:
    """The options for one pattern by itself, or for two that alternate."""
    first, *partner = group
    return (
        pair_slot(ready[first], ready[partner[0]], request) if partner else alone_slot(ready[first], request)
    )


def _check(request: SessionRequest, library: Library) -> None:
    if not SHORTEST <= request.minutes <= LONGEST:
        raise Refused(
            f"A session takes {SHORTEST} to {LONGEST} minutes, not {request.minutes}: "
            + (
                "with less, a walk is the better idea."
                if request.minutes < SHORTEST
                else "split it over two days."
            )
        )
    if not request.patterns:
        raise Refused("A session needs at least one movement pattern: " + ", ".join(Pattern) + ".")
    places = forbidden(request.complaints)
    if not any(candidates(request, library, pattern, main=False) for pattern in request.patterns):
        said = ", ".join(sorted(places)) or "no complaints"
        raise Refused(
            f"Nothing is left to do in the room '{request.room}' with {said}: choose another room, or rest and ask."
        )


def _assemble(best: Optimum[Choice], request: SessionRequest, library: Library) -> Session:
    """The chosen options, in the order in which they are done."""
    groups = [option.what for option in best.chosen if option.what]
    takes = _in_order(groups, request)
    closings = [each for group in groups for each in group if isinstance(each, Closing)]
    exercises = tuple(planned for group in takes for planned in _planned(group, request))
    patterns = tuple(dict.fromkeys(each.pattern for each in exercises))
    return Session(
        block=request.block,
        minutes=request.minutes,
        room=request.room,
        level=request.level,
        warm_up=warm_up_for(takes[0][0], patterns, request, library),
        exercises=exercises,
        finish=finish_for(closings, patterns, request, library),
        why=why_of(exercises, request),
        left_out=left_out_of(takes, closings, request, library),
        cautions=cautions_for(takes, request),
    )


def _in_order(groups: Iterable[Choice], request: SessionRequest) -> list[tuple[Taken, ...]]:
    """The main lift first, then what is fast, then legs before arms before trunk, small exercises last."""
    work = [tuple(each for each in group if isinstance(each, Taken)) for group in groups]
    return sorted(
        (group for group in work if group), key=lambda group: min(_rank(each, request) for each in group)
    )


def _rank(taken: Taken, request: SessionRequest) -> tuple[bool, bool, bool, int, int]:
    by_size = {Pattern.SQUAT: 0, Pattern.HINGE: 0, Pattern.PUSH: 1, Pattern.PULL: 1, Pattern.ROTATION: 2}
    pattern = trained_by(taken.exercise)
    circuit = request.block is Block.POWER_ENDURANCE
    size = 0 if circuit else by_size[pattern]
    slow = not circuit and taken.exercise.use is not Use.POWER
    return (not taken.main, taken.accessory, slow, size, request.patterns.index(pattern))


def _planned(group: Sequence[Taken], request: SessionRequest) -> list[Planned]:
    """One exercise, or two that alternate, as prescribed."""
    ordered = sorted(group, key=lambda each: _rank(each, request))
    names = [each.exercise.name for each in ordered]
    partners = [names[1], names[0]] if len(names) == 2 else [None]
    return [_prescribed(taken, partner, request) for taken, partner in zip(ordered, partners, strict=True)]


def _prescribed(taken: Taken, partner: str | None, request: SessionRequest) -> Planned:
    exercise, dose = taken.exercise, taken.dose
    circuit = request.block is Block.POWER_ENDURANCE
    unit = str(Unit.SECONDS) if circuit else str(exercise.unit)
    lighter = request.deload or request.short_sleep
    kg, note = weight_for(exercise, dose, request.lasts, request.level, lighter=lighter)
    return Planned(
        key=exercise.key,
        name=exercise.name,
        pattern=trained_by(exercise),
        sets=taken.sets,
        low=taken.amount if circuit else dose.low,
        high=taken.amount,
        unit=f"{unit} a side" if exercise.a_side else unit,
        rir=dose.rir,
        rest_s=taken.rest_s,
        work_s=taken.work_s,
        between_s=taken.between_s,
        alternates_with=partner,
        percent=dose.percent,
        kg=None if circuit else kg,
        note="" if circuit else note,
        main=taken.main,
        fast=dose.fast,
    )
