import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calendar.trips import Stay, Trip, Whereabouts
from core.errors import Refused
from core.wellbeing import cautions, jet_lag, load, screening
from core.wellbeing.load import Effort, load_week
from core.wellbeing.screening import Screening, Verdict, screen
from core.wellbeing.sleep import Night, debt, regularity, sleep_week, spread, two_short_nights

MONDAY = dt.date(2026, 11, 23)
DAY = dt.timedelta(days=1)
hours = st.floats(0, 24, allow_nan=False)


@pytest.mark.parametrize("slept", [-2, 30, 24.01, float("nan")])
def test_sleep_that_cannot_be_is_refused(slept: float) -> None:
    with pytest.raises(Refused, match="between 0 and 24"):
        Night(MONDAY, slept)


def test_a_week_without_a_night_says_so() -> None:
    week = sleep_week([], monday=MONDAY, need=8)
    assert (week.nights, week.mean, week.below_need, week.debt, week.spread) == (0, None, None, 0, None)


def test_only_the_nights_of_the_week_count_and_the_last_word_on_each() -> None:
    told = [Night(MONDAY - DAY, 3), Night(MONDAY, 5), Night(MONDAY + 7 * DAY, 3), Night(MONDAY, 8)]
    week = sleep_week(told, monday=MONDAY, need=7.5)
    assert (week.nights, week.short, week.mean) == (1, 0, 8)


@given(st.lists(hours, max_size=20), hours)
def test_debt_is_never_negative_and_never_falls_with_less_sleep(slept: list[float], need: float) -> None:
    nights = [Night(MONDAY + n * DAY, each) for n, each in enumerate(slept)]
    owed = debt(nights, need)
    assert owed >= 0
    assert debt([Night(night.day, night.hours / 2) for night in nights], need) >= owed


def test_a_spread_needs_more_than_a_week() -> None:
    nights = [Night(MONDAY + n * DAY, 6 + n % 2) for n in range(8)]
    assert spread(nights[:7]) is None
    assert spread(nights) == pytest.approx(0.5345, abs=1e-4)


@pytest.mark.parametrize(
    ("slept", "short"),
    [((6, 6), True), ((6, None), False), ((None, 6), False), ((8, 6), False), ((6, 8), False)],
)
def test_two_short_nights_are_two_in_a_row_and_known(
    slept: tuple[float | None, float | None], *, short: bool
) -> None:
    nights = [Night(MONDAY + n * DAY, each) for n, each in enumerate(slept) if each is not None]
    assert two_short_nights(nights, MONDAY + DAY) is short


def test_regularity_needs_more_than_a_day() -> None:
    at = dt.datetime(2026, 11, 23, tzinfo=dt.UTC)
    with pytest.raises(ValueError, match="24 hours"):
        regularity([], since=at, until=at + DAY)


@pytest.mark.parametrize(("minutes", "rating"), [(45, 12), (45, -1), (-5, 5)])
def test_an_effort_that_cannot_be_is_refused(minutes: int, rating: float) -> None:
    with pytest.raises(Refused):
        Effort(minutes, rating)


def test_a_week_of_load_beside_the_one_before() -> None:
    week = load_week([Effort(45, 6), Effort(30, 8)], [Effort(45, 6)])
    assert (week.total, week.change, week.is_whole) == (510, 240, True)


def test_an_effort_that_was_not_told_leaves_the_change_unknown() -> None:
    week = load_week([Effort(45, 6), Effort(30, None)], [Effort(45, 6)])
    assert (week.total, week.rated, week.sessions, week.change) == (270, 1, 2, None)
    assert load_week([Effort(45, 6)], [Effort(45, None)]).change is None
    assert load_week([Effort(45, 6)]).change is None
    assert load_week([], [Effort(45, 6)]).change == -270


def test_effort_of_zero_is_known() -> None:
    assert Effort(20, 0).load == 0
    assert load.load_week([Effort(20, 0)]).is_whole


def test_a_verdict_that_calls_for_a_doctor_may_not_be_confirmed_without_one() -> None:
    assert [verdict for verdict in Verdict if not verdict.may_train] == [
        Verdict.DOCTOR_FIRST,
        Verdict.STOP_AND_DOCTOR,
    ]
    assert not screen(Screening(active=True, yes_to=frozenset({"chest"}))).may_train
    assert set(screening.FOR_CLIENT) == set(screening.FOR_COACH) == set(Verdict)


@pytest.mark.parametrize(
    ("home", "away", "days", "on", "feels"),
    [
        ("Europe/London", "Europe/Lisbon", 6, 3, None),
        ("Europe/London", "Africa/Cairo", 6, 3, None),  # two zones
        ("Europe/London", "Asia/Singapore", 9, 2, None),  # not yet there
        ("Europe/London", "Asia/Singapore", 9, 3, (3, 8.0, 9)),
        ("Europe/London", "Asia/Singapore", 9, 10, (3, 8.0, 9)),  # the eighth day
        ("Europe/London", "Asia/Singapore", 9, 11, None),  # adjusted by now
        ("Europe/London", "Asia/Singapore", 9, 12, (12, 8.0, None)),  # home again
        ("Europe/London", "Asia/Singapore", 2, 3, (3, 8.0, 2)),
        ("America/New_York", "America/Los_Angeles", 6, 4, (3, 3.0, 6)),
        (
            "Pacific/Kiritimati",
            "Pacific/Pago_Pago",
            5,
            3,
            None,
        ),  # a day apart by the calendar, an hour by the body
    ],
)
def test_an_arrival_that_is_still_felt(
    home: str, away: str, days: int, on: int, feels: tuple[int, float, int | None] | None
) -> None:
    first = dt.date(2026, 12, 3)
    trip = Trip(place="There", zone=away, first=first, last=first + dt.timedelta(days=days - 1))
    where = Whereabouts(Stay(zone=home, place="Home"), (trip,))
    arrival = jet_lag.arrival_before(dt.date(2026, 12, on), where)
    assert (arrival and (arrival.day.day, arrival.lag.hours, arrival.stay_days)) == feels


def test_the_safety_message_says_stop_who_to_call_and_that_the_coach_knows_and_diagnoses_nothing() -> None:
    message = cautions.safety_message("SG")
    assert message.startswith("Please stop training now")
    assert "medical care" in message
    assert "call 995." in message
    assert "coach" in message
    assert not {"heart attack", "stroke", "angina"} & set(message.lower().split())
    assert "call 112, or the local emergency number." in cautions.safety_message(None)
