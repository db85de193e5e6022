"""The Wilson score interval, under every audit of past forecasts."""

import pytest
from statsmodels.stats.proportion import proportion_confint

from core.adherence.scoring import wilson


@pytest.mark.parametrize(
    ("kept", "given", "low", "high"),
    [
        # Newcombe 1998, Stat Med 17(8):857-872, Table I, method 3 (score, without continuity correction)
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
        # small weeks, computed with statsmodels
        (0, 4, 0, 0.4899),
        (2, 4, 0.1500, 0.8500),
        (4, 4, 0.5101, 1),
        (3, 10, 0.1078, 0.6032),
        (8, 12, 0.3906, 0.8619),
        (14, 16, 0.6398, 0.9650),
        (10, 10, 0.7225, 1),
    ],
)
def test_published_intervals(kept: int, given: int, low: float, high: float) -> None:
    assert wilson(kept, given) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize("given", [1, 7, 40, 501])
def test_every_share_agrees_with_statsmodels(given: int) -> None:
    """statsmodels.stats.proportion.proportion_confint, method 'wilson'."""
    for kept in range(given + 1):
        assert wilson(kept, given) == pytest.approx(
            proportion_confint(kept, given, method="wilson"), abs=1e-9
        )
