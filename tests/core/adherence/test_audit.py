"""The audit uses nothing that was not known, judges the weeks that it should, and says it plainly."""

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from core.adherence.audit import OURS, Judged, audit, chosen, judge, score
from core.adherence.audit_choice import Excess, excess
from core.adherence.audit_picture import HEIGHT, WIDTH, draw, place
from core.adherence.audit_words import headline, in_words
from core.adherence.history import HistoryRow, by_client
from core.adherence.scoring import Bin
from tests.core.adherence.rows import FIRST_MONDAY, sunday, week, weeks

CREW = [
    *weeks(*["ddd", "ddm"] * 4, client="Noor, rigger"),
    *weeks(*["dd", "mu"] * 4, client="Tomas, survey lead"),
    *weeks("dd", "dd", client="Ines, lights", start=5),
]


def judged(rows: list[HistoryRow]) -> list[Judged]:
    return [one for each in judge(by_client(rows), sunday(9)) for one in each]


def test_weeks_are_judged_from_the_second_on() -> None:
    one_by_one = judged(CREW)
    assert min(one.monday for one in one_by_one) == sunday(0) + (sunday(1) - sunday(0)) / 7
    assert len(one_by_one) == 7 + 7 + 2
    assert audit(by_client(CREW), sunday(9)).weeks == 16


def test_lowered_and_excused_weeks_are_left_out() -> None:
    rows = [*weeks(*["ddd"] * 3), *week("dd", number=3, lowered=True), *weeks("dde", "ddd", start=4)]
    assert [one.monday for one in judged(rows)] == [FIRST_MONDAY + (sunday(n) - sunday(0)) for n in (1, 2, 5)]


def test_what_came_later_changes_no_forecast() -> None:
    changed = [replace(row, outcome=None) if row.date > sunday(4) else row for row in CREW]
    before = {(one.client, one.monday): one.said[OURS][-1] for one in judged(changed)}
    whole = {(one.client, one.monday): one.said[OURS][-1] for one in judged(CREW)}
    assert before
    assert {key: whole[key] for key in before} == before


def test_how_they_would_sleep_was_not_known() -> None:
    slept = [replace(row, slept_h=3.0) if row.date > sunday(6) else row for row in CREW]
    last = [one.said[OURS][-1] for one in judged(CREW) if one.monday > sunday(6)]
    assert [one.said[OURS][-1] for one in judged(slept) if one.monday > sunday(6)] == last


def test_every_method_is_scored_on_the_promise_as_agreed() -> None:
    told = audit(by_client(CREW), sunday(9))
    assert next(iter(told.methods)) == OURS
    assert {
        "last week",
        "four-week mean",
        "lifetime mean",
        "moving average",
        "beta-binomial",
        "pooled regression",
    } < set(told.methods)
    assert all(0 < one.brier < 1 and one.log_loss > 0 for one in told.methods.values())
    assert sum(one.n for one in told.issued) == 16
    assert sum(one.n for one in told.all_sizes) == 7 * 3 + 7 * 2 + 2 * 2


def test_a_week_with_withdrawn_asks_is_judged_on_those_that_ended() -> None:
    rows = [*weeks("ddd", "ddd"), *weeks("3:dd", start=2)]
    last = judged(rows)[-1]
    assert (last.promised, last.done, last.said[OURS].shape) == (3, (True, True), (2,))


def test_the_most_that_seems_to_reach_the_confidence_is_chosen_and_what_came_of_it_is_told() -> None:
    one = Judged(
        client="Noor, rigger",
        monday=FIRST_MONDAY,
        promised=3,
        done=(True, True, False),
        said={OURS: np.array([0.95, 0.85, 0.6]), "last week": np.array([0.9, 0.82, 0.81])},
    )
    two = replace(one, client="Tomas, survey lead", done=(False, True, True))
    never = replace(one, said={OURS: np.array([0.5, 0.4, 0.3]), "last week": np.array([0.5, 0.4, 0.3])})
    ours, rule = (chosen([one, two, never], method, 0.8) for method in (OURS, "last week"))
    assert ours is not None
    assert (round(ours.said, 9), ours.kept, ours.n) == (0.85, 0.5, 2)
    assert rule is not None
    assert (round(rule.said, 9), rule.kept, rule.n) == (0.81, 0, 2)
    assert chosen([never], OURS, 0.8) is None


