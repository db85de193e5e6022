"""What is learned of a population, and what is believed of it before any data: the documented default prior.

Each parameter lives on a scale without bounds, where its prior is normal; ``natural`` brings it back.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating]

STEADY, ERRATIC, RELIABLE = 0.35, 2.5, 2.5
STAYS: Final = 0.5  # of what makes a person reliable, the share that a new life leaves them
KINDS: Final = (
    (1.0, 1.0, 0.0),
    (2.0, 1.0, 0.0),
    (3.0, 1.0, 0.0),
    (4.0, 1.0, 0.0),
    (5.0, 1.0, 0.0),
    (6.0, 1.0, 0.0),
    (7.0, 1.0, 0.0),
    (3.0, STEADY, RELIABLE),
    (7.0, STEADY, RELIABLE),
    (7.0, ERRATIC, 0.0),
)
"""The kinds of people: capacity, steadiness, reliability.

Capacity is the size of promise up to which a session's chance stays what it is; 7 is no limit within a week. Steadiness is how
much luck and mood a person has, as a share of the usual: some are erratic, some nearly the same every week. Reliability is by
how many logits their levels lie above the usual: perfect keepers do nearly all that they promise, up to their capacity. The
erratic have weeks of all or nothing.
"""


@dataclass(frozen=True, slots=True)
class Prior:
    """``centre`` on the natural scale, ``spread`` on the unbounded one (logits for shares, logarithms for sizes)."""

    centre: float
    spread: float
    scale: str  # "plain", "positive" (never below 0), "log" or "logit"


PRIORS: Final[dict[str, Prior]] = {
    # how people differ
    "level": Prior(1.2, 1.5, "plain"),  # logit of a session's chance at home, unhurried, within capacity
    "level_sd": Prior(1.0, 0.5, "log"),
    "level_by_promise": Prior(0.1, 0.3, "plain"),  # of the first promise: who is trusted with more is better
    # how a person moves
    "mood_sd": Prior(0.4, 0.6, "log"),  # slow waves around the person's own level
    "mood_memory": Prior(0.75, 1.2, "logit"),
    "week_sd": Prior(0.5, 0.6, "log"),  # some weeks are bad as a whole
    "jump": Prior(0.015, 0.8, "logit"),  # a new life, a week
    # circumstances: mean over people, and how people differ in them
    "away": Prior(-0.4, 0.5, "plain"),
    "away_sd": Prior(0.5, 0.5, "log"),
    "weekend": Prior(0.0, 0.4, "plain"),
    "weekend_sd": Prior(0.5, 0.5, "log"),
    "minutes": Prior(-0.2, 0.3, "plain"),  # for twice as long
    "minutes_sd": Prior(0.25, 0.5, "log"),
    "sleep": Prior(0.08, 0.15, "plain"),  # for an hour more
    # the promise and the week
    "overload": Prior(0.6, 0.7, "log"),  # for each session above capacity, on every session
    "crowding": Prior(0.2, 1.0, "log"),  # whatever the mood: the power of capacity / promise that is left
    "after_miss": Prior(0.1, 0.3, "positive"),  # on what is left of a week after its first miss
    "wear": Prior(0.0, 0.1, "positive"),  # for each ask before it in the week: it tires
    "habit": Prior(0.0, 0.1, "positive"),  # of a kept week, on all later ones
    "sting": Prior(0.0, 0.1, "positive"),  # of a broken one, downwards
    "habit_memory": Prior(0.9, 0.8, "logit"),  # how much of either is left a week later
    "extra": Prior(0.1, 0.15, "positive"),  # an extra lifts it
    # silence
    "lapse": Prior(0.015, 0.8, "logit"),  # a week
    "return_": Prior(0.12, 0.7, "logit"),  # a week
    "lapsed_at_first": Prior(0.02, 0.8, "logit"),
    "mute": Prior(0.25, 1.0, "logit"),  # of what is not done by the engaged, the share without an answer
    "lapsed_answers": Prior(0.06, 0.7, "logit"),
}
NAMES: Final = tuple(PRIORS)


def _to_plain(value: float) -> float:
    return float(value)  # not numpy's: it would turn float32 arrays into float64


def _logit(value: float) -> float:
    return float(np.log(value / (1 - value)))


def _log(value: float) -> float:
    return float(np.log(value))


def _expit(value: float) -> float:
    return float(1 / (1 + np.exp(-value)))


def _exp(value: float) -> float:
    return float(np.exp(value))


TO_UNBOUNDED: Final[dict[str, Callable[[float], float]]] = {
    "plain": _to_plain,
    "positive": _to_plain,
    "log": _log,
    "logit": _logit,
}
TO_NATURAL: Final[dict[str, Callable[[float], float]]] = {
    "plain": _to_plain,
    "positive": _to_plain,
    "log": _exp,
    "logit": _expit,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameters:
    """A population on the natural scale; ``shares`` are those of the kinds of people. See ``PRIORS``.

    Where several sets are filtered at once (``many``), each field but ``shares`` is an array (B, 1) instead of a number.
    """

    level: float
    level_sd: float
    level_by_promise: float
    mood_sd: float
    mood_memory: float
    week_sd: float
    jump: float
    away: float
    away_sd: float
    weekend: float
    weekend_sd: float
    minutes: float
    minutes_sd: float
    sleep: float
    overload: float
    crowding: float
    after_miss: float
    wear: float
    habit: float
    sting: float
    habit_memory: float
    extra: float
    lapse: float
    return_: float
    lapsed_at_first: float
    mute: float
    lapsed_answers: float
    shares: tuple[float, ...]

    @property
    def sets(self) -> int:
        """How many sets of parameters these are, B."""
        return int(np.size(self.level))


EVEN_SHARES: Final[tuple[float, ...]] = (0.05, 0.11, 0.17, 0.17, 0.13, 0.08, 0.09, 0.07, 0.09, 0.04)


def prior_centre() -> Array:
    return np.array([TO_UNBOUNDED[prior.scale](prior.centre) for prior in PRIORS.values()])


def outset() -> Array:
    """Where learning sets out from: the default, but with wear and marks of past weeks, which are easier given up than found."""
    theta = prior_centre()
    for name, value in {"habit": 0.1, "sting": 0.15, "wear": 0.05, "mood_sd": _log(0.25)}.items():
        theta[NAMES.index(name)] = value
    return theta


def prior_spread() -> Array:
    return np.array([prior.spread for prior in PRIORS.values()])


def prior_floor() -> Array:
    """The least that each parameter may be, on its unbounded scale."""
    return np.array([0.0 if prior.scale == "positive" else -np.inf for prior in PRIORS.values()])


def natural(unbounded: Array, shares: tuple[float, ...] = EVEN_SHARES) -> Parameters:
    values = {
        name: TO_NATURAL[PRIORS[name].scale](value) for name, value in zip(NAMES, unbounded, strict=True)
    }
    return Parameters(**values, shares=shares)


def many(unbounded: Sequence[Array], shares: tuple[float, ...], kind: type[np.floating]) -> Parameters:
    """Several sets at once: each field an array (B, 1) of this kind of number, to stand before an axis of clients."""
    sets = [natural(one, shares) for one in unbounded]
    columns: dict[str, Any] = {
        name: np.array([[getattr(one, name)] for one in sets], dtype=kind) for name in NAMES
    }
    return Parameters(**columns, shares=shares)
