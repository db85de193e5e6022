"""The belief of people who never move, against the mixed logit of statsmodels (variational Bayes, ``BinomialBayesMixedGLM``).

A hundred people with a normal level each and one effect of being away, three sessions a week for twelve weeks: the static
special case of the forecast. statsmodels 0.15.0 knows each person's level by a posterior mean and deviation, from which
follow the chances that are compared.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import sparse
from statsmodels.genmod.bayes_mixed_glm import BinomialBayesMixedGLM

from core.adherence.forecast import Population, believe_all, fit, odds
from core.adherence.history import HistoryRow
from core.adherence.parameters import KINDS, NAMES, natural, prior_centre
from core.adherence.plan import PlannedDay, WeekPlan
from core.terms import Outcome

PEOPLE, WEEKS, SESSIONS = 100, 12, 3
FIRST_MONDAY = dt.date(2026, 3, 2)
COMING = FIRST_MONDAY + dt.timedelta(weeks=WEEKS)
EVE = COMING - dt.timedelta(days=1)
TINY = 1e-6
NOTHING: Mapping[str, Any] = dict.fromkeys(
    NAMES, TINY
)  # every effect, every difference between people, every chance
WITHOUT_LIMIT = KINDS.index((7.0, 1.0, 0.0))


@dataclass(frozen=True)
class Sessions:
    """``level`` (people,) the truth; ``away`` (people, weeks), ``done`` (people, weeks, sessions) what was seen."""

    level: NDArray[np.floating]
    away: NDArray[np.bool_]
    done: NDArray[np.bool_]

    @property
    def cohort(self) -> dict[str, tuple[HistoryRow, ...]]:
        return {
            f"person {person}": tuple(
                HistoryRow(
                    client=f"person {person}",
                    date=FIRST_MONDAY + dt.timedelta(days=7 * week + 2 * at),  # Monday, Wednesday, Friday
                    promised=SESSIONS,
                    outcome=Outcome.DONE if self.done[person, week, at] else Outcome.MISSED,
                    minutes=45,
                    away=bool(self.away[person, week]),
                )
                for week in range(WEEKS)
                for at in range(SESSIONS)
            )
            for person in range(PEOPLE)
        }


@pytest.fixture(scope="module")
def sessions() -> Sessions:
    rng = np.random.default_rng(7)
    level = rng.normal(0.8, 1.0, PEOPLE)
    away = rng.random((PEOPLE, WEEKS)) < 0.3
    chance = 1 / (1 + np.exp(-(level[:, None] - 0.8 * away)))
    return Sessions(level, away, rng.random((PEOPLE, WEEKS, SESSIONS)) < chance[..., None])


@pytest.fixture(scope="module")
def reference(sessions: Sessions) -> Any:
    """The mixed logit, fitted by variational Bayes."""
    person = np.repeat(np.arange(PEOPLE), WEEKS * SESSIONS)
    away = np.repeat(sessions.away.ravel(), SESSIONS).astype(float)
    fixed = np.column_stack([np.ones(away.size), away])
    groups = sparse.csr_matrix((np.ones(away.size), (np.arange(away.size), person)))
    done = sessions.done.ravel().astype(float)
    model = BinomialBayesMixedGLM(done, fixed, groups, np.zeros(PEOPLE, dtype=int), vcp_p=1, fe_p=2)
    return model.fit_vb()


def referred(fitted: Any) -> NDArray[np.floating]:
    """Each person's chance of the next session, at home and away, (people, 2): the posterior integrated over a grid."""
    grid = np.linspace(-6, 6, 241)
    weight = np.exp(-0.5 * grid**2)
    weight /= weight.sum()
    level = (fitted.fe_mean[0] + fitted.vc_mean)[:, None] + fitted.vc_sd[:, None] * grid
    return np.stack(
        [1 / (1 + np.exp(-(level + away * fitted.fe_mean[1]))) @ weight for away in (0, 1)], axis=1
    )


def told(sessions: Sessions, population: Population) -> NDArray[np.floating]:
    """The same by the forecast: the first of three sessions promised for the coming week."""
    beliefs = believe_all(sessions.cohort, population, EVE)
    plans = [
        WeekPlan(monday=COMING, days=(PlannedDay(date=COMING, minutes=45, away=away),) * 7, minutes=45)
        for away in (False, True)
    ]
    return np.array(
        [[odds(belief, plan).prefix[SESSIONS - 1][0] for plan in plans] for belief in beliefs.values()]
    )


def test_with_the_same_population_each_persons_chances_are_those_of_the_reference(
    sessions: Sessions, reference: Any
) -> None:
    """Two approximations of one posterior: within a fiftieth for everybody, within two thousandths and a half on average."""
    shares = np.full(len(KINDS), TINY)
    shares[WITHOUT_LIMIT] = 1
    own = {
        "level": float(reference.fe_mean[0]),
        "level_sd": float(np.exp(reference.vcp_mean[0])),
        "away": float(reference.fe_mean[1]),
        "shares": tuple((shares / shares.sum()).tolist()),
    }
    same = replace(natural(prior_centre()), **{**NOTHING, **own})
    apart = np.abs(told(sessions, Population(parameters=same)) - referred(reference))
    assert apart.max() < 0.02
    assert apart.mean() < 0.0025


def test_with_a_population_of_its_own_learning_it_is_nearly_as_near_to_the_truth(
    sessions: Sessions, reference: Any
) -> None:
    """The forecast must allow for people who move; where they do not, that costs at most a quarter more squared error."""
    true = 1 / (1 + np.exp(-(sessions.level[:, None] - 0.8 * np.array([0, 1]))))
    ours, theirs = told(sessions, fit(sessions.cohort, EVE)), referred(reference)
    assert np.corrcoef(ours[:, 0], theirs[:, 0])[0, 1] > 0.98
    assert np.mean((ours - true) ** 2) < 1.25 * np.mean((theirs - true) ** 2)
