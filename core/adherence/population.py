"""Learning the population: the parameters that make what was seen most probable, given the default prior.

The log posterior is climbed by scoring: each client's own gradient by differences, their outer products for the curvature
(Berndt, Hall, Hall and Hausman 1974), and a step as damped as climbs highest (Marquardt 1963). The shares of the kinds of
people are brought to their most probable by expectation and maximisation.
"""

import datetime as dt
from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.adherence.evidence import Array, Evidence, evidence_of
from core.adherence.history import Cohort, HistoryRow
from core.adherence.parameters import (
    EVEN_SHARES,
    NAMES,
    Parameters,
    many,
    natural,
    outset,
    prior_centre,
    prior_floor,
    prior_spread,
)
from core.adherence.weekly import run
from core.adherence.weeks import WEEK

Chosen = NDArray[np.bool_]  # (parameters,)

ROUNDS: Final = (32, 32, 32, 32, 64)
"""Clients a round, at most: a few carry the climb most of the way, and more sharpen its last steps."""
LAST_ROUND: Final = 160
"""Clients of the last round, which moves only ``LEADING``, so that it can afford to hear many."""
_LED_BY = (
    "level",
    "level_sd",
    "mood_sd",
    "week_sd",
    "jump",
    "away",
    "away_sd",
    "overload",
    "crowding",
    "wear",
    "after_miss",
)
LEADING: Final = np.isin(NAMES, _LED_BY)
"""Which parameters the odds of most clients hang on."""
ALL: Final = np.ones_like(LEADING)
HALF_A_YEAR: Final = 26  # weeks of a history; of shorter ones there are as many more in a round
STEP: Final = 0.15  # of differences, in spreads of the prior
LONGEST_STEP: Final = 1.2  # of any parameter, in spreads of the prior
SHARINGS: Final = 100  # steps of expectation and maximisation, each a few sums
KINDS_TRUST: Final = 6.0  # people that the default shares of the kinds count as
LANES: Final = 1280  # clients times parameter sets that are filtered at once: more would not be faster
DAMPING: Final = 0.5  # of the first step; what suited one is where the next one sets out from
DAMPINGS: Final = (0.2, 1.0, 6.0, 36.0)  # tried at once, as multiples


def fit_population(cohort: Cohort, as_of: dt.date) -> Parameters:
    """Learn from all but each client's latest answer, so that no answer moves its own prior."""
    histories = [before_latest(rows, as_of) for rows in cohort.values()]
    told = [rows for rows in histories if rows]
    if not told:
        return natural(prior_centre())
    longer = max(1.0, HALF_A_YEAR / _mean_weeks(told))
    sizes = [round(most * longer) for most in (*ROUNDS, LAST_ROUND)]
    samples = {most: evidence_of(_sample(told, most), as_of, np.float32) for most in dict.fromkeys(sizes)}
    *rounds, last = [samples[most] for most in sizes]
    return climb(rounds, last)


