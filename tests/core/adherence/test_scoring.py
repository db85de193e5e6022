"""Scores and calibration, on numbers small enough to do by hand."""

import math

import numpy as np
import pytest

from core.adherence.scoring import brier, brier_parts, calibration, calibration_error, log_loss, wilson


def test_scores_of_three_forecasts() -> None:
    said, true = np.array([0.9, 0.2, 0.6]), np.array([1.0, 0.0, 1.0])
    assert brier(said, true) == pytest.approx((0.01 + 0.04 + 0.16) / 3)
    assert log_loss(said, true) == pytest.approx(-(math.log(0.9) + math.log(0.8) + math.log(0.6)) / 3)


def test_certainty_that_fails_is_dear_but_finite() -> None:
    assert 9 < log_loss(np.array([1.0]), np.array([0.0])) < 10


def test_the_parts_of_the_brier_score_add_up() -> None:
    rng = np.random.default_rng(1)
    said = rng.integers(0, 11, 500) / 10
    true = (rng.random(500) < said**2).astype(float)
    assert brier_parts(said, true).score == pytest.approx(brier(said, true))


def test_one_forecast_for_all_resolves_nothing() -> None:
    parts = brier_parts(np.full(4, 0.5), np.array([1.0, 0.0, 1.0, 0.0]))
    assert (parts.reliability, parts.resolution, parts.uncertainty) == (0, 0, 0.25)
    assert parts.skill == 0


def test_without_uncertainty_there_is_no_skill() -> None:
    assert brier_parts(np.array([0.9, 0.8]), np.ones(2)).skill == 0


def test_calibration_leaves_out_empty_bins() -> None:
    said, true = np.array([0.05, 0.75, 0.72, 1.0]), np.array([0.0, 1.0, 0.0, 1.0])
    bins = calibration(said, true, np.linspace(0, 1, 11).tolist())
    assert [(one.n, one.kept) for one in bins] == [(1, 0.0), (2, 0.5), (1, 1.0)]
    assert bins[1].said == pytest.approx(0.735)
    assert all(one.low <= one.kept <= one.high for one in bins)


def test_an_interval_of_nothing_is_everything() -> None:
    assert wilson(0, 0) == (0.0, 1.0)


@pytest.mark.parametrize(("kept", "n"), [(1, 0), (3, 2), (-1, 4)])
def test_what_is_no_share_has_no_interval(kept: int, n: int) -> None:
    with pytest.raises(ValueError, match="no share"):
        wilson(kept, n)


def test_calibration_error_of_forecasts_that_are_a_tenth_too_high() -> None:
    said = np.repeat([0.3, 0.6], 10)
    true = np.array([1] * 2 + [0] * 8 + [1] * 5 + [0] * 5, dtype=float)
    assert calibration_error(said, true, bins=2) == pytest.approx(0.1)
