"""The arithmetic of one answer, against integration on a fine grid."""

from dataclasses import replace

import numpy as np
import pytest

from core.adherence.filtering import _match
from core.adherence.forecast import Population, believe, odds
from core.adherence.parameters import KINDS, natural, prior_centre
from core.adherence.plan import plan_week
from tests.core.adherence.rows import sunday, weeks

GRID = np.linspace(-9, 9, 4001)
NORMAL = np.exp(-0.5 * GRID**2) / np.exp(-0.5 * GRID**2).sum()


def on_a_grid(mean: float, variance: float, room: float, *, done: bool) -> tuple[float, float, float]:
    """Evidence, mean and variance of a Gaussian logit after an outcome."""
    logit = mean + np.sqrt(variance) * GRID
    chance = room / (1 + np.exp(-logit))
    weight = NORMAL * (chance if done else 1 - chance)
    evidence = weight.sum()
    after = weight @ logit / evidence
    return evidence, after, weight @ (logit - after) ** 2 / evidence


@pytest.mark.parametrize("done", [True, False])
@pytest.mark.parametrize("room", [1.0, 0.6])
@pytest.mark.parametrize(("mean", "variance"), [(1.2, 1.0), (3.0, 0.5), (-1.0, 2.0), (0.0, 0.05)])
def test_an_answer_moves_a_belief_as_integration_does(
    mean: float, variance: float, room: float, *, done: bool
) -> None:
    shape = (1, 1, 1, 1)
    evidence, gain, curve = _match(
        np.full(shape, mean), np.full(shape, variance), np.full(shape, room), np.array([done])
    )
    exact = on_a_grid(mean, variance, room, done=done)
    assert evidence.item() == pytest.approx(exact[0], abs=0.005)
    assert mean + variance * gain.item() == pytest.approx(exact[1], abs=0.03)
    assert variance - variance**2 * curve.item() == pytest.approx(exact[2], abs=0.03 * variance + 0.005)


def test_who_has_no_room_for_more_keeps_less_however_willing() -> None:
    """With nothing but crowding above a capacity, the odds of a promise above it are those of the will times the room."""
    has_three = [kind == (3.0, 1.0, 0.0) for kind in KINDS]
    everybody_has_three = tuple(1.0 if has else 1e-9 for has in has_three)
    willing = replace(natural(prior_centre(), everybody_has_three), level=6.0, level_sd=0.01, overload=1e-6)
    rows = weeks("ddd")
    plan = plan_week(rows, sunday(0))

    def keep(crowding: float, size: int) -> float:
        population = Population(parameters=replace(willing, crowding=crowding))
        return odds(believe(rows, population, sunday(0)), plan).keep[size]

    assert keep(1.0, 3) == pytest.approx(keep(1e-6, 3), abs=0.01)
    assert keep(1.0, 4) == pytest.approx(keep(1e-6, 4) * (3 / 4) ** 4, abs=0.01)
