"""The audit: what would have been said on the eve of each past week, beside what was kept, and beside simple rules.

Nothing later than the eve is used: outcomes are masked, the population is one learned at most four weeks before, or an eighth
of all weeks so far where these are many. Weeks that were lowered, or had anything excused, are left out.
"""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.adherence import simple
from core.adherence.audit_choice import Excess, excess, largest
from core.adherence.evidence import LONGEST
from core.adherence.forecast import Belief, Population, believe_all, fit, odds
from core.adherence.history import Cohort, HistoryRow, monday_of
from core.adherence.plan import PlannedDay, WeekPlan
from core.adherence.promise import USUAL_CONFIDENCE
from core.adherence.scoring import Bin, BrierParts, brier, brier_parts, calibration, log_loss
from core.adherence.weeks import WEEK, known
from core.terms import Outcome

Array = NDArray[np.floating]

OURS: Final = "forecast"
RULES: Final[Mapping[str, simple.Rule]] = {
    "last week": simple.last_week,
    "four-week mean": simple.four_weeks,
    "lifetime mean": simple.lifetime,
    "moving average": simple.moving_average,
}
REFIT_EVERY: Final = 4  # weeks
TENTHS: Final = tuple(np.linspace(0, 1, 11).tolist())
ROUNDED_TO: Final = 20  # forecasts are grouped to the nearest twentieth for the decomposition


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One client-week: its promise, which of its asks were done in order of date, and each method's odds of the first j."""

    client: str
    monday: dt.date
    promised: int
    done: tuple[bool, ...]
    said: Mapping[str, Array]

    @property
    def kept(self) -> bool:
        return all(self.done)


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    log_loss: float
    brier: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """``weeks`` judged; ``methods`` scored on the promise as agreed; calibration at that promise and for all first k asks.

    The intervals of the latter are a little narrow, for the asks of one week stand and fall together.
    ``parts`` decomposes our Brier score. ``excess`` is by how much we said more than was kept at the promise as agreed;
    ``chosen`` the same by method for the most of the week's asks, from the first, that seemed to reach ``confidence``.
    """

    weeks: int
    methods: Mapping[str, Score]
    issued: tuple[Bin, ...]
    all_sizes: tuple[Bin, ...]
    parts: BrierParts | None
    excess: Excess | None
    chosen: Mapping[str, Excess | None]
    confidence: float = USUAL_CONFIDENCE


def audit(cohort: Cohort, as_of: dt.date) -> Audit:
    """Score one-week-ahead forecasts on every week up to ``as_of``."""
    return score([week for week_of in judge(cohort, as_of) for week in week_of])


