"""The audit uses nothing that was not known, judges the weeks that it should, and says it plainly."""

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from core.adherence.audit import OURS, Judged, audit, judge, optimism, score
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


def test_optimism_is_what_was_said_beyond_what_was_kept_and_nothing_where_there_is_little_to_go_by() -> None:
    said, kept = np.full(450, 0.9), np.r_[np.ones(360), np.zeros(90)]
    assert optimism(said, kept) == pytest.approx(0.09)
    assert optimism(said[:5], kept[-5:]) < 0.1
    assert optimism(np.full(100, 0.5), np.ones(100)) == 0


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


def test_the_picture_puts_every_share_where_it_belongs() -> None:
    one = Bin(said=0.8, kept=0.6, n=40, low=0.5, high=0.7)
    image = Image.open(io.BytesIO(draw([one], weeks=40))).convert("RGB")
    assert image.size == (WIDTH, HEIGHT)
    blank = Image.open(io.BytesIO(draw([], weeks=0))).convert("RGB")
    x, y = (round(each) for each in place(0.8, 0.6))
    assert image.getpixel((x, y)) != blank.getpixel((x, y))
    across, low = place(0.8, 0.51)
    assert image.getpixel((round(across), round(low))) == image.getpixel((x, y))
