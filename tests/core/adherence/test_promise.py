"""The rules of the promise, over odds that are given: a table of cases a rule."""

import datetime as dt
from collections.abc import Callable, Sequence

import pytest

from core.adherence.forecast import Odds
from core.adherence.history import HistoryRow
from core.adherence.plan import usual_minutes
from core.adherence.promise import Recommendation, Settings, look_back, recommend
from core.adherence.weeks import weeks_of
from tests.core.adherence.rows import sunday, week, weeks

KEEPS = 0.9
FAILS = 0.5


def odds_up_to(sizes: int, *, lighter: float = 0.5) -> Odds:
    """Odds that reach 80 % up to so many sessions."""
    keep = {k: KEEPS - k / 100 if k <= sizes else FAILS - k / 100 for k in range(1, 8)}
    return Odds(keep=keep, expected={k: k * 0.9 for k in range(1, 8)}, engaged=0.98, lighter=lighter)


def for_rows(
    rows: Sequence[HistoryRow],
    as_of: dt.date,
    *,
    reach: int = 7,
    settings: Settings | None = None,
    odds_at: Callable[[int], Odds] | None = None,
) -> Recommendation:
    past = look_back(weeks_of(rows), rows, as_of, usual_minutes(rows, as_of))
    return recommend(past, odds_at or (lambda _: odds_up_to(reach)), settings or Settings())


@pytest.mark.parametrize(
    ("past", "promise"),
    [
        (["ddd"], 4),  # kept: one more, never two
        (["ddd", "dd"], 3),  # counted from the last promise, not from the largest
        (["ddd", "ddm"], 3),  # not kept: no raise
        (["ddd", "ddu"], 3),  # an answer that did not come keeps nothing
        (["ddd", "dde"], 3),  # something excused: no raise
        (["ddd", "dss"], 3),  # more short than done: no raise
        (["ddd", "dds"], 4),  # fewer short than done is as good as done
        (["dm", "ddd"], 4),  # what is over is over
        (["ddd", "eee"], 3),  # a neutral week with something excused
        (["ddd", "ee"], 2),  # never above the lower of the two, when something was excused
        (["ddd", "??"], 3),  # one more than the lower of the two
        (["ddd", "????"], 4),  # a larger promise that never counted raises nothing
        (["ddd", ""], 4),  # a week without asks says nothing
        (["ddm", "???"], 3),  # a neutral week does not wash a broken one away
        (["ddd", "0:x"], 4),  # a rest week has no promise to compare with
        (["5:dd"], 6),  # the rest was withdrawn: kept
        (["ddddddd"], 7),  # a week has seven days
    ],
)
def test_steps(past: list[str], promise: int) -> None:
    assert for_rows(weeks(*past), sunday(len(past) - 1)).sessions == promise


def test_the_largest_promise_that_reaches_the_confidence_is_taken() -> None:
    rows = weeks("dddd", "dddd")
    assert [for_rows(rows, sunday(1), reach=reach).sessions for reach in (7, 4, 3, 2, 1)] == [5, 4, 3, 2, 1]
    strict = Settings(confidence=0.95)
    assert for_rows(rows, sunday(1), settings=strict).sessions == 1


def test_a_lowered_week_is_not_followed_by_a_raise() -> None:
    rows = weeks("ddd") + week("dd", number=1, lowered=True)
    assert for_rows(rows, sunday(1)).sessions == 2


@pytest.mark.parametrize(("lately", "promise"), [(None, 2), (0, 1), (1, 1), (3, 3), (9, 7)])
def test_a_newcomer_starts_from_what_there_was_lately(lately: int | None, promise: int) -> None:
    recommendation = for_rows([], sunday(0), settings=Settings(lately=lately))
    assert (recommendation.sessions, recommendation.previous) == (promise, None)


def test_lately_is_forgotten_once_a_week_has_counted() -> None:
    assert for_rows(weeks("d"), sunday(0), settings=Settings(lately=5)).sessions == 2


@pytest.mark.parametrize(
    ("past", "promise", "dose"),
    [
        (["dddd", "", ""], 2, 0.5),  # fourteen days later, with or without asks
        (["ddddd", "", ""], 3, 0.5),  # rounded up
        (["dddd", "mmmm", "mmmm"], 2, 0.5),
        (["dddd", ""], 5, 1.0),  # seven days are no lay-off
        (["dddd", "", "0:x"], 5, 1.0),  # an extra is a session too
        (["dddd", "mmmm", "mmmm", "mm"], 2, 1.0),  # once: the half was promised already
        (["dddd", "", "", "dd"], 3, 0.7),  # back: the dose grows over four weeks
        (["dddd", "", "", "dd", "ddd"], 4, 0.8),
        (["dddd", "", "", "dd", "ddd", "ddd"], 4, 0.9),
        (["dddd", "", "", "dd", "ddd", "ddd", "ddd"], 4, 1.0),
    ],
)
def test_a_lay_off_halves_the_promise_once(past: list[str], promise: int, dose: float) -> None:
    rows = weeks(*past)
    recommendation = for_rows(rows, sunday(len(past) - 1))
    assert (recommendation.sessions, recommendation.dose_cap) == (promise, dose)


