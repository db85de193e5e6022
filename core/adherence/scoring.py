"""How good probabilities were: proper scores, their decomposition, calibration with intervals."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating]

Z_95: Final = 1.959963984540054  # two-sided 95 % of a normal
SURE: Final = 1e-4  # a forecast nearer to 0 or 1 is scored as this near


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """Forecasts that said about the same: their mean, the share that came true, how many, and its 95 % interval (Wilson)."""

    said: float
    kept: float
    n: int
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BrierParts:
    """Murphy's decomposition: score = reliability - resolution + uncertainty."""

    reliability: float
    resolution: float
    uncertainty: float

    @property
    def score(self) -> float:
        return self.reliability - self.resolution + self.uncertainty

    @property
    def skill(self) -> float:
        """1 - score / uncertainty; 0 where there is nothing to be uncertain of."""
        return 1 - self.score / self.uncertainty if self.uncertainty else 0.0


def log_loss(said: Array, came_true: Array) -> float:
    """Mean negative log likelihood, in nats."""
    sure = np.clip(said, SURE, 1 - SURE)
    return float(-(came_true * np.log(sure) + (1 - came_true) * np.log1p(-sure)).mean())


def brier(said: Array, came_true: Array) -> float:
    return float(((said - came_true) ** 2).mean())


def brier_parts(said: Array, came_true: Array) -> BrierParts:
    """Decomposed over the distinct forecasts (Murphy 1973, J Appl Meteorol 12:595-600)."""
    values, group = np.unique(said, return_inverse=True)
    count = np.bincount(group)
    share = np.bincount(group, weights=came_true) / count
    base = float(came_true.mean())
    weight = count / said.size
    return BrierParts(
        reliability=float(weight @ (values - share) ** 2),
        resolution=float(weight @ (share - base) ** 2),
        uncertainty=base * (1 - base),
    )


def wilson(kept: int, n: int, z: float = Z_95) -> tuple[float, float]:
    """The score interval of a share (Wilson 1927); the whole range where there is nothing to go by.

    Raises:
        ValueError: so many of so many are no share.

    """
    if not 0 <= kept <= n:
        raise ValueError(f"{kept} of {n} is no share")
    if not n:
        return 0.0, 1.0
    share, square = kept / n, z * z
    middle = (share + square / (2 * n)) / (1 + square / n)
    half = z / (1 + square / n) * math.sqrt(share * (1 - share) / n + square / (4 * n * n))
    return max(0.0, middle - half), min(1.0, middle + half)


def calibration(said: Array, came_true: Array, edges: Sequence[float]) -> tuple[Bin, ...]:
    """Forecasts gathered between the edges; empty bins are left out."""
    place = np.clip(np.digitize(said, edges) - 1, 0, len(edges) - 2)
    return tuple(_bin(said[place == at], came_true[place == at]) for at in np.unique(place))


def calibration_error(said: Array, came_true: Array, bins: int = 10) -> float:
    """The mean distance of said and true over bins of equal count, weighted (Naeini et al. 2015)."""
    parts = np.array_split(np.argsort(said, kind="stable"), bins)
    return float(
        sum(part.size * abs(said[part].mean() - came_true[part].mean()) for part in parts if part.size)
        / said.size
    )


def _bin(said: Array, came_true: Array) -> Bin:
    kept, n = int(came_true.sum()), said.size
    low, high = wilson(kept, n)
    return Bin(said=float(said.mean()), kept=kept / n, n=n, low=low, high=high)
