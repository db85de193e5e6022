"""How hopeful odds were where they were chosen: the largest promise that seemed to reach the confidence.

Choosing the largest picks lucky errors, so odds may be honest on the whole and too high where a promise was chosen by them.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.adherence.scoring import Z_95

Array = NDArray[np.floating]


@dataclass(frozen=True, slots=True, kw_only=True)
class Excess:
    """``n`` forecasts: what they said on average, what share came true, and a 95 % interval of the difference.

    The weeks of one client resemble each other, so the interval counts clients, not weeks; None of fewer than two clients.
    """

    said: float
    kept: float
    n: int
    interval: tuple[float, float] | None

    @property
    def by(self) -> float:
        """By how much more was said than kept; negative where it was less."""
        return self.said - self.kept


def largest(chances: Array, confidence: float) -> int:
    """How many of the first sessions reach the confidence together; ``chances`` must not rise."""
    return int((chances >= confidence).sum())


def excess(said: Sequence[float], kept: Sequence[bool], clients: Sequence[Hashable]) -> Excess | None:
    """None where there is nothing to go by."""
    if not said:
        return None
    over = np.array(said) - np.array(kept, dtype=float)
    return Excess(
        said=float(np.mean(said)),
        kept=float(np.mean(kept)),
        n=len(said),
        interval=_interval(over, clients),
    )


def _interval(over: Array, clients: Sequence[Hashable]) -> tuple[float, float] | None:
    """Of a mean whose terms are alike within a client: by the spread of the clients' sums."""
    mean = float(over.mean())
    sums: dict[Hashable, float] = {}
    for client, one in zip(clients, over.tolist(), strict=True):
        sums[client] = sums.get(client, 0.0) + one - mean
    people = len(sums)
    if people < 2:
        return None
    variance = people / (people - 1) * sum(each * each for each in sums.values()) / over.size**2
    half = Z_95 * variance**0.5
    return mean - half, mean + half
