"""The forecast: what a client would keep next week, for every size of promise.

Three pure functions. ``fit`` learns the population from a cohort, ``believe`` what one client's rows say beyond it, ``odds``
the chances of the coming week. ``hear`` moves a belief by one more row, in far less time than ``believe`` takes.
``FORECAST.md`` explains all of it.
"""

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.adherence.evidence import (
    CODES,
    DONE,
    MISSED,
    SATURDAY,
    UNANSWERED,
    Array,
    evidence_of,
    log_minutes,
    sleep_above_usual,
)
from core.adherence.filtering import (
    MINUTES,
    Ask,
    Open,
    State,
    Tally,
    answer,
    beginning,
    close_week,
    engaged,
    of,
    open_of,
    open_week,
    pause,
    with_part,
)
from core.adherence.gaussians import PAIR
from core.adherence.guess import Guess, guess_after, guess_from
from core.adherence.history import LARGEST_PROMISE, Cohort, HistoryRow, monday_of
from core.adherence.joint import coming_week
from core.adherence.parameters import Parameters
from core.adherence.plan import WeekPlan
from core.adherence.population import fit_population
from core.adherence.weekly import hear_week, run_until, tally_at
from core.adherence.weeks import WEEK, known
from core.terms import Outcome

SIZES = range(1, LARGEST_PROMISE + 1)
NEARLY_NEVER = 1e-4  # no odds are given below this, nor above its complement: nobody is that sure


@dataclass(frozen=True, slots=True, kw_only=True)
class Population:
    """What the cohort teaches about somebody not yet known."""

    parameters: Parameters


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """What is believed of one client at the end of ``as_of``.

    ``state`` counts the week of ``as_of`` as ended; ``week`` is the same week before its end, None where nothing was heard in
    it, on ``eve`` before it; ``tally`` what it came to so far; ``blank`` that nothing was ever heard.
    """

    as_of: dt.date
    population: Population
    blank: bool
    eve: State
    week: Open | None
    tally: Tally
    state: State
    first_promise: Array
    guess: Guess


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """For each size of promise of the coming week, given that nothing is excused.

    ``keep[k]`` is the probability that all k are done or short if k are promised, ``expected[k]`` how many of them would be;
    ``engaged`` the probability that the client has not fallen silent. ``lighter`` is how sure the client's own data are that
    fewer minutes help. ``prefix[k - 1][j - 1]`` is the probability that the first j are done if k are promised.
    """

    keep: Mapping[int, float]
    expected: Mapping[int, float]
    engaged: float
    lighter: float = 0.5
    prefix: tuple[tuple[float, ...], ...] = ()


def fit(cohort: Cohort, as_of: dt.date) -> Population:
    """Learn the population from what was known at the end of ``as_of``."""
    return Population(parameters=fit_population(cohort, as_of))


def believe(rows: Sequence[HistoryRow], population: Population, as_of: dt.date) -> Belief:
    """What one client's rows up to ``as_of`` say, starting from the population. Rows in order of date."""
    return believe_all({"": rows}, population, as_of)[""]


def believe_all(cohort: Cohort, population: Population, as_of: dt.date) -> dict[str, Belief]:
    """The same for every client of a cohort, all at once."""
    p = population.parameters
    evidence = evidence_of(list(cohort.values()), as_of)
    begun = evidence.length > 0
    last = np.maximum(evidence.length - 1, 0)
    heard = (
        np.flatnonzero(begun & evidence.asked[last, np.arange(last.size)])
        if begun.any()
        else np.flatnonzero(begun)
    )
    idle = np.setdiff1d(np.flatnonzero(begun), heard)
    eve, _ = run_until(p, evidence, last)
    state, week = eve, None
    if idle.size:
        state = with_part(state, pause(p, of(eve, idle)), idle)
    if heard.size:
        week = hear_week(p, of(eve, heard), evidence, last[heard], heard)
        state = with_part(state, close_week(p, week, tally_at(evidence, last[heard], heard))[0], heard)
    place = {int(client): at for at, client in enumerate(heard)}
    return {
        name: Belief(
            as_of=as_of,
            population=population,
            blank=not begun[at],
            eve=of(eve, slice(at, at + 1)),
            week=None if week is None or at not in place else open_of(week, slice(place[at], place[at] + 1)),
            tally=tally_at(evidence, last[[at]], np.array([at])) if at in place else NOTHING_YET,
            state=of(state, slice(at, at + 1)),
            first_promise=evidence.first_promise[at : at + 1],
            guess=guess_from(known(rows, as_of), as_of),
        )
        for at, (name, rows) in enumerate(cohort.items())
    }


