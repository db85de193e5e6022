"""Learning the population: the parameters that make what was seen most probable, given the default prior.

The log posterior is climbed by scoring: each client's own gradient by differences, their outer products for the curvature
(Berndt, Hall, Hall and Hausman 1974), and a step that is halved until it climbs. The shares of the capacities are moved by
expectation and maximisation.
"""

import datetime as dt
from collections.abc import Sequence
from typing import Final

import numpy as np

from core.adherence.evidence import Array, Evidence, evidence_of
from core.adherence.filtering import State
from core.adherence.history import Cohort, HistoryRow
from core.adherence.parameters import (
    EVEN_SHARES,
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

ROUNDS: Final = (
    24,
    32,
    48,
    80,
)  # clients a round, at most: rough steps need few, and more would hardly sharpen the last
HALF_A_YEAR: Final = 26  # weeks of a history; of shorter ones there are as many more in a round
STEP: Final = 0.15  # of differences, in spreads of the prior
LONGEST_STEP: Final = 0.8
CAPACITY_TRUST: Final = 12.0  # people that the default shares of the capacities count as
LANES: Final = 640  # clients times parameter sets that are filtered at once: more would not be faster
DAMPINGS: Final = (0.0, 0.3, 2.0, 10.0, 50.0)


def fit_population(cohort: Cohort, as_of: dt.date) -> Parameters:
    """Learn from all but each client's latest answer, so that no answer moves its own prior."""
    histories = [before_latest(rows, as_of) for rows in cohort.values()]
    told = [rows for rows in histories if rows]
    if not told:
        return natural(prior_centre())
    longer = max(1.0, HALF_A_YEAR / _mean_weeks(told))
    sizes = [round(most * longer) for most in ROUNDS]
    samples = {most: evidence_of(_sample(told, most), as_of, np.float32) for most in dict.fromkeys(sizes)}
    return climb([samples[most] for most in sizes])


def _mean_weeks(histories: Sequence[Sequence[HistoryRow]]) -> float:
    """How many weeks there are between the first row of a client and the last, on average."""
    return sum((rows[-1].monday - rows[0].monday) // WEEK + 1 for rows in histories) / len(histories)


def before_latest(rows: Sequence[HistoryRow], as_of: dt.date) -> tuple[HistoryRow, ...]:
    """What was known by ``as_of``, without the latest row that has an outcome."""
    return tuple(row for row in rows if row.date <= as_of and row.outcome is not None)[:-1]


def climb(rounds: Sequence[Evidence]) -> Parameters:
    """The parameters of the highest posterior that a few rounds reach, each on its own evidence."""
    theta, shares = outset(), EVEN_SHARES
    for evidence in rounds:
        state, _ = run(many([theta], shares, np.float32), evidence)
        shares = _shares(state)
        theta = _step(evidence, theta, shares)
    return natural(theta, shares)


def _step(evidence: Evidence, theta: Array, shares: tuple[float, ...]) -> Array:
    """One scoring step: of several dampings, the one that climbs highest, and none where none climbs."""
    slopes = _slopes(evidence, theta, shares)
    weight = 1 / prior_spread() ** 2
    gradient = slopes.sum(axis=0) - weight * (theta - prior_centre())
    curvature = slopes.T @ slopes + np.diag(weight)
    tried = [theta, *(_moved(theta, gradient, curvature, damping) for damping in DAMPINGS)]
    heights = _log_probability(evidence, tried, shares).sum(axis=1, dtype=float) + [
        _log_prior(one) for one in tried
    ]
    return tried[int(np.argmax(heights))]


def _log_probability(evidence: Evidence, thetas: Sequence[Array], shares: tuple[float, ...]) -> Array:
    """Of each client's evidence under each parameter set, (B, C); a few sets at a time."""
    size = max(1, LANES // evidence.clients)
    parts = [thetas[at : at + size] for at in range(0, len(thetas), size)]
    return np.concatenate([run(many(part, shares, np.float32), evidence)[1] for part in parts])


def _moved(theta: Array, gradient: Array, curvature: Array, damping: float) -> Array:
    """The parameters after a damped step (Marquardt 1963), none below its floor, those pressed to it left there."""
    free = (theta > prior_floor()) | (gradient > 0)
    damped = curvature + damping * np.diag(np.diag(curvature))
    step = np.zeros_like(theta)
    step[free] = np.linalg.solve(damped[np.ix_(free, free)], gradient[free])
    step *= LONGEST_STEP / max(np.abs(step).max(), LONGEST_STEP)
    return np.maximum(theta + step, prior_floor())


def _slopes(evidence: Evidence, theta: Array, shares: tuple[float, ...]) -> Array:
    """Each client's gradient of the log probability by differences, (C, parameters)."""
    steps = STEP * prior_spread()
    moved = _log_probability(evidence, [theta, *(theta + np.diag(steps))], shares).astype(float)
    slopes: Array = ((moved[1:] - moved[0]) / steps[:, None]).T
    return slopes


def _log_prior(theta: Array) -> float:
    return float(-0.5 * (((theta - prior_centre()) / prior_spread()) ** 2).sum())


def _shares(state: State) -> tuple[float, ...]:
    people = np.exp(state.log_weight).sum(axis=(0, 2, 3)) + CAPACITY_TRUST * np.array(EVEN_SHARES)
    return tuple((people / people.sum()).tolist())


def _sample(histories: list[tuple[HistoryRow, ...]], most: int) -> list[tuple[HistoryRow, ...]]:
    """Evenly spread over the cohort, at most so many."""
    if len(histories) <= most:
        return histories
    return [histories[at] for at in np.linspace(0, len(histories) - 1, most).round().astype(int)]
