"""A small cohort that follows the forecast's promises: the rules of the promise hold, and most of them are kept."""

import numpy as np
import pytest

from tests.worlds.closed_loop import Run, follow, oracle, ours
from tests.worlds.laws import LAWS

CLIENTS, WEEKS = 40, 12


@pytest.fixture(scope="module")
def runs() -> list[Run]:
    return [follow(LAWS[at], ours(), seed=4, clients=CLIENTS, weeks=WEEKS) for at in (1, 2)]


def test_promises_never_leap_nor_rise_after_a_broken_week(runs: list[Run]) -> None:
    assert [run.steps_up() for run in runs] == [(1, 0)] * len(runs)


def test_who_could_keep_one_keeps_most_of_what_is_promised(runs: list[Run]) -> None:
    """The limit leaves room for five standard errors of some 500 weeks."""
    for run in runs:
        assert run.kept_share > 0.75


def test_what_is_said_of_the_promises_is_about_true(runs: list[Run]) -> None:
    for run in runs:
        assert abs(run.optimism) < 0.06


def test_who_falls_silent_is_noticed(runs: list[Run]) -> None:
    wait, alarms, lapses = runs[1].drift()
    assert lapses > 0
    assert wait <= 4
    assert alarms < 1


def test_the_oracle_says_what_is_true() -> None:
    run = follow(LAWS[0], oracle(), seed=4, clients=CLIENTS, weeks=6)
    assert abs(run.optimism) < 0.02
    assert run.steps_up() == (1, 0)
    assert np.isfinite(run.done_a_week)
