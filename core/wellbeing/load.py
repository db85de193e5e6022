"""Session load: how hard times how long, by the client's own word.

Foster et al. 2001 (J Strength Cond Res 15(1):109-115): the rating of the whole session on the ten-point scale times its minutes,
in arbitrary units (AU). It predicts no injury; it shows a coach what changed.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from core.errors import Refused

EFFORT_WORDS = {
    0: "rest",
    1: "very, very easy",
    2: "easy",
    3: "moderate",
    4: "somewhat hard",
    5: "hard",
    7: "very hard",
    10: "maximal",
}


@dataclass(frozen=True, slots=True)
class Effort:
    """One session that was done: minutes, and its rating from 0 to 10, None where it was not told."""

    minutes: int
    rating: float | None

    def __post_init__(self) -> None:
        if self.rating is not None and not 0 <= self.rating <= 10:
            raise Refused(
                f"An effort of {self.rating:g} is off the scale: it goes from 0 (rest) to 10 (maximal)."
            )
        if self.minutes < 0:
            raise Refused(f"A session of {self.minutes} minutes cannot be.")

    @property
    def load(self) -> float | None:
        """In AU; None while the effort is unknown."""
        return None if self.rating is None else self.rating * self.minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadWeek:
    """The load of a week in AU, over the sessions that were rated; ``sessions`` counts all that were done."""

    total: float
    rated: int
    sessions: int
    previous: float | None = None

    @property
    def is_whole(self) -> bool:
        """Whether every session done was rated, so that the total leaves nothing out."""
        return self.rated == self.sessions

    @property
    def change(self) -> float | None:
        """AU more (or, negative, less) than the week before; None where either week is not wholly known."""
        return None if self.previous is None or not self.is_whole else self.total - self.previous


def load_week(this: Sequence[Effort], last: Sequence[Effort] | None = None) -> LoadWeek:
    """The load of a week beside the one before; ``last`` None where that week is unknown."""
    before = None if last is None else load_week(last)
    return LoadWeek(
        total=sum(effort.load or 0 for effort in this),
        rated=sum(effort.load is not None for effort in this),
        sessions=len(this),
        previous=before.total if before and before.is_whole else None,
    )
