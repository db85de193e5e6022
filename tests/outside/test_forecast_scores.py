"""What the forecast is scored with, and the simple rules beside it, against published and reference values."""

import datetime as dt

import numpy as np
import pytest
from scipy.stats import betabinom

from core.adherence.scoring import brier, brier_parts, log_loss
from core.adherence.simple import AskedWeek, beta_binomial


def week(*done: bool) -> AskedWeek:
    return AskedWeek(monday=dt.date(2026, 11, 2), promised=len(done), done=done, away=(False,) * len(done))


@pytest.mark.parametrize("prior", [(2.0, 2.0), (0.5, 0.5), (4.58398, 1.05113)])
def test_the_beta_binomial_rule_is_scipys(prior: tuple[float, float]) -> None:
    """scipy.stats.betabinom: the chance that all k of k sessions are done, after six of seven were."""
    past = [week(True, True, True), week(True, True, False, True)]
    chances = beta_binomial(prior)(past, 5)
    expected = [betabinom.pmf(k, k, prior[0] + 6, prior[1] + 1) for k in range(1, 6)]
    assert chances == pytest.approx(expected, rel=1e-12)


def test_log_loss_and_brier_of_three_forecasts() -> None:
    """Computed with scikit-learn 1.9.1: y 1, 0, 1 and p .9, .2, .6."""
    said, true = np.array([0.9, 0.2, 0.6]), np.array([1.0, 0.0, 1.0])
    assert brier(said, true) == pytest.approx(0.07)
    assert log_loss(said, true) == pytest.approx(0.2797766, abs=1e-7)


def test_the_brier_decomposition_of_a_table_of_rain_forecasts() -> None:
    """Wilks 1995, Table 7.3 (as in the help of CRAN's 'verification', whose weights .245 and .203 are misprints of .0245 and .0203).

    Here rebuilt as 100,000 forecasts, so that each count is whole; reliability, resolution and uncertainty computed from the table.
    """
    forecasts = [0, 0.05, *[n / 10 for n in range(1, 11)]]
    observed = [0.006, 0.019, 0.059, 0.150, 0.277, 0.377, 0.511, 0.587, 0.723, 0.779, 0.934, 0.933]
    weights = [0.4112, 0.0671, 0.1833, 0.0986, 0.0616, 0.0366, 0.0303, 0.0275, 0.0245, 0.0220, 0.0170, 0.0203]
    said, true = [], []
    for p, share, weight in zip(forecasts, observed, weights, strict=True):
        count = round(weight * 100_000)
        happened = round(share * count)
        said += [p] * count
        true += [1.0] * happened + [0.0] * (count - happened)
    parts = brier_parts(np.array(said, dtype=float), np.array(true))
    assert parts.reliability == pytest.approx(0.000828, abs=5e-6)
    assert parts.resolution == pytest.approx(0.062787, abs=5e-5)
    assert parts.uncertainty == pytest.approx(0.135420, abs=5e-5)
    assert parts.score == pytest.approx(brier(np.array(said, dtype=float), np.array(true)), abs=1e-12)
    assert parts.skill == pytest.approx(0.4575, abs=5e-4)


RAIN = {0: (46, 1), 1: (55, 1), 2: (59, 5), 3: (41, 5), 4: (19, 4), 5: (22, 8), 6: (22, 6), 7: (34, 16)} | {
    8: (24, 16),
    9: (11, 8),
    10: (13, 11),
}
HEAVY_RAIN = {0: (243, 4), 1: (58, 1), 2: (19, 3), 3: (13, 3), 4: (5, 2), 5: (1, 1), 6: (6, 5), 8: (1, 1)}


@pytest.mark.parametrize(
    ("table", "printed"),
    [(RAIN, (0.144, 0.025, 0.060, 0.179, 0.194)), (HEAVY_RAIN, (0.037, 0.003, 0.020, 0.054, 0.312))],
    ids=["more than 0.2 mm", "more than 4.4 mm"],
)
def test_the_brier_decomposition_of_a_year_of_rain_forecasts(
    table: dict[int, tuple[int, int]], printed: tuple[float, ...]
) -> None:
    """Tampere 2003, a day ahead: score, reliability, resolution, uncertainty and skill as printed by the WWRP's page on POP3.

    The forecasts are in tenths, each with (days, days on which it rained so much), counted by us from ``pop`` in CRAN's
    'verification', 346 days.
    """
    said = np.repeat([tenth / 10 for tenth in table], [days for days, _ in table.values()])
    true = np.concatenate([np.arange(days) < wet for days, wet in table.values()]).astype(float)
    parts = brier_parts(said, true)
    told = (brier(said, true), parts.reliability, parts.resolution, parts.uncertainty, parts.skill)
    assert said.size == 346
    assert told == pytest.approx(printed, abs=5.1e-4)
    assert parts.score == pytest.approx(told[0], abs=1e-12)
