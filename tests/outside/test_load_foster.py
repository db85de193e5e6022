"""Load, monotony and strain: Foster 1998 (Med Sci Sports Exerc 30(7):1164-1168), Foster et al. 2001 (JSCR 15(1):109-115)."""

import math

import pytest

from core.wellbeing.load import EFFORT_WORDS, Effort, monotony, strain


def test_the_words_of_the_scale() -> None:
    """Foster et al. 2001, the modified ten-point scale; 6, 8 and 9 have no words."""
    assert {n: EFFORT_WORDS[n] for n in (0, 3, 4, 5, 7, 10)} == {
        0: "rest",
        3: "moderate",
        4: "somewhat hard",
        5: "hard",
        7: "very hard",
        10: "maximal",
    }
    assert not {6, 8, 9} & set(EFFORT_WORDS)


def test_load_is_rating_times_minutes() -> None:
    """Foster et al. 2001: the rating of the session times its duration in minutes."""
    assert Effort(60, 7).load == 420


@pytest.mark.parametrize("sessions", range(1, 7))
def test_monotony_of_equal_sessions_has_a_closed_form(sessions: int) -> None:
    """Foster 1998's ratio with the population's standard deviation: sqrt(k / (7 - k)) for k equal sessions. Algebra."""
    assert monotony([300] * sessions + [0] * (7 - sessions)) == pytest.approx(
        math.sqrt(sessions / (7 - sessions))
    )


def test_a_worked_week() -> None:
    """Computed apart from the definitions: 420, 360 and 480 AU on three of seven days."""
    week = [420, 0, 360, 0, 480, 0, 0]
    assert monotony(week) == pytest.approx(0.8559, abs=5e-5)
    assert strain(week) == pytest.approx(1078.4, abs=0.05)


def test_seven_equal_days_have_no_monotony_rather_than_an_infinite_one() -> None:
    """Foster 1998 divides by the standard deviation, which is zero here."""
    assert monotony([300] * 7) is None
    assert strain([300] * 7) is None
    assert monotony([0] * 7) is None


def test_the_ratio_of_a_published_worked_table() -> None:
    """BMJ Military Health, table of monitoring equations: weekly monotony 790 / 897 = 0.88 AU.

    The daily loads are not given there; these two have that mean and that standard deviation.
    """
    assert monotony([790 + 897, 790 - 897]) == pytest.approx(0.88, abs=0.005)
