"""Sleep: the consensus on seven hours, debt, and the Sleep Regularity Index."""

import datetime as dt

import pytest

from core.wellbeing.sleep import Night, debt, regularity, sleep_week, two_short_nights

MONDAY = dt.date(2026, 11, 23)
MIDNIGHT = dt.datetime(2026, 11, 23, tzinfo=dt.UTC)
HOUR = dt.timedelta(hours=1)


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


@pytest.mark.parametrize(
    ("second", "index"),
    [
        ((23, 31), 100.0),
        ((24, 32), 83.33),  # an hour later: 2 of 24 hours differ
        ((25, 33), 66.67),
        (None, 33.33),  # a night without sleep: 8 of 24 hours differ
    ],
)
def test_the_sleep_regularity_index(second: tuple[int, int] | None, index: float) -> None:
    """Phillips et al. 2017, Sci Rep 7:3216: -100 + 200 x the share of equal states a day apart. Values computed by hand."""
    asleep = [(MIDNIGHT + 23 * HOUR, MIDNIGHT + 31 * HOUR)]
    if second:
        asleep.append((MIDNIGHT + (24 + second[0]) * HOUR, MIDNIGHT + (24 + second[1]) * HOUR))
    assert regularity(asleep, since=MIDNIGHT + 12 * HOUR, until=MIDNIGHT + 60 * HOUR) == pytest.approx(
        index, abs=0.005
    )


def test_opposite_days_have_the_least_regularity() -> None:
    """Phillips et al. 2017: the index's theoretical minimum is -100 (bound from memory)."""
    awake_then_asleep = [(MIDNIGHT + 24 * HOUR, MIDNIGHT + 48 * HOUR)]
    assert regularity(awake_then_asleep, since=MIDNIGHT, until=MIDNIGHT + 48 * HOUR) == -100
