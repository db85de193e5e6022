"""What was done of an exercise last time."""

import dataclasses
import datetime as dt
import enum

from core.terms import Block


class Feel(enum.StrEnum):
    """How it felt, in the client's words."""

    EASY = "easy"
    RIGHT = "about right"
    HARD = "too hard"


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class LiftResult:
    """One exercise of one session as it was done: a number for every set (repetitions, seconds or metres).

    ``goal`` is the range that was prescribed then; ``kg`` None where nothing was weighed; ``led`` whether it was the main lift
    of its session, None where that is not known.
    """

    exercise: str
    sets: tuple[int, ...] = ()
    kg: float | None = None
    feel: Feel | None = None
    goal: tuple[int, int] | None = None
    block: Block | None = None
    on: dt.date | None = None
    led: bool | None = None
