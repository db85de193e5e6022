"""The forecast: what a client would keep next week, for every size of promise.

Three pure functions. ``fit`` learns the population from a cohort, ``believe`` what one client's rows say beyond it, ``odds``
the chances of the coming week.
"""

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from core.adherence.history import LARGEST_PROMISE, Cohort, HistoryRow
from core.adherence.plan import WeekPlan
from core.adherence.weeks import known
from core.terms import Outcome

SIZES = range(1, LARGEST_PROMISE + 1)
NEARLY_NEVER = 1e-4  # no odds are given below this, nor above its complement: nobody is that sure


@dataclass(frozen=True, slots=True, kw_only=True)
class Population:
    """What the cohort teaches about somebody not yet known."""

    done: float
    not_done: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """What is believed of one client at the end of ``as_of``."""

    as_of: dt.date
    done: float
    not_done: float
    engaged: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """For each size of promise of the coming week, given that nothing is excused.

    ``keep[k]`` is the probability that all k are done or short if k are promised, ``expected[k]`` how many of them would be;
    ``engaged`` the probability that the client has not fallen silent. ``lighter`` is how sure the client's own data are that
    fewer minutes help.
    """

    keep: Mapping[int, float]
    expected: Mapping[int, float]
    engaged: float
    lighter: float = 0.5


def fit(cohort: Cohort, as_of: dt.date) -> Population:
    """Learn the population from what was known at the end of ``as_of``."""
    ends = [row.outcome for rows in cohort.values() for row in known(rows, as_of)]
    done, broken = _tally(ends)
    share = (done + 3) / (done + broken + 5)
    return Population(done=4 * share, not_done=4 * (1 - share))


def believe(rows: Sequence[HistoryRow], population: Population, as_of: dt.date) -> Belief:
    """What one client's rows up to ``as_of`` say, starting from the population."""
    ends = [row.outcome for row in known(rows, as_of)]
    done, broken = _tally(ends)
    silent = 0
    for outcome in reversed(ends):
        if outcome is not Outcome.UNANSWERED:
            break
        silent += 1
    return Belief(
        as_of=as_of,
        done=population.done + done,
        not_done=population.not_done + broken,
        engaged=inside(0.6**silent),
    )


def odds(belief: Belief, plan: WeekPlan) -> Odds:
    """The chances of the first k days of ``plan``, for every k."""
    keep, running = {}, 1.0
    expected = {}
    for k, _ in zip(SIZES, plan.days, strict=True):
        running *= (belief.done + k - 1) / (belief.done + belief.not_done + k - 1)
        keep[k] = inside(running * belief.engaged)
        expected[k] = k * keep[1]
    return Odds(keep=keep, expected=expected, engaged=belief.engaged)


def inside(probability: float) -> float:
    """Never 0, never 1, never NaN."""
    if math.isnan(probability):
        raise ValueError("a probability came out as NaN")
    return min(max(probability, NEARLY_NEVER), 1 - NEARLY_NEVER)


def _tally(outcomes: Sequence[Outcome | None]) -> tuple[int, int]:
    done = sum(outcome in {Outcome.DONE, Outcome.SHORT} for outcome in outcomes)
    broken = sum(outcome in {Outcome.MISSED, Outcome.UNANSWERED} for outcome in outcomes)
    return done, broken