def _mean_weeks(histories: Sequence[Sequence[HistoryRow]]) -> float:
    """How many weeks there are between the first row of a client and the last, on average."""
    return sum((rows[-1].monday - rows[0].monday) // WEEK + 1 for rows in histories) / len(histories)


def before_latest(rows: Sequence[HistoryRow], as_of: dt.date) -> tuple[HistoryRow, ...]:
    """What was known by ``as_of``, without the latest row that has an outcome."""
    return tuple(row for row in rows if row.date <= as_of and row.outcome is not None)[:-1]


def climb(rounds: Sequence[Evidence], last: Evidence) -> Parameters:
    """The parameters of the highest posterior that a few rounds reach, each on its own evidence."""
    theta, shares, damping = outset(), EVEN_SHARES, DAMPING
    for evidence, moving in [*((one, ALL) for one in rounds), (last, LEADING)]:
        slopes, kinds = _slopes(evidence, theta, shares, moving)
        shares = _shares(kinds, shares)
        weight = 1 / prior_spread() ** 2
        gradient = slopes.sum(axis=0) - weight * (theta - prior_centre())
        curvature = slopes.T @ slopes + np.diag(weight)
        dampings = [damping * multiple for multiple in DAMPINGS]
        tried = [theta, *(_moved(theta, gradient, curvature, one, moving) for one in dampings)]
        heard = _filtered(evidence, tried, shares)
        heights = heard.log_probability.sum(axis=1, dtype=float) + [_log_prior(one) for one in tried]
        best = int(np.argmax(heights))  # the first of them is no step at all
        theta, damping = tried[best], [dampings[-1], *dampings][best]
        shares = _shares(heard.kinds[best], shares)
    return natural(theta, shares)


class _Heard(NamedTuple):
    """Of B parameter sets: the log probability of each client's evidence, (B, C), and of what kind they are, (B, C, K)."""

    log_probability: Array
    kinds: Array


def _filtered(evidence: Evidence, thetas: Sequence[Array], shares: tuple[float, ...]) -> _Heard:
    """Every client filtered under each parameter set; a few sets at a time."""
    size = max(1, LANES // evidence.clients)
    told, kinds = [], []
    for at in range(0, len(thetas), size):
        state, log_probability = run(many(thetas[at : at + size], shares, np.float32), evidence)
        told.append(log_probability)
        kinds.append(np.exp(state.log_weight).sum(axis=0).transpose(1, 2, 0))
    return _Heard(np.concatenate(told), np.concatenate(kinds))


def _moved(theta: Array, gradient: Array, curvature: Array, damping: float, moving: Chosen) -> Array:
    """The parameters after a damped step (Marquardt 1963), none below its floor, those pressed to it left there."""
    free = moving & ((theta > prior_floor()) | (gradient > 0))
    damped = curvature + damping * np.diag(np.diag(curvature))
    step = np.zeros_like(theta)
    step[free] = np.linalg.solve(damped[np.ix_(free, free)], gradient[free])
    longest = LONGEST_STEP * prior_spread()
    return np.maximum(theta + np.clip(step, -longest, longest), prior_floor())


def _slopes(
    evidence: Evidence, theta: Array, shares: tuple[float, ...], moving: Chosen
) -> tuple[Array, Array]:
    """Each client's gradient of the log probability by differences, and of what kind they are.

    (C, parameters), with nothing for those that do not move, and (C, K).
    """
    steps = STEP * prior_spread()
    heard = _filtered(evidence, [theta, *(theta + np.diag(steps))[moving]], shares)
    there, *moved = heard.log_probability.astype(float)
    slopes = np.zeros((evidence.clients, theta.size))
    slopes[:, moving] = ((np.array(moved) - there) / steps[moving, None]).T
    return slopes, heard.kinds[0]


def _log_prior(theta: Array) -> float:
    return float(-0.5 * (((theta - prior_centre()) / prior_spread()) ** 2).sum())


def _shares(kinds: Array, shares: tuple[float, ...]) -> tuple[float, ...]:
    """The most probable shares of the kinds, if these ``kinds`` (C, K) were found where ``shares`` were expected.

    What a client's answers say of their kind hardly depends on the shares, so that no step needs the answers again.
    """
    likelihood = kinds / np.array(shares)
    trusted = KINDS_TRUST * np.array(EVEN_SHARES)
    now = np.array(shares)
    for _ in range(SHARINGS):
        people = trusted + now * (likelihood.T @ (1 / (likelihood @ now)))
        now = people / people.sum()
    return tuple(now.tolist())


def _sample(histories: list[tuple[HistoryRow, ...]], most: int) -> list[tuple[HistoryRow, ...]]:
    """Evenly spread over the cohort, at most so many."""
    if len(histories) <= most:
        return histories
    return [histories[at] for at in np.linspace(0, len(histories) - 1, most).round().astype(int)]
