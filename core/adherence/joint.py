"""The joint law of the coming week: the chance that all of the first k are done, for every size of promise.

The Gaussians of the belief are integrated over with a fixed set of quasi-random points. At each point the sessions are
independent but for an earlier miss, and a larger promise lowers every chance; so the odds cannot rise with the size of the
promise, whatever the belief.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist
from typing import Final

import numpy as np

from core.adherence.evidence import SATURDAY, Array, log_minutes, sleep_above_usual
from core.adherence.filtering import (
    AWAY,
    CAPACITY,
    DONE_WHEN_SILENT,
    LEVEL,
    MINUTES,
    MOOD,
    WEEK,
    WEEKEND,
    Open,
)
from core.adherence.gaussians import COMPONENTS, PAIR
from core.adherence.guess import Guess
from core.adherence.parameters import Parameters
from core.adherence.plan import PlannedDay

POINTS: Final = 64
PROBIT: Final = math.pi / 8  # of a normal that is as wide as a logistic (MacKay 1992)


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """``prefix[k - 1, j - 1]`` the chance that the first j are done if k are promised; ``expected[k - 1]`` how many are."""

    prefix: Array
    expected: Array


def coming_week(p: Parameters, week: Open, days: Sequence[PlannedDay], guess: Guess) -> Week:
    """Integrate over the belief of one client (an opened week, C = 1), and over where the client will be."""
    unknown = [day.away is None for day in days]
    cases = [(False, 1.0)] if not any(unknown) else [(False, 1 - guess.away), (True, guess.away)]
    weeks = [(_integrate(p, week, days, guess, away=away), weight) for away, weight in cases]
    return Week(
        prefix=np.sum([weight * one.prefix for one, weight in weeks], axis=0),
        expected=np.sum([weight * one.expected for one, weight in weeks], axis=0),
    )


def _integrate(p: Parameters, week: Open, days: Sequence[PlannedDay], guess: Guess, *, away: bool) -> Week:
    design = np.array([_features(day, away=away) for day in days])
    lasting = float(p.habit * week.marks[0, 0, 0] - p.sting * week.marks[1, 0, 0])
    logits = _logits(week, design) + lasting + p.sleep * _nights(days, guess)
    blur = 1 / np.sqrt(1 + PROBIT * p.sleep**2 * _night_variances(days, guess))
    weights = np.exp(week.log_weight[..., 0, 0])
    weights = weights / weights.sum()
    sizes = np.arange(1, len(days) + 1)
    above = np.maximum(0, sizes - CAPACITY[:, 0])[None, :, None, :, None]  # (1, K, 1, sizes, 1)
    burden = p.overload * above + p.wear * _earlier(days)
    tired = (logits[..., None, :] - burden) * blur  # (2, K, N, sizes, days)
    room = (np.minimum(1, CAPACITY[:, 0] / sizes) ** p.crowding)[None, :, None, :, None]
    chance = room * _expit(tired)
    so_far = np.cumprod(chance, axis=-1)
    silent = weights[2].sum()
    return Week(
        prefix=_average(so_far, weights) + silent * DONE_WHEN_SILENT ** sizes[None, :],
        expected=_expected(p, tired, room, chance, so_far, blur, weights) + silent * DONE_WHEN_SILENT * sizes,
    )


def _earlier(days: Sequence[PlannedDay]) -> Array:
    """How many days of a promise are before each of its days, by size, (sizes, days); more of them the larger it is."""
    date = np.array([day.date.toordinal() for day in days])
    earlier: Array = np.cumsum(date[:, None] < date, axis=0)
    return earlier


def _expected(
    p: Parameters, tired: Array, room: Array, chance: Array, so_far: Array, blur: Array, weights: Array
) -> Array:
    """How many are done, by size: each ask's chance before a first miss, and after it."""
    if not p.after_miss:
        return np.diagonal(np.cumsum(_average(chance, weights), axis=-1))
    before = np.concatenate([np.ones_like(so_far[..., :1]), so_far[..., :-1]], axis=-1)
    after = room * _expit(tired - p.after_miss * blur)
    return np.diagonal(np.cumsum(_average(before * chance + (1 - before) * after, weights), axis=-1))


def _average(values: Array, weights: Array) -> Array:
    """Over branches, capacities and points: (2, K, N, sizes, days) -> (sizes, days)."""
    mean_value: Array = np.einsum("bk,bkij->ij", weights[:2], values.mean(axis=2))
    return mean_value


def _logits(week: Open, design: Array) -> Array:
    """The days' logits at every point, (2, K, N, days)."""
    mean = np.moveaxis(week.branches.mean[..., 0, 0], 0, -1)
    cov = np.moveaxis(week.branches.cov[PAIR][..., 0, 0], (0, 1), (-2, -1))
    values, vectors = np.linalg.eigh(cov)
    root = vectors * np.sqrt(np.maximum(values, 0))[..., None, :]
    logits: Array = (mean @ design.T)[..., None, :] + points() @ np.swapaxes(design @ root, -1, -2)
    return logits


def _features(day: PlannedDay, *, away: bool) -> Array:
    row = np.zeros(COMPONENTS)
    row[[LEVEL, MOOD, WEEK]] = 1
    row[AWAY] = away if day.away is None else day.away
    row[WEEKEND] = day.date.isoweekday() >= SATURDAY
    row[MINUTES] = log_minutes(day.minutes)
    return row


def _nights(days: Sequence[PlannedDay], guess: Guess) -> Array:
    return np.array([guess.sleep if day.slept_h is None else sleep_above_usual(day.slept_h) for day in days])


def _night_variances(days: Sequence[PlannedDay], guess: Guess) -> Array:
    return np.array([guess.sleep_variance if day.slept_h is None else 0.0 for day in days])


def _expit(x: Array) -> Array:
    return 1 / (1 + np.exp(-x))


@cache
def points() -> Array:
    """Normal points (N, 6): an additive recurrence by powers of the generalised golden ratio, and its mirror image."""
    ratio = 1.5
    for _ in range(50):
        ratio = (1 + ratio) ** (1 / (COMPONENTS + 1))
    steps = (1 / ratio) ** np.arange(1, COMPONENTS + 1)
    uniform = (0.5 + np.arange(1, POINTS // 2 + 1)[:, None] * steps) % 1
    normal = np.vectorize(NormalDist().inv_cdf)(uniform)
    both = np.concatenate([normal, -normal])
    normal_points: Array = both / both.std(axis=0)
    return normal_points
