"""The simple rules that the forecast is measured against: what anybody could do with a spreadsheet.

Each takes the asked weeks of a client's past and gives the chance of the first j of the coming week's asks, j = 1 ... n. All but
the Beta-binomial and the pooled regression give one chance for every session and take sessions for independent. Shares are
smoothed by half a session done and half a session missed, so that none is 0 or 1.
"""

import datetime as dt
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.adherence.history import HistoryRow
from core.terms import Outcome

Array = NDArray[np.floating]

HALF: Final = 0.5
RECENT_WEEKS: Final = 4
SMOOTHING: Final = 0.3  # of the exponentially weighted mean
RIDGE: Final = 1.0
DONE: Final = frozenset({Outcome.DONE, Outcome.SHORT})
TOLD: Final = DONE | {Outcome.MISSED, Outcome.UNANSWERED}


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedWeek:
    """The asks of a week in order of date: which were done, on which the client was away."""

    monday: dt.date
    promised: int
    done: tuple[bool, ...]
    away: tuple[bool, ...]

    @property
    def count(self) -> int:
        return sum(self.done)

    @property
    def size(self) -> int:
        return len(self.done)


Past = Sequence[AskedWeek]
Rule = Callable[[Past, int], Array]
"""From the past and the number of asks n, the chances that the first 1 ... n are all done, (n,)."""


def asked_weeks(rows: Iterable[HistoryRow]) -> list[AskedWeek]:
    """The weeks with asks that ended done, short, missed or unanswered. Rows in order of date."""
    told = (row for row in rows if row.outcome in TOLD)
    return [_week(monday, list(own)) for monday, own in groupby(told, key=lambda row: row.monday)]


def last_week(past: Past, asks: int) -> Array:
    return _independent(past[-1:], asks)


def four_weeks(past: Past, asks: int) -> Array:
    return _independent(past[-RECENT_WEEKS:], asks)


def lifetime(past: Past, asks: int) -> Array:
    return _independent(past, asks)


def moving_average(past: Past, asks: int) -> Array:
    """Exponentially weighted over weeks."""
    return _powers(_moving_share(past), asks)


def beta_binomial(pooled: tuple[float, float]) -> Rule:
    """Each client's own sessions on a prior from the pool: joint chances, not powers."""

    def rule(past: Past, asks: int) -> Array:
        a = pooled[0] + sum(week.count for week in past)
        b = pooled[1] + sum(week.size - week.count for week in past)
        steps = np.arange(asks, dtype=float)
        chances: Array = np.cumprod((a + steps) / (a + b + steps))
        return chances

    return rule


def pooled_prior(pasts: Iterable[Past]) -> tuple[float, float]:
    """A Beta prior by the moments of the clients' shares."""
    counts = [(sum(week.count for week in past), sum(week.size for week in past)) for past in pasts]
    counts = [(done, size) for done, size in counts if size]
    if not counts:
        return 1.0, 1.0
    done, size = (np.array(column, dtype=float) for column in zip(*counts, strict=True))
    mean = (done.sum() + 1) / (size.sum() + 2)
    spread = ((done / size - mean) ** 2).mean() - (mean * (1 - mean) / size).mean()
    strength = np.clip(mean * (1 - mean) / max(spread, 1e-3) - 1, 1.0, 50.0)
    return float(mean * strength), float((1 - mean) * strength)


def pooled_regression(pasts: Iterable[Past]) -> "Regression":
    """One logistic regression over all clients' past weeks, on what was known at each week's eve."""
    features, outcomes = [], []
    for past in pasts:
        for at, week in enumerate(past):
            features.append(_features(past[:at], week.size, week.promised, week.away))
            outcomes.append(np.cumprod(week.done))
    if not features:
        return Regression(np.zeros(len(FEATURES)))
    return Regression(_fit_logistic(np.concatenate(features), np.concatenate(outcomes).astype(float)))


FEATURES: Final = (
    "one",
    "asks",
    "log asks",
    "promised",
    "lifetime",
    "moving",
    "last",
    "by asks",
    "away",
    "weeks",
)


@dataclass(frozen=True, slots=True)
class Regression:
    weights: Array

    def chances(self, past: Past, asks: int, promised: int, away: Sequence[bool]) -> Array:
        """That the first 1 ... n asks of the coming week are done, (n,)."""
        raw = _expit(_features(past, asks, promised, away) @ self.weights)
        return np.minimum.accumulate(raw)


def _features(past: Past, asks: int, promised: int, away: Sequence[bool]) -> Array:
    counts = np.arange(1, asks + 1)
    one = np.ones(asks)
    life, moving = _logit(_share(past)), _logit(_moving_share(past))
    gone = np.cumsum(np.array(away[:asks], dtype=float))
    columns = [
        one,
        counts,
        np.log(counts),
        promised * one,
        life * one,
        moving * one,
        _logit(_share(past[-1:])) * one,
        (life + moving) / 2 * np.log(counts),
        gone,
        np.log1p(len(past)) * one,
    ]
    return np.stack(columns, axis=1)


def _fit_logistic(x: Array, y: Array) -> Array:
    """Iteratively reweighted least squares with a small ridge."""
    weights = np.zeros(x.shape[1])
    ridge = RIDGE * np.eye(x.shape[1])
    for _ in range(12):
        mean = _expit(x @ weights)
        slope = x.T @ (y - mean) - ridge @ weights
        curve = (x * (mean * (1 - mean))[:, None]).T @ x + ridge
        weights = weights + np.linalg.solve(curve, slope)
    return weights


def _week(monday: dt.date, rows: Sequence[HistoryRow]) -> AskedWeek:
    return AskedWeek(
        monday=monday,
        promised=rows[0].promised,
        done=tuple(row.outcome in DONE for row in rows),
        away=tuple(row.away for row in rows),
    )


def _share(past: Past) -> float:
    done, size = sum(week.count for week in past), sum(week.size for week in past)
    return (done + HALF) / (size + 2 * HALF)


def _moving_share(past: Past) -> float:
    share = HALF
    for at, week in enumerate(past):
        own = (week.count + HALF) / (week.size + 2 * HALF)
        share = own if at == 0 else share + SMOOTHING * (own - share)
    return share


def _independent(past: Past, asks: int) -> Array:
    return _powers(_share(past), asks)


def _powers(chance: float, asks: int) -> Array:
    return chance ** np.arange(1, asks + 1)


def _logit(share: float) -> float:
    return float(np.log(share / (1 - share)))


def _expit(x: Array) -> Array:
    return 1 / (1 + np.exp(-np.clip(x, -30, 30)))