def hear(belief: Belief, row: HistoryRow) -> Belief:
    """The belief after one more row with an outcome, of its current week or a later one, in order of date.

    Raises:
        ValueError: the row is of a week that has ended; believe again instead.

    """
    current = monday_of(belief.as_of)
    if row.monday < current:
        raise ValueError(f"{row.date} is before the week of {current}: believe again from all rows")
    told = replace(_at(belief, row), as_of=max(belief.as_of, row.date), guess=guess_after(belief.guess, row))
    if row.outcome is None:
        return told
    p = belief.population.parameters
    week = told.week or open_week(p, told.eve, told.first_promise)
    if row.outcome in CODES:
        week = answer(p, week, _ask(told, belief.guess, row))
    tally = _tallied(told.tally, row.outcome)
    return replace(told, week=week, tally=tally, state=close_week(p, week, tally)[0], blank=False)


def odds(belief: Belief, plan: WeekPlan) -> Odds:
    """The chances of the first k days of ``plan``, for every k."""
    p = belief.population.parameters
    week = coming_week(p, open_week(p, belief.state, belief.first_promise), plan.days, belief.guess)
    return Odds(
        keep={k: inside(float(week.prefix[k - 1, k - 1])) for k in SIZES},
        expected={k: k * inside(float(week.expected[k - 1]) / k) for k in SIZES},
        engaged=inside(float(engaged(belief.state)[0, 0])),
        lighter=_lighter(belief),
        prefix=tuple(tuple(inside(p) for p in row) for row in week.prefix.tolist()),
    )


def inside(probability: float) -> float:
    """Never 0, never 1, never NaN."""
    if math.isnan(probability):
        raise ValueError("a probability came out as NaN")
    return min(max(probability, NEARLY_NEVER), 1 - NEARLY_NEVER)


NOTHING_YET = Tally(
    closed=np.zeros(1),
    extras=np.zeros(1),
    alive=np.zeros(1),
    done=np.zeros(1),
    told=np.zeros(1),
    untold=np.zeros(1),
)


def _at(belief: Belief, row: HistoryRow) -> Belief:
    """The belief in the week of the row, before it."""
    p = belief.population.parameters
    if belief.blank:
        first = np.array([float(row.promised or 3)])
        start = beginning(p, first)
        return replace(belief, eve=start, state=start, first_promise=first, week=None, tally=NOTHING_YET)
    weeks_on = (row.monday - monday_of(belief.as_of)) // WEEK
    if not weeks_on:
        return belief
    eve = belief.state
    for _ in range(weeks_on - 1):
        eve = pause(p, eve)
    return replace(belief, eve=eve, state=eve, week=None, tally=NOTHING_YET)


def _ask(belief: Belief, before: Guess, row: HistoryRow) -> Ask:
    slept = before.sleep if row.slept_h is None else sleep_above_usual(row.slept_h)
    code = CODES[row.outcome] if row.outcome else 0
    return Ask(
        outcome=np.array([code]),
        away=np.array([float(row.away)]),
        weekend=np.array([float(row.date.isoweekday() >= SATURDAY)]),
        minutes=np.array([log_minutes(row.minutes)]),
        sleep=np.array([slept]),
        after_miss=(belief.tally.told + belief.tally.untold > 0).astype(float),
        promised=np.array([float(row.promised)]),
        earlier=int((belief.tally.done + belief.tally.told + belief.tally.untold).item()),
    )


def _tallied(tally: Tally, outcome: Outcome) -> Tally:
    code = CODES.get(outcome)
    told, untold = tally.told + (code == MISSED), tally.untold + (code == UNANSWERED)
    done = tally.done + (code == DONE)
    return Tally(
        closed=np.where(told + untold > 0, -1.0, (done > 0) * 1.0),
        extras=tally.extras + (outcome is Outcome.EXTRA),
        alive=np.maximum(tally.alive, float(code is None)),
        done=done,
        told=told,
        untold=untold,
    )


def _lighter(belief: Belief) -> float:
    """How probable it is, by the client's own data without the population's, that longer sessions are done less."""
    p = belief.population.parameters
    mean, variance = _marginal(belief.state, MINUTES)
    precision = 1 / variance - 1 / p.minutes_sd**2
    if precision <= 1e-9:
        return 0.5
    own = (mean / variance - p.minutes / p.minutes_sd**2) / precision
    return 0.5 * math.erfc(own * math.sqrt(precision / 2))


def _marginal(state: State, at: int) -> tuple[float, float]:
    """Mean and variance of one component of the engaged belief of one client."""
    weights = np.exp(state.log_weight[0, :, 0, 0] - state.log_weight[0, :, 0, 0].max())
    weights = weights / weights.sum()
    means, variances = state.here.mean[at, :, 0, 0], state.here.cov[PAIR[at, at], :, 0, 0]
    mean = float(weights @ means)
    return mean, float(weights @ (variances + (means - mean) ** 2))
