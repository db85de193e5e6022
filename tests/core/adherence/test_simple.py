"""The simple rules, on pasts small enough to do by hand."""

import numpy as np
import pytest

from core.adherence import simple
from tests.core.adherence.rows import weeks

PAST = simple.asked_weeks(weeks("ddd", "mm", "dm", "dsu", "e", "0:x"))


def test_weeks_without_an_answer_are_no_past() -> None:
    assert [(week.count, week.size) for week in PAST] == [(3, 3), (0, 2), (1, 2), (2, 3)]


def test_shares_of_the_last_week_the_last_four_and_the_lifetime() -> None:
    assert simple.last_week(PAST, 2) == pytest.approx([2.5 / 4, (2.5 / 4) ** 2])
    assert simple.lifetime(PAST, 1) == pytest.approx([6.5 / 11])
    assert simple.four_weeks([PAST[0], *PAST], 1) == simple.lifetime(PAST, 1)


def test_nothing_known_is_a_coin() -> None:
    for rule in (simple.last_week, simple.four_weeks, simple.lifetime, simple.moving_average):
        assert rule([], 3) == pytest.approx([0.5, 0.25, 0.125])


def test_a_moving_average_leans_to_the_latest() -> None:
    assert simple.moving_average(PAST[:1] * 5 + PAST[1:2], 1) < simple.moving_average(
        PAST[1:2] + PAST[:1] * 5, 1
    )


def test_the_beta_binomial_counts_on_a_prior() -> None:
    assert simple.beta_binomial((2, 1))(PAST[:2], 2) == pytest.approx([5 / 8, 5 / 8 * 6 / 9])


def test_the_pooled_prior_has_the_pools_mean() -> None:
    a, b = simple.pooled_prior([PAST, simple.asked_weeks(weeks("mmm", "mmm"))])
    assert a / (a + b) == pytest.approx((6 + 1) / (16 + 2))
    assert simple.pooled_prior([]) == (1.0, 1.0)


def test_the_pooled_regression_learns_who_keeps() -> None:
    steady, erratic = simple.asked_weeks(weeks(*["ddd"] * 10)), simple.asked_weeks(weeks(*["dmm", "mmd"] * 5))
    regression = simple.pooled_regression([steady, erratic] * 5)
    good, bad = (regression.chances(past, 3, 3, [False] * 3) for past in (steady, erratic))
    assert good[2] > 0.8
    assert bad[2] < 0.2
    assert (np.diff(good) <= 0).all()
    assert simple.pooled_regression([]).chances([], 2, 2, [True, False]) == pytest.approx([0.5, 0.5])
