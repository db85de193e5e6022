"""A session changed by hand: an exercise swapped for another. Shorter and longer is another request."""

import dataclasses
from collections.abc import Sequence

from core.programme.choices import dose_today, on_the_grid
from core.programme.movements import Exercise
from core.programme.session import Planned, Session, SessionRequest
from core.programme.weights import weight_for
from core.terms import Block


def swapped(session: Session, index: int, exercise: Exercise, request: SessionRequest) -> Session:
    """With another exercise in a place: its own dose, the sets that were planned there, fewer if it takes too long."""
    old = session.exercises[index]
    exercises = list(session.exercises)
    exercises[index] = _planned_as(old, exercise, request)
    for at, each in enumerate(exercises):
        if each.alternates_with == old.name and at != index:
            exercises[at] = dataclasses.replace(each, alternates_with=exercise.name)
    changed = dataclasses.replace(session, exercises=tuple(_with_time_between(exercises)))
    return _within_the_minutes(changed, index)


def _planned_as(old: Planned, exercise: Exercise, request: SessionRequest) -> Planned:
    """The new exercise with its dose, in the place and with the sets and the rest of the old one."""
    circuit = request.block is Block.POWER_ENDURANCE
    dose = dose_today(exercise, request, main=old.main)
    amount = old.high if circuit else dose.high
    kg, note = (None, "") if circuit else weight_for(exercise, dose, request.lasts, request.level)
    unit = "seconds" if circuit else str(exercise.unit)
    work = amount * (1 + exercise.a_side) if circuit else exercise.work_seconds(amount)
    return dataclasses.replace(
        old,
        key=exercise.key,
        name=exercise.name,
        low=old.low if circuit else dose.low,
        high=amount,
        unit=f"{unit} a side" if exercise.a_side else unit,
        rir=dose.rir,
        work_s=on_the_grid(work),
        percent=dose.percent,
        kg=kg,
        note=note,
        fast=dose.fast,
    )


def _with_time_between(exercises: Sequence[Planned]) -> list[Planned]:
    """With the time between two sets worked out again: one's rest, or both rests and the other's work."""
    by_name = {each.name: each for each in exercises}
    partners = [by_name.get(each.alternates_with or "") for each in exercises]
    return [
        dataclasses.replace(each, between_s=each.rest_s + (partner.work_s + partner.rest_s if partner else 0))
        for each, partner in zip(exercises, partners, strict=True)
    ]


def _within_the_minutes(session: Session, index: int) -> Session:
    """Sets are taken from the changed exercise (and its partner, which is done in turns with it) until the time holds."""
    while session.estimated_seconds > session.minutes * 60 and session.exercises[index].sets > 1:
        name = session.exercises[index].name
        shorter = [
            dataclasses.replace(each, sets=each.sets - 1)
            if name in {each.name, each.alternates_with}
            else each
            for each in session.exercises
        ]
        session = dataclasses.replace(session, exercises=tuple(shorter))
    return session
