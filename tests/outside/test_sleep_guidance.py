"""Sleep: the consensus on seven hours, and debt."""

import datetime as dt

import pytest

from core.wellbeing.sleep import Night, debt, sleep_week, two_short_nights

MONDAY = dt.date(2026, 11, 23)


def nights(*hours: float) -> list[Night]:
    return [Night(MONDAY + dt.timedelta(days=n), slept) for n, slept in enumerate(hours)]


@pytest.mark.parametrize(
    ("hours", "short"), [(6.9, True), (7.0, False), (7.1, False), (9.0, False), (4.0, True)]
)
def test_seven_hours_or_more_is_enough(hours: float, *, short: bool) -> None:
    """Watson et al. 2015 (AASM/SRS), J Clin Sleep Med 11(6):591-592: adults should sleep 7 or more hours a night."""
    assert Night(MONDAY, hours).is_short is short


def test_two_nights_under_seven_hours_in_a_row() -> None:
    """The line is Watson et al. 2015's; that two of them lighten a session is common practice, no source."""
    assert two_short_nights(nights(6.5, 6.9), MONDAY + dt.timedelta(days=1))
    assert not two_short_nights(nights(6.5, 7.0), MONDAY + dt.timedelta(days=1))


def test_debt_is_the_running_sum_of_need_less_sleep() -> None:
    """Van Dongen et al. 2003, Sleep 26(2):117-126: 14 nights of 6 hours against a need of 8.16 (24 less 15.84 hours awake)."""
    fortnight = [Night(MONDAY + dt.timedelta(days=n), 6.0) for n in range(14)]
    assert debt(fortnight, 24 - 15.84) == pytest.approx(14 * 2.16)


def test_a_week_against_a_stated_need() -> None:
    """Arithmetic on the definitions above: need 8; 6, 7, 9, 5.5 hours known."""
    week = sleep_week(nights(6, 7, 9, 5.5), monday=MONDAY, need=8)
    assert (week.nights, week.short, week.mean, week.debt) == (4, 2, 6.875, 4.5)
    assert week.below_need == 1.125
