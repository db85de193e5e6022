"""What the bot and the command line call."""

import datetime as dt

import pytest

from core.adherence.advice import advise, advise_all
from core.adherence.history import by_client
from core.adherence.promise import Settings
from tests.core.adherence.rows import sunday, week, weeks

CREW = [
    *weeks(*["ddd"] * 8),
    *weeks(*["dm", "um", "dm", "mm", "md", "dm", "mu", "dm"], client="Pavel, sonar"),
]


def test_everybody_gets_odds_a_promise_and_a_reason() -> None:
    advice = {one.client: one for one in advise_all(by_client(CREW), sunday(7))}
    assert set(advice) == {"Noor, rigger", "Pavel, sonar"}
    steady, erratic = advice["Noor, rigger"], advice["Pavel, sonar"]
    assert steady.recommendation.sessions >= 3
    assert (erratic.recommendation.sessions, erratic.recommendation.talk_first) == (1, False)
    assert steady.odds.keep[2] > erratic.odds.keep[2]
    assert steady.if_open_done is None


def test_open_asks_are_settled_both_ways_at_once() -> None:
    rows = [*weeks(*["ddd"] * 8), *week("dd?", number=8, days=[1, 2, 6])]
    thursday = sunday(8) - dt.timedelta(days=3)
    advice = advise(by_client(rows), "Noor, rigger", thursday)
    assert advice.recommendation.sessions == 3
    assert advice.if_open_done is not None
    assert advice.if_open_done.sessions == 4


def test_outcomes_after_the_last_day_known_change_nothing() -> None:
    cohort, later = by_client(CREW), by_client([*CREW, *weeks("mmm", start=8)])
    kept = advise(cohort, "Noor, rigger", sunday(7))
    masked = advise(later, "Noor, rigger", sunday(7))
    assert masked.recommendation == kept.recommendation


def test_a_newcomer_starts_from_the_cohort() -> None:
    crew = ("rigger", "lights", "sound", "wardrobe", "props", "stage")
    diligent, careless = (
        by_client([row for name in crew for row in weeks(*[word] * 8, client=name)])
        for word in ("ddd", "mmm")
    )
    high, low = (advise(cohort, "Ines", sunday(7)).odds.keep[1] for cohort in (diligent, careless))
    assert high > 0.7
    assert low < 0.5
    assert advise(diligent, "Ines", sunday(7), Settings(lately=0)).recommendation.sessions == 1


@pytest.mark.parametrize("as_of", [0, 3, 7])
def test_why_says_the_odds_of_one_less_itself_and_one_more(as_of: int) -> None:
    advice = advise(by_client(CREW), "Noor, rigger", sunday(as_of))
    said, odds = advice.why, advice.recommendation.odds
    names = ("one", "two", "three", "four", "five", "six", "seven")
    for k in range(max(1, advice.recommendation.sessions - 1), advice.recommendation.sessions + 2):
        assert f"{names[k - 1]} {round(100 * odds.keep[k])} % ({odds.expected[k]:.1f} done)" in said.lower()
