"""The list of a client's lifts: each with its last result, what comes next, and an estimate of 1RM where there can be one."""

import dataclasses
import datetime as dt
from collections.abc import Iterable, Mapping, Sequence

from core.programme.movements import Exercise, Library
from core.programme.progression import Next, estimated_1rm, next_step
from core.programme.results import LiftResult
from core.terms import Level


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lift of one client. ``estimate``: 1RM in kg by the lower and by the higher equation."""

    exercise: Exercise
    last: LiftResult
    next: Next
    estimate: tuple[float, float] | None


def lifts_of(results: Sequence[LiftResult], library: Library, level: Level) -> tuple[Lift, ...]:
    """Every lift that has results (the oldest first), those done last coming first."""
    lifts = []
    for key, history in _by_lift(results).items():
        exercise = library.by_key.get(key)
        coming = next_step(history, exercise, level) if exercise else None
        if exercise and coming:
            lifts.append(
                Lift(
                    exercise=exercise,
                    last=history[-1],
                    next=coming,
                    estimate=estimated_1rm(history[-1], exercise.load),
                )
            )
    return tuple(sorted(lifts, key=lambda lift: lift.last.on or dt.date.min, reverse=True))


def _by_lift(results: Iterable[LiftResult]) -> Mapping[str, list[LiftResult]]:
    found: dict[str, list[LiftResult]] = {}
    for each in results:
        found.setdefault(each.exercise, []).append(each)
    return found


def lift_words(lift: Lift) -> str:
    """'Back squat: 4 Mar, 80 kg 8 8 7; next 80 kg, until every set reaches 8; 1RM about 97 to 101 kg'."""
    said = f"{lift.exercise.name}: {result_words(lift.last)}; next {_next_words(lift.next)}"
    if lift.estimate is None:
        return said
    low, high = (round(kg) for kg in lift.estimate)
    return said + f"; 1RM about {low} kg" if low == high else said + f"; 1RM about {low} to {high} kg"


def result_words(result: LiftResult) -> str:
    parts = [
        f"{result.on:%-d %b}," if result.on else "",
        f"{result.kg:g} kg" if result.kg is not None else "",
        " ".join(str(each) for each in result.sets),
        str(result.feel) if result.feel else "",
    ]
    return " ".join(part for part in parts if part)


def _next_words(coming: Next) -> str:
    weight = f"{coming.kg:g} kg" if coming.kg is not None else str(coming.step)
    return f"{weight} ({coming.why})"