def test_choosing_among_noisy_odds_is_too_hopeful_and_among_honest_ones_is_not() -> None:
    """Truth: each client-week's chance of one session; said honestly, or with an error that leaves the average right."""
    rng = np.random.default_rng(3)
    true = rng.beta(6, 4, 3000)
    noisy = np.clip(true + rng.normal(0, 0.15, true.size), 0.01, 0.99)
    weeks_judged = [
        Judged(
            client=f"client {at % 100}",
            monday=FIRST_MONDAY,
            promised=1,
            done=(bool(rng.random() < chance),),
            said={OURS: np.array([chance]), "noisy": np.array([error])},
        )
        for at, (chance, error) in enumerate(zip(true, noisy, strict=True))
    ]
    honest, lucky = chosen(weeks_judged, OURS, 0.8), chosen(weeks_judged, "noisy", 0.8)
    assert honest is not None
    assert lucky is not None
    assert honest.interval is not None
    assert lucky.interval is not None
    assert honest.interval[0] < 0 < honest.interval[1]
    assert lucky.interval[0] > 0.05
    whole = excess(noisy.tolist(), [one.kept for one in weeks_judged], [one.client for one in weeks_judged])
    assert whole is not None
    assert abs(whole.by) < 0.03


def test_the_interval_of_an_excess_counts_clients_not_weeks() -> None:
    said, kept = [0.5] * 40, [True] * 20 + [False] * 20
    alike = excess(said, kept, ["Noor, rigger"] * 20 + ["Tomas, survey lead"] * 20)
    apart = excess(said, kept, range(40))
    assert alike is not None
    assert apart is not None
    assert alike.interval is not None
    assert apart.interval is not None
    assert alike.interval[1] == pytest.approx(
        1.959964 * (2 * (2 * 10**2)) ** 0.5 / 40
    )  # two sums, 10 and -10
    assert apart.interval[1] == pytest.approx(1.959964 * (40 / 39 * 40 * 0.25) ** 0.5 / 40)
    assert excess([0.5], [True], ["Noor, rigger"]) == Excess(said=0.5, kept=1.0, n=1, interval=None)
    assert excess([], [], []) is None


def test_nothing_to_judge_is_said_so() -> None:
    told = audit(by_client(weeks("ddd")), sunday(0))
    assert told.weeks == 0
    assert "no past week" in in_words(told)[0]
    assert "next week" in headline(told)
    assert score([]).parts is None


def test_a_coach_reads_what_was_said_and_what_was_kept() -> None:
    told = replace(
        audit(by_client(CREW), sunday(9)),
        issued=(
            Bin(said=0.4, kept=0.5, n=1, low=0, high=1),
            Bin(said=0.8, kept=0.78125, n=64, low=0.66, high=0.87),
        ),
    )
    assert headline(told).startswith(
        "When we said 80 %, 78 % were kept (64 weeks; chance alone allows 66 to 87 %"
    )
    assert "When we said 40 %, 50 % were kept (1 week, too few to tell)." in in_words(told)
    assert any(line.startswith("Over 1 week this told ") for line in in_words(replace(told, weeks=1)))


def test_the_words_tell_what_choosing_cost() -> None:
    whole = Excess(said=0.6, kept=0.58, n=300, interval=(-0.01, 0.05))
    picked = Excess(said=0.84, kept=0.9, n=1, interval=None)
    told = replace(audit(by_client(CREW), sunday(9)), excess=whole, chosen={OURS: picked})
    words = in_words(told)
    assert "On the whole we said 2.0 points more than was kept, give or take 3.0." in words
    assert any("84 %, and 90 % were kept (1 week): 6.0 points less than was kept." in line for line in words)


@pytest.mark.parametrize("at", [0, 1])
def test_the_picture_puts_every_share_where_it_belongs(at: int) -> None:
    one = Bin(said=0.8, kept=0.6, n=40, low=0.5, high=0.7)
    bins: list[list[Bin]] = [[], []]
    bins[at] = [one]
    image = Image.open(io.BytesIO(draw(bins[0], bins[1], 40))).convert("RGB")
    assert image.size == (WIDTH, HEIGHT)
    blank = Image.open(io.BytesIO(draw([], [], 0))).convert("RGB")
    x, y = (round(each) for each in place(0.8, 0.6, at))
    assert image.getpixel((x, y)) != blank.getpixel((x, y))
    across, low = place(0.8, 0.51, at)
    assert image.getpixel((round(across), round(low))) == image.getpixel((x, y))


def test_of_a_very_long_history_the_last_years_are_judged() -> None:
    rows = weeks(*["d", "m"] * 150)
    first = next(judge(by_client(rows), sunday(299)))
    assert [one.monday for one in first] == [FIRST_MONDAY + 40 * (sunday(1) - sunday(0))]


def test_nothing_is_judged_where_nothing_is_known() -> None:
    assert list(judge(by_client(weeks("??")), sunday(0) - (sunday(1) - sunday(0)))) == []