def judge(cohort: Cohort, as_of: dt.date) -> Iterator[list[Judged]]:
    """The client-weeks of one past week after another, of a very long history the last ``LONGEST``.

    Counting weeks starts with the second, there being nothing before.
    """
    told = {client: known(rows, as_of) for client, rows in cohort.items()}
    days = [row.date for rows in told.values() for row in rows]
    if not days:
        return
    last = monday_of(as_of)
    first = max(monday_of(min(days)) + WEEK, last - (LONGEST - 1) * WEEK)
    told = {client: _from(rows, first - LONGEST * WEEK) for client, rows in told.items()}
    knowledge, learnt = None, first
    for number in range((last - first) // WEEK + 1):
        monday = first + number * WEEK
        eve = monday - dt.timedelta(days=1)
        past = {client: known(rows, eve) for client, rows in told.items()}
        so_far = min((monday - monday_of(min(days))) // WEEK, LONGEST)
        if knowledge is None or (monday - learnt) // WEEK >= max(REFIT_EVERY, so_far // 8):
            knowledge, learnt = _learn(past, eve), monday
        yield _judge_week(told, past, monday, knowledge)


def _from(rows: Sequence[HistoryRow], day: dt.date) -> tuple[HistoryRow, ...]:
    return tuple(row for row in rows if row.date >= day)


def score(judged: Sequence[Judged]) -> Audit:
    """Scores and calibration of judged client-weeks."""
    if not judged:
        return Audit(weeks=0, methods={}, issued=(), all_sizes=(), parts=None, excess=None, chosen={})
    kept = np.array([week.kept for week in judged], dtype=float)
    at_promise = {name: np.array([week.said[name][-1] for week in judged]) for name in judged[0].said}
    ours = at_promise[OURS]
    every = np.concatenate([week.said[OURS] for week in judged])
    so_far = np.concatenate([np.cumprod(week.done) for week in judged]).astype(float)
    return Audit(
        weeks=len(judged),
        methods={
            name: Score(log_loss=log_loss(p, kept), brier=brier(p, kept)) for name, p in at_promise.items()
        },
        issued=calibration(ours, kept, TENTHS),
        all_sizes=calibration(every, so_far, TENTHS),
        parts=brier_parts(np.round(ours * ROUNDED_TO) / ROUNDED_TO, kept),
        excess=excess(ours.tolist(), [week.kept for week in judged], [week.client for week in judged]),
        chosen={name: chosen(judged, name, USUAL_CONFIDENCE) for name in at_promise},
    )


def chosen(judged: Sequence[Judged], method: str, confidence: float) -> Excess | None:
    """How hopeful a method was of the most asks of each week, from the first, that seemed to it to reach the confidence."""
    sizes = [(week, largest(week.said[method], confidence)) for week in judged]
    picked = [(week, size) for week, size in sizes if size]
    return excess(
        [float(week.said[method][size - 1]) for week, size in picked],
        [all(week.done[:size]) for week, size in picked],
        [week.client for week, _ in picked],
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Knowledge:
    population: Population
    rule: simple.Rule
    regression: simple.Regression


def _learn(past: Cohort, eve: dt.date) -> _Knowledge:
    pasts = [simple.asked_weeks(rows) for rows in past.values()]
    return _Knowledge(
        population=fit(past, eve),
        rule=simple.beta_binomial(simple.pooled_prior(pasts)),
        regression=simple.pooled_regression(pasts),
    )


def _judge_week(told: Cohort, past: Cohort, monday: dt.date, knowledge: _Knowledge) -> list[Judged]:
    this_week = {client: _asks_of(rows, monday) for client, rows in told.items()}
    judged = {client: past[client] for client, asks in this_week.items() if asks}
    beliefs = believe_all(judged, knowledge.population, monday - dt.timedelta(days=1))
    return [
        _judge_client(client, this_week[client], simple.asked_weeks(past[client]), belief, knowledge)
        for client, belief in beliefs.items()
    ]


def _judge_client(
    client: str, asks: Sequence[HistoryRow], past: simple.Past, belief: Belief, knowledge: _Knowledge
) -> Judged:
    n, promised = len(asks), asks[0].promised
    away = [row.away for row in asks]
    said = {OURS: _ours(belief, asks)} | {name: rule(past, n) for name, rule in RULES.items()}
    said["beta-binomial"] = knowledge.rule(past, n)
    said["pooled regression"] = knowledge.regression.chances(past, n, promised, away)
    return Judged(
        client=client,
        monday=asks[0].monday,
        promised=promised,
        done=tuple(row.outcome in simple.DONE for row in asks),
        said=said,
    )


def _ours(belief: Belief, asks: Sequence[HistoryRow]) -> Array:
    """Our odds that the first j asks of the week are done, given its promise; how they would sleep was not known."""
    days = [PlannedDay(date=row.date, minutes=row.minutes, away=row.away) for row in asks]
    filled = tuple((days * 7)[:7])
    plan = WeekPlan(monday=asks[0].monday, days=filled, minutes=days[0].minutes)
    return np.array(odds(belief, plan).prefix[asks[0].promised - 1][: len(asks)])


def _asks_of(rows: Sequence[HistoryRow], monday: dt.date) -> tuple[HistoryRow, ...]:
    """The asks of a week that is judged; none where it was lowered or anything was excused."""
    own = [row for row in rows if row.monday == monday]
    if any(row.lowered or row.outcome is Outcome.EXCUSED for row in own):
        return ()
    return tuple(row for row in own if row.outcome in simple.TOLD)
