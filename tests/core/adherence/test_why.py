"""The sentence why: its numbers come from the history, and the sessions that it cites move the odds that it cites."""

import re
from collections.abc import Sequence
from dataclasses import replace

import pytest

from core.adherence.advice import Advice, advise
from core.adherence.forecast import Population
from core.adherence.history import HistoryRow, by_client
from core.adherence.parameters import natural, prior_centre
from core.adherence.promise import Settings
from core.terms import Outcome
from tests.core.adherence.rows import sunday, week, weeks

NOOR = "Noor, rigger"
POPULATION = Population(parameters=natural(prior_centre()))
SIZE = re.compile(r"([Oo]ne|[Tt]wo|[Tt]hree|[Ff]our|[Ff]ive|[Ss]ix|[Ss]even) (\d+) % \((\d\.\d) done\)")
NAMES = ("one", "two", "three", "four", "five", "six", "seven")


def advice(rows: Sequence[HistoryRow], number: int, settings: Settings | None = None) -> Advice:
    return advise(by_client(rows), NOOR, sunday(number), settings, POPULATION)


def cited(why: str) -> dict[int, int]:
    """The odds that a sentence cites, in percent, by size."""
    return {NAMES.index(name.lower()) + 1: int(percent) for name, percent, _ in SIZE.findall(why)}


def travelling(*, away_outcome: str = "d") -> list[HistoryRow]:
    """Four weeks of two asks at home and one away."""
    return [
        row
        for number in range(4)
        for row in week(f"dd{away_outcome}", number=number, days=(1, 3, 5), away=[5])
    ]


def test_every_number_can_be_counted_in_the_history() -> None:
    rows = [*travelling(away_outcome="m"), *week("d", number=4, days=(1,))]
    told = advice(rows, 4)
    last = rows[-10:]
    home, away = [row for row in last if not row.away], [row for row in last if row.away]
    assert (len(home), len(away)) == (7, 3)
    assert "7 of 7 done at home, 0 of 3 while away (last 10 sessions)" in told.why
    odds, own = told.recommendation.odds, told.recommendation.sessions
    sizes = [k for k in (own, own - 1, own + 1) if k >= 1]
    assert [(k, said) for k, said in cited(told.why).items()] == [
        (k, round(100 * odds.keep[k])) for k in sizes
    ]


def test_a_single_ask_is_told_in_the_singular() -> None:
    assert "1 of 1 session done;" in f"{advice(week('d', number=0, days=(1,)), 0).why};"
    assert "1 of the last 2 sessions done" in advice(week("dm", number=0, days=(1, 3)), 0).why


@pytest.mark.parametrize("which", ["home", "away"])
def test_changing_the_sessions_that_it_cites_changes_the_odds_that_it_cites(which: str) -> None:
    rows = travelling()
    changed = [
        replace(row, outcome=Outcome.MISSED) if row.away == (which == "away") and row in rows[-10:] else row
        for row in rows
    ]
    before, after = advice(rows, 3), advice(changed, 3)
    both = cited(before.why).keys() & cited(after.why).keys()
    sentence = {
        "home": "0 of 6 done at home, 4 of 4 while away",
        "away": "6 of 6 done at home, 0 of 4 while away",
    }
    assert "6 of 6 done at home, 4 of 4 while away" in before.why
    assert sentence[which] in after.why
    assert both
    assert all(cited(after.why)[size] < cited(before.why)[size] - 3 for size in both)


def test_changing_sessions_before_those_that_it_cites_moves_the_odds_less() -> None:
    """Recent sessions are cited because they weigh more."""
    rows = weeks(*["ddd"] * 8)
    old = [replace(row, outcome=Outcome.MISSED) if row in rows[:3] else row for row in rows]
    new = [replace(row, outcome=Outcome.MISSED) if row in rows[-3:] else row for row in rows]
    plain, early, late = (advice(each, 7) for each in (rows, old, new))
    for size in (1, 2, 3):
        keep = [each.odds.keep[size] for each in (plain, early, late)]
        assert keep[0] - keep[2] > keep[0] - keep[1]
    assert "10 of the last 10 sessions done" in early.why
    assert "7 of the last 10 sessions done" in late.why


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (weeks("ddd", "duu"), "4 of the last 6 sessions done, the last 2 without an answer"),
        (weeks("ddd", "ddu"), "5 of the last 6 sessions done; "),
        (weeks("ddd", "dddx"), "6 of the last 6 sessions done, 1 extra since the first of them"),
        (week("dm", away=[1, 3]), "1 of the last 2 sessions done while away"),
        (weeks("eee", "ee"), "only 5 sessions excused so far"),
        (weeks("eex"), "only 2 sessions excused and 1 extra so far"),
        (weeks("??"), "nothing asked yet"),
    ],
)
def test_what_moved_them_is_said(rows: list[HistoryRow], said: str) -> None:
    assert said in advice(rows, 1).why + "; "


def test_a_trip_ahead_is_said_and_moves_the_odds() -> None:
    rows = travelling(away_outcome="m")
    at_home, gone = (
        advice([*rows, *week("???", number=4, days=(1, 3, 5), away=away)], 3) for away in ([], [1, 3, 5])
    )
    sessions = gone.recommendation.sessions
    assert "next week" not in at_home.why
    assert f"; next week {sessions} of {sessions} day" in gone.why
    assert all(gone.odds.keep[k] < at_home.odds.keep[k] - 0.05 for k in (1, 2, 3))


def test_it_is_never_surer_than_ninety_nine_in_a_hundred() -> None:
    always, never = advice(weeks(*["ddddddd"] * 40), 39), advice(weeks(*["mmmmmmm"] * 40), 39)
    said = [percent for each in (always, never) for percent in cited(each.why).values()]
    assert all(1 <= percent <= 99 for percent in said)


def test_it_says_talk_first_only_where_the_coach_has_set_a_floor() -> None:
    rows = weeks(*["mmm"] * 6)
    assert "talk first" not in advice(rows, 5).why
    assert advice(rows, 5, Settings(floor=2)).why.endswith("; talk first")
