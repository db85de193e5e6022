"""Changing a built session by hand: another exercise in a place, all of it easier or harder, and still within its minutes."""

import dataclasses
from collections.abc import Iterable, Sequence
from dataclasses import replace

from core.programme.candidates import forbidden
from core.programme.choices import Taken, dose_today, on_the_grid
from core.programme.explain import why_of
from core.programme.movements import Exercise, Library, Load, Unit, Use
from core.programme.prescribe import dose_of
from core.programme.session import Planned, Session, SessionRequest
from core.programme.warm_up import warm_up_for
from core.programme.weights import weight_for
from core.programme.words import groups_of
from core.terms import Block

MOST_RIR = 5
_WHOLE = frozenset({Use.MAIN, Use.ASSIST})
_FAST = frozenset({Block.POWER, Block.POWER_ENDURANCE})


def instead_of(
    session: Session, index: int, request: SessionRequest, library: Library, *, other_kit: bool = False
) -> tuple[Exercise, ...]:
    """What may stand in a place instead, the nearest first; with ``other_kit`` nothing that needs the same kit."""
    planned = session.exercises[index]
    now = library.by_key.get(planned.key)
    taken = {each.key for each in session.exercises}
    small = now is not None and now.use is Use.ACCESSORY
    uses = (
        frozenset({Use.ACCESSORY}) if small else _WHOLE | ({Use.POWER} if request.block in _FAST else set())
    )
    places = forbidden(request.complaints)
    fit = [
        each
        for each in library
        if each.pattern is planned.pattern
        and each.use in uses
        and each.key not in taken
        and each.fits(request.room, request.level, places)
        and not (other_kit and now is not None and _same_kit(each, now))
    ]
    step = now.step if now is not None else 5
    return tuple(
        sorted(fit, key=lambda e: (not e.own, e.stand_in, e.makeshift, abs(e.step - step), e.step, e.key))
    )


def _same_kit(one: Exercise, other: Exercise) -> bool:
    return one.load is other.load and one.load is not Load.BODY


def step_from(
    session: Session, index: int, request: SessionRequest, library: Library, *, harder: bool
) -> Exercise | None:
    """The nearest easier or harder exercise for a place; None where the scale ends here."""
    now = library.by_key.get(session.exercises[index].key)
    if now is None or now.own:
        return None
    around = instead_of(session, index, request, library)
    further = [e for e in around if not e.own and (e.step > now.step if harder else e.step < now.step)]
    return min(further, key=lambda e: (e.stand_in, e.makeshift, abs(e.step - now.step), e.key), default=None)


def exchanged(
    session: Session, index: int, exercise: Exercise, request: SessionRequest, library: Library
) -> Session:
    """The session with another exercise in one place: its own dose, the same number of sets, within the minutes."""
    old = session.exercises[index]
    new = _in_place_of(old, exercise, request)
    exercises = [
        _beside(each, old, new) if each.alternates_with == old.name else each for each in session.exercises
    ]
    exercises[index] = new
    changed = replace(session, exercises=tuple(exercises), why=why_of(exercises, request))
    if index == 0:
        main = _taken(new, exercise, request)
        changed = replace(changed, warm_up=warm_up_for(main, session.patterns, request, library))
    return fitted(changed)


def _in_place_of(old: Planned, exercise: Exercise, request: SessionRequest) -> Planned:
    kept = replace(old, key=exercise.key, name=exercise.name, kg=None, note="")
    if request.block is Block.POWER_ENDURANCE:
        amount = min(old.high, 20) if exercise.a_side else old.high
        unit = f"{Unit.SECONDS} a side" if exercise.a_side else str(Unit.SECONDS)
        return replace(
            kept, unit=unit, low=amount, high=amount, work_s=amount * (2 if exercise.a_side else 1)
        )
    dose = dose_today(exercise, request, main=old.main)
    kg, note = weight_for(
        exercise, dose, request.lasts, request.level, lighter=request.deload or request.short_sleep
    )
    return replace(
        kept,
        sets=max(1, min(old.sets, dose.most_sets)),
        low=dose.low,
        high=dose.high,
        unit=exercise.unit_words,
        rir=dose.rir,
        work_s=on_the_grid(exercise.work_seconds(dose.high)),
        percent=dose.percent,
        fast=dose.fast,
        kg=kg,
        note=note,
    )


def _beside(partner: Planned, old: Planned, new: Planned) -> Planned:
    """The exercise that alternates with one that was exchanged: another name, and another wait between its sets."""
    return replace(
        partner, alternates_with=new.name, between_s=max(0, partner.between_s + new.work_s - old.work_s)
    )


def _taken(planned: Planned, exercise: Exercise, request: SessionRequest) -> Taken:
    return Taken(
        exercise=exercise,
        dose=dose_of(exercise, request.block, request.room, request.level, main=planned.main),
        sets=planned.sets,
        amount=planned.high,
        work_s=planned.work_s,
        rest_s=planned.rest_s,
        between_s=planned.between_s,
        main=planned.main,
    )


def moved_along(session: Session, request: SessionRequest, library: Library, *, harder: bool) -> Session:
    """All of it a step easier or harder: the next exercise of each scale; where a scale ends, one repetition in reserve."""
    for index in range(len(session.exercises)):
        other = step_from(session, index, request, library, harder=harder)
        if other is not None:
            session = exchanged(session, index, other, request, library)
        else:
            session = _with_reserve(session, index, -1 if harder else 1)
    return session


def _with_reserve(session: Session, index: int, by: int) -> Session:
    planned = session.exercises[index]
    changed = replace(planned, rir=min(MOST_RIR, max(0, planned.rir + by)), percent=None)
    exercises = (*session.exercises[:index], changed, *session.exercises[index + 1 :])
    return replace(session, exercises=exercises)


def fitted(session: Session) -> Session:
    """Back within the minutes: a set less of what comes last, never of the main lift before the others; then the finish."""
    while session.estimated_seconds > session.minutes * 60:
        shorter = _a_set_less(session.exercises)
        if shorter is not None:
            session = replace(session, exercises=shorter)
        elif session.finish:
            session = replace(session, finish=session.finish[:-1])
        else:
            return session
    return session


def _a_set_less(exercises: Sequence[Planned]) -> tuple[Planned, ...] | None:
    groups = groups_of(exercises)
    able = [n for n, group in enumerate(groups) if min(each.sets for each in group) > 1]
    if not able:
        return None
    chosen = max(able, key=lambda n: (not any(e.main for e in groups[n]), groups[n][0].sets, n))
    return tuple(
        dataclasses.replace(each, sets=each.sets - 1) if number == chosen else each
        for number, each in _numbered(groups)
    )


def _numbered(groups: Sequence[Sequence[Planned]]) -> Iterable[tuple[int, Planned]]:
    return ((number, each) for number, group in enumerate(groups) for each in group)