def test_a_lay_off_begins_on_the_fourteenth_day() -> None:
    rows = week("d", promised=4, days=[7])
    assert for_rows(rows, sunday(2)).sessions == 2
    assert for_rows(rows, sunday(2) - dt.timedelta(days=1)).sessions == 5


def keeps_below(minutes: int, *, reach: int, lighter: float) -> Callable[[int], Odds]:
    return lambda m: odds_up_to(7 if m <= minutes else reach, lighter=lighter)


def test_fewer_minutes_come_before_fewer_days() -> None:
    rows = weeks("dddd", "dddm")
    recommendation = for_rows(rows, sunday(1), odds_at=keeps_below(32, reach=2, lighter=0.95))
    assert (recommendation.sessions, recommendation.minutes) == (4, 30)


def test_fewer_minutes_need_the_clients_own_data() -> None:
    rows = weeks("dddd", "dddm")
    recommendation = for_rows(rows, sunday(1), odds_at=keeps_below(32, reach=2, lighter=0.89))
    assert (recommendation.sessions, recommendation.minutes) == (2, 45)


def test_fewer_minutes_buy_no_raise() -> None:
    rows = weeks("ddd")
    recommendation = for_rows(rows, sunday(0), odds_at=keeps_below(32, reach=3, lighter=0.95))
    assert (recommendation.sessions, recommendation.minutes) == (3, 45)


def test_nobody_is_sent_below_ten_minutes() -> None:
    rows = weeks("ddd")
    recommendation = for_rows(rows, sunday(0), odds_at=keeps_below(9, reach=1, lighter=0.95))
    assert (recommendation.sessions, recommendation.minutes) == (1, 45)


def test_more_short_than_done_means_the_same_number_and_fewer_minutes() -> None:
    recommendation = for_rows(weeks("ddd", "dss"), sunday(1))
    assert (recommendation.sessions, recommendation.minutes) == (3, 30)


def test_below_the_floor_of_the_coach_it_says_talk_first() -> None:
    rows = weeks("ddd", "ddm")
    held = for_rows(rows, sunday(1), reach=1, settings=Settings(floor=2))
    assert (held.sessions, held.talk_first) == (2, True)
    fine = for_rows(rows, sunday(1), reach=2, settings=Settings(floor=2))
    assert (fine.sessions, fine.talk_first) == (2, False)


def test_a_floor_holds_after_a_lay_off_and_is_talked_about() -> None:
    held = for_rows(weeks("dddd", "", ""), sunday(2), settings=Settings(floor=3))
    assert (held.sessions, held.talk_first) == (3, True)


def test_where_not_even_one_would_be_kept_it_is_one_and_talk_first_only_under_a_floor() -> None:
    held = for_rows(weeks("ddm"), sunday(0), reach=0)
    assert (held.sessions, held.talk_first) == (1, False)
    floored = for_rows(weeks("ddm"), sunday(0), reach=0, settings=Settings(floor=1))
    assert (floored.sessions, floored.talk_first) == (1, True)


def test_a_size_never_tried_is_marked() -> None:
    assert for_rows(weeks("ddd"), sunday(0)).never_tried
    assert not for_rows(weeks("dddd", "ddd"), sunday(1)).never_tried
    assert for_rows(weeks("eeee", "ddd"), sunday(1)).never_tried  # a week that did not count tried nothing


@pytest.mark.parametrize(
    ("past", "reach", "explored_on", "explore"),
    [
        (["ddd", "ddd", "ddd"], 3, None, 4),
        (["ddd", "ddd"], 3, None, None),  # three kept weeks
        (["dd", "ddd", "ddd", "ddd"], 3, None, None),  # a raise within the month
        (["dd", "ddd", "ddd", "ddd", "ddd"], 3, None, 4),
        (["ddd", "ddd", "dde"], 3, None, None),  # a raise is forbidden
        (["ddd", "ddd", "ddd"], 7, None, None),  # a raise is recommended anyway
        (["ddd", "ddd", "ddd"], 2, None, None),  # fewer are recommended
        (["ddd", "ddd", "ddd"], 3, sunday(0), None),  # offered a fortnight ago
        (["ddddddd"] * 3, 7, None, None),
    ],
)
def test_exploring(past: list[str], reach: int, explored_on: dt.date | None, explore: int | None) -> None:
    settings = Settings(explored_on=explored_on)
    assert for_rows(weeks(*past), sunday(len(past) - 1), reach=reach, settings=settings).explore == explore


def test_what_binds_is_named() -> None:
    assert [limit.because for limit in for_rows(weeks("ddm"), sunday(0)).limits] == [
        "the last week was not kept"
    ]
