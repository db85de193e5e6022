"""The nested days of the coming week."""

import datetime as dt

from core.adherence.plan import PlannedDay, fewer_minutes, plan_week, usual_minutes
from tests.core.adherence.rows import sunday, week, weeks


def weekdays(rows_days: list[PlannedDay] | tuple[PlannedDay, ...]) -> list[int]:
    return [day.date.isoweekday() for day in rows_days]


def test_planned_days_come_first_then_usual_ones_both_by_past_frequency() -> None:
    past = week("dd", days=[2, 6]) + week("dd", days=[6, 4], number=1)
    coming = week("??", days=[3, 6], number=2)
    plan = plan_week(past + coming, sunday(1))
    assert weekdays(plan.days) == [6, 3, 2, 4, 1, 5, 7]
    assert plan.monday == sunday(1) + dt.timedelta(days=1)


def test_nobody_known_trains_on_days_spread_over_the_week() -> None:
    assert weekdays(plan_week([], sunday(0)).days) == [1, 3, 5, 2, 4, 6, 7]


def test_two_on_one_day_stay_two_and_there_are_always_seven() -> None:
    plan = plan_week(week("???", days=[3, 3, 5], number=1), sunday(0))
    assert weekdays(plan.days)[:3] == [3, 3, 5]
    assert len(plan.days) == 7


def test_usual_days_are_away_as_the_nearest_planned_day_is() -> None:
    plan = plan_week(week("??", days=[1, 7], away=[7], number=1), sunday(0))
    assert {day.date.isoweekday(): day.away for day in plan.days} == {
        1: False,
        2: False,
        3: False,
        4: False,
    } | {
        5: True,
        6: True,
        7: True,
    }


def test_a_trip_decides_where_usual_days_are_and_else_nobody_knows() -> None:
    tuesday = sunday(0) + dt.timedelta(days=2)
    plan = plan_week([], sunday(0), away={tuesday: True})
    assert {day.date: day.away for day in plan.days}[tuesday] is True
    assert [day.away for day in plan.days].count(None) == 6


def test_usual_minutes_are_the_median_of_the_last_eight_asks_else_45() -> None:
    assert usual_minutes([], sunday(0)) == 45
    long_ago, lately = weeks("ddd", "ddd", minutes=90), weeks("dddd", "dddd", minutes=30, start=2)
    assert usual_minutes(long_ago + lately, sunday(3)) == 30
    assert usual_minutes(long_ago + lately, sunday(2)) == 60  # four of 90 and four of 30


def test_planned_minutes_win_over_usual_ones() -> None:
    rows = weeks("ddd", minutes=60) + week("??", number=1, minutes=25)
    assert {day.minutes for day in plan_week(rows, sunday(0)).days} == {25}


def test_fewer_minutes_are_multiples_of_five_down_to_ten() -> None:
    assert list(fewer_minutes(30)) == [25, 20, 15, 10]
    assert list(fewer_minutes(12)) == [10]
    assert list(fewer_minutes(10)) == []


def test_the_same_days_with_fewer_minutes() -> None:
    rows = week("?", days=[1], number=1, minutes=60) + week("?", days=[2], promised=2, number=1, minutes=20)
    shorter = plan_week(rows, sunday(0)).with_minutes(30)
    assert [day.minutes for day in shorter.days[:2]] == [30, 20]
