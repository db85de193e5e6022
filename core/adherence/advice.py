"""The one entry that the bot and the command line call: a cohort's rows in, advice for a client out."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from core.adherence.forecast import Belief, Odds, Population, believe, believe_all, fit, odds
from core.adherence.history import Cohort, HistoryRow
from core.adherence.plan import WeekPlan, plan_week
from core.adherence.promise import OddsAt, Recommendation, Settings, look_back, recommend
from core.adherence.weeks import open_asks, weeks_of, with_open_as
from core.adherence.why import why
from core.terms import Outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """The forecast of one client's coming week and what to promise.

    ``recommendation`` counts open asks of the current week as not done; ``if_open_done`` is the other case, None where
    nothing is open. Both are settled at once.
    """

    client: str
    as_of: dt.date
    odds: Odds
    recommendation: Recommendation
    why: str
    if_open_done: Recommendation | None


def advise(
    cohort: Cohort,
    client: str,
    as_of: dt.date,
    settings: Settings | None = None,
    population: Population | None = None,
) -> Advice:
    """Advice for one client; give the ``population`` that was fitted last where there is one.

    A client without rows starts from the population.
    """
    learnt = population or fit(cohort, as_of)
    rows = cohort.get(client, ())
    return _advise(rows, client, settings or Settings(), believe(rows, learnt, as_of))


def advise_all(
    cohort: Cohort, as_of: dt.date, settings: Mapping[str, Settings] | None = None
) -> Iterator[Advice]:
    """Advice for every client of the cohort, in its order; ``settings`` by name where they are not the usual ones."""
    for client, belief in believe_all(cohort, fit(cohort, as_of), as_of).items():
        yield _advise(cohort[client], client, (settings or {}).get(client, Settings()), belief)


def _advise(rows: Sequence[HistoryRow], client: str, settings: Settings, belief: Belief) -> Advice:
    as_of = belief.as_of
    plan = plan_week(rows, as_of, planned=settings.planned, away=settings.away)
    odds_at = _odds_at(belief, plan)
    ends = with_open_as(rows, as_of, Outcome.MISSED)
    recommendation = _recommend(ends, as_of, plan, odds_at, settings)
    return Advice(
        client=client,
        as_of=as_of,
        odds=odds_at(plan.minutes),
        recommendation=recommendation,
        why=why(recommendation, rows, as_of, plan),
        if_open_done=_if_open_done(rows, plan, settings, belief),
    )


def _if_open_done(
    rows: Sequence[HistoryRow], plan: WeekPlan, settings: Settings, belief: Belief
) -> Recommendation | None:
    if not open_asks(rows, belief.as_of):
        return None
    done = with_open_as(rows, belief.as_of, Outcome.DONE)
    sunday = plan.monday - dt.timedelta(days=1)
    heard = believe(done, belief.population, sunday)
    return _recommend(done, sunday, plan, _odds_at(heard, plan), settings)


def _recommend(
    ends: Sequence[HistoryRow], as_of: dt.date, plan: WeekPlan, odds_at: OddsAt, settings: Settings
) -> Recommendation:
    return recommend(look_back(weeks_of(ends), ends, as_of, plan.minutes), odds_at, settings)


def _odds_at(belief: Belief, plan: WeekPlan) -> OddsAt:
    return cache(lambda minutes: odds(belief, plan.with_minutes(minutes)))
