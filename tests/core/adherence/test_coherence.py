"""What must hold of every forecast, whatever the history: properties, over histories made at random."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.adherence.forecast import Odds, Population, believe, believe_all, fit, hear, odds
from core.adherence.gaussians import PAIR
from core.adherence.history import HistoryRow, by_client
from core.adherence.parameters import natural, outset, prior_centre
from core.adherence.plan import plan_week
from core.terms import Outcome
from tests.core.adherence.rows import FIRST_MONDAY, LETTERS, sunday, weeks

LEARNT = Population(
    parameters=natural(outset())
)  # with habit, sting and all: the properties must hold for these too
properties = settings(
    max_examples=40, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


@st.composite
def histories(draw: st.DrawFn, *, longest: int = 10) -> list[HistoryRow]:
    """Weeks of one client, each with up to six asks and now and then an extra; some weeks are empty."""
    rows: list[HistoryRow] = []
    for number in range(draw(st.integers(1, longest))):
        promised = draw(st.integers(0, 6))
        days = sorted(draw(st.lists(st.integers(1, 7), min_size=promised, max_size=promised)))
        lean = draw(st.sampled_from(["dddm", "ddmu", "mmud", "uuum", "dsse"]))
        rows += [
            HistoryRow(
                client="c",
                date=FIRST_MONDAY + dt.timedelta(days=7 * number + day - 1),
                promised=promised,
                outcome=LETTERS[draw(st.sampled_from(lean))],
                minutes=draw(st.sampled_from([20, 45, 90])),
                away=draw(st.booleans()),
                slept_h=draw(st.sampled_from([None, 5.0, 7.5])),
            )
            for day in days
        ]
    return rows


def forecast(rows: Sequence[HistoryRow], as_of: dt.date, population: Population = LEARNT) -> Odds:
    return odds(believe(rows, population, as_of), plan_week(rows, as_of))


def end_of(rows: Sequence[HistoryRow]) -> dt.date:
    return max((row.date for row in rows), default=FIRST_MONDAY) + dt.timedelta(days=6)


@properties
@given(histories())
def test_odds_are_probabilities_and_fall_with_the_size_of_the_promise(rows: list[HistoryRow]) -> None:
    told = forecast(rows, end_of(rows))
    sizes = [told.keep[k] for k in range(1, 8)]
    assert all(0 < p < 1 for p in [*sizes, told.engaged, told.lighter])
    assert sizes == sorted(sizes, reverse=True)
    for k in range(1, 8):
        assert k * told.keep[k] <= told.expected[k] + 1e-3  # all k done counts k
        assert told.expected[k] < k
        assert list(told.prefix[k - 1][:k]) == sorted(told.prefix[k - 1][:k], reverse=True)


@properties
@given(histories())
def test_a_larger_promise_never_helps_the_first_session(rows: list[HistoryRow]) -> None:
    told = forecast(rows, end_of(rows))
    first = [told.prefix[k][0] for k in range(7)]
    assert first == sorted(first, reverse=True)


@properties
@given(histories(), st.sampled_from([Outcome.MISSED, Outcome.UNANSWERED]))
def test_the_latest_outcome_done_instead_of_missed_never_lowers_the_odds(
    rows: list[HistoryRow], broken: Outcome
) -> None:
    if not rows:
        return
    worse = [*rows[:-1], replace(rows[-1], outcome=broken)]
    better = [*rows[:-1], replace(rows[-1], outcome=Outcome.DONE)]
    low, high = (forecast(each, end_of(rows)) for each in (worse, better))
    assert all(high.keep[k] >= low.keep[k] - 1e-9 for k in range(1, 8))
    assert all(high.expected[k] >= low.expected[k] - 1e-9 for k in range(1, 8))
    assert high.engaged >= low.engaged


def test_no_answer_moves_its_own_prior() -> None:
    crew = [row for name in "abcd" for row in weeks("ddm", "dmd", "ddd", client=name)]
    worse = by_client([*crew, *weeks("dd", "dm", client="e")])
    better = by_client([*crew, *weeks("dd", "dd", client="e")])
    assert fit(worse, sunday(2)) == fit(better, sunday(2))


@properties
@given(histories(), st.integers(1, 8))
def test_weeks_without_asks_are_no_evidence(rows: list[HistoryRow], silent_weeks: int) -> None:
    now, later = end_of(rows), end_of(rows) + dt.timedelta(weeks=silent_weeks)
    before, after = believe(rows, LEARNT, now), believe(rows, LEARNT, later)
    plan = plan_week(rows, now)
    assert odds(after, plan).engaged <= odds(before, plan).engaged + 1e-12
    np.testing.assert_allclose(after.state.here.mean, before.state.here.mean)
    assert (np.diagonal(after.state.here.cov[PAIR]) >= np.diagonal(before.state.here.cov[PAIR]) - 1e-12).all()


@properties
@given(histories(), histories(longest=3))
def test_hearing_row_by_row_is_believing_all(rows: list[HistoryRow], more: list[HistoryRow]) -> None:
    later = [replace(row, date=row.date + dt.timedelta(weeks=12)) for row in more]
    belief = believe(rows, LEARNT, end_of(rows))
    for row in later:
        belief = hear(belief, row)
    whole = believe([*rows, *later], LEARNT, belief.as_of)
    plan = plan_week(rows, end_of(rows))
    step_by_step, at_once = odds(belief, plan), odds(whole, plan)
    assert step_by_step.keep == pytest.approx(at_once.keep, abs=1e-9)
    assert step_by_step.engaged == pytest.approx(at_once.engaged, abs=1e-9)


def test_a_row_of_a_week_that_has_ended_must_be_believed_again() -> None:
    belief = believe(weeks("ddd", "ddd"), LEARNT, sunday(1))
    with pytest.raises(ValueError, match="believe again"):
        hear(belief, weeks("d")[0])


def test_clients_do_not_touch_each_other() -> None:
    crew = by_client(
        [*weeks("ddm", "", "du", client="a"), *weeks("mm", client="b", start=2), *weeks("?", client="c")]
    )
    together = believe_all(crew, LEARNT, sunday(3))
    for name, rows in crew.items():
        alone = believe(rows, LEARNT, sunday(3))
        np.testing.assert_allclose(together[name].state.here.mean, alone.state.here.mean)
        np.testing.assert_allclose(together[name].state.log_weight, alone.state.log_weight)


def test_the_same_data_give_the_same_forecast() -> None:
    cohort = by_client([row for name in "abc" for row in weeks("ddm", "du", "ddd", client=name)])
    first, second = (fit(cohort, sunday(2)) for _ in range(2))
    assert first == second
    assert forecast(cohort["a"], sunday(2), first) == forecast(cohort["a"], sunday(2), second)


def test_with_nobody_to_learn_from_the_default_prior_holds() -> None:
    assert fit({}, sunday(0)).parameters == natural(prior_centre())
    assert fit({"a": ()}, sunday(0)) == fit(
        by_client(weeks("d")), sunday(0)
    )  # an only answer is not its own prior


# -- behaviour ---------------------------------------------------------------------------------------------------------------


@cache
def crew_population() -> Population:
    """Steady, erratic and struggling people, half a year each."""
    steady, erratic = ["ddd"] * 11 + ["ddm"], ["ddm", "dmm", "ddd", "mdm", "ddu", "mdd"]
    rows = [row for name in "abcd" for row in weeks(*steady * 2, client=f"steady {name}")]
    rows += [row for name in "abcd" for row in weeks(*erratic * 4, client=f"erratic {name}")]
    rows += [row for name in "ab" for row in weeks(*["mmd", "mum"] * 12, client=f"struggling {name}")]
    return fit(by_client(rows), sunday(23))


def test_three_misses_of_a_steady_client_mean_more_than_three_of_an_erratic_one() -> None:
    population = crew_population()
    steady, erratic = weeks(*["ddd"] * 20), weeks(*["ddm", "dmm", "ddd", "mdm", "ddu"] * 4)
    falls = []
    for past in (steady, erratic):
        before = forecast(past, sunday(19), population).expected[3]
        after = forecast([*past, *weeks("mmm", start=20)], sunday(20), population).expected[3]
        falls.append(math.log(before / after))
    assert falls[0] > 1.5 * falls[1]


def test_an_abrupt_change_is_recognised_within_two_weeks() -> None:
    population = crew_population()
    past = weeks(*["ddd"] * 20)
    keeps = [
        forecast([*past, *weeks(*["mmm"] * n, start=20)], sunday(19 + n), population).keep[3]
        for n in range(3)
    ]
    assert keeps[0] > 0.8
    assert keeps[2] < 0.35


def test_silence_is_not_the_same_as_misses_that_are_told() -> None:
    population = crew_population()
    past = weeks(*["ddd"] * 12)
    told = forecast([*past, *weeks("mmm", "mmm", start=12)], sunday(13), population)
    silent = forecast([*past, *weeks("uuu", "uuu", start=12)], sunday(13), population)
    assert silent.engaged < 0.3
    assert told.engaged > 0.8


def test_an_excuse_is_proof_of_life_and_nothing_about_capacity() -> None:
    population = crew_population()
    past = weeks(*["ddd"] * 12, "uuu")
    silent = forecast(past, sunday(12), population)
    excused = forecast([*past, *weeks("eee", start=13)], sunday(13), population)
    assert excused.engaged > max(0.8, silent.engaged)
    fine = weeks(*["ddd"] * 12)
    with_excuse = forecast([*fine, *weeks("eee", start=12)], sunday(12), population)
    assert with_excuse.keep[3] == pytest.approx(forecast(fine, sunday(11), population).keep[3], abs=0.05)


def test_uncertainty_grows_while_nobody_asks() -> None:
    past = weeks(*["ddd"] * 12)
    before, after = (believe(past, crew_population(), sunday(week)) for week in (11, 17))
    assert after.state.here.cov[PAIR[1, 1]].min() > before.state.here.cov[PAIR[1, 1]].min()


def every_other_week_away(home: str, away: str) -> list[HistoryRow]:
    rows = weeks(*[home, away] * 8)
    return [
        replace(row, away=row.date.isocalendar().week % 2 == sunday(1).isocalendar().week % 2) for row in rows
    ]


def odds_where(rows: Sequence[HistoryRow], gone: bool) -> float:
    coming = [sunday(15) + dt.timedelta(days=n) for n in range(1, 8)]
    return odds(
        believe(rows, LEARNT, sunday(15)), plan_week(rows, sunday(15), away=dict.fromkeys(coming, gone))
    ).keep[2]


def test_being_away_costs_whom_it_has_cost() -> None:
    suffers, does_not = every_other_week_away("ddd", "dmm"), every_other_week_away("ddd", "ddd")
    costs = [odds_where(rows, gone=False) - odds_where(rows, gone=True) for rows in (suffers, does_not)]
    assert costs[0] > costs[1] + 0.2


def test_recent_weeks_weigh_more() -> None:
    improving, worsening = weeks(*["mmm"] * 8 + ["ddd"] * 8), weeks(*["ddd"] * 8 + ["mmm"] * 8)
    assert forecast(improving, sunday(15)).keep[2] > 2 * forecast(worsening, sunday(15)).keep[2]


def test_where_a_client_will_be_is_integrated_over_when_nobody_knows() -> None:
    rows = every_other_week_away("ddd", "dmm")
    unknown = odds(believe(rows, LEARNT, sunday(15)), plan_week(rows, sunday(15))).keep[2]
    assert odds_where(rows, gone=True) < unknown < odds_where(rows, gone=False)


# -- what must not break it --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "rows",
    [
        weeks("d"),
        weeks("eee", "eee"),
        weeks("0:x", "0:xx"),
        weeks("??"),
        weeks(*["ddddddd"] * 30),
        weeks(*["mmmmmmm"] * 30),
        weeks(*["uuuuuuu"] * 30),
        weeks("ddd", *[""] * 150, "d"),
    ],
    ids=[
        "one row",
        "only excused",
        "only extras",
        "withdrawn",
        "all done",
        "none done",
        "silent",
        "a long gap",
    ],
)
def test_odd_histories_are_forecast_sensibly(rows: list[HistoryRow]) -> None:
    cohort = by_client(rows)
    told = forecast(rows, end_of(rows), fit(cohort, end_of(rows)))
    assert all(0 < told.keep[k] < 1 and 0 < told.expected[k] < k for k in range(1, 8))
    assert told.keep[1] >= told.keep[7]


def test_ten_thousand_weeks_are_read_to_the_end() -> None:
    rows = [
        replace(row, date=row.date - dt.timedelta(weeks=5000))
        for start in range(0, 10_000, 1000)
        for row in weeks(*["dm"] * 1000, start=start)
    ]
    rows += [
        replace(row, date=row.date - dt.timedelta(weeks=5000))
        for row in weeks("dd", "dd", "dd", start=10_000)
    ]
    as_of = rows[-1].date
    worse = [*rows[:-6], *(replace(row, outcome=Outcome.MISSED) for row in rows[-6:])]
    assert forecast(rows, as_of).keep[2] > forecast(worse, as_of).keep[2] + 0.1
