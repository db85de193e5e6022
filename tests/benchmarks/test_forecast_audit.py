"""How hopeful the odds are where a promise is chosen by them, beside the simple rules: the audit of a crowd."""

import datetime as dt

import pytest

from bot.commands.audit import as_table
from core.adherence.audit import OURS, judge, score
from tests.benchmarks.crowd import FIRST_MONDAY, crowd

pytestmark = pytest.mark.benchmark

CLIENTS, WEEKS = 200, 26
SEEDS = (21, 22, 23)


def test_choosing_by_our_odds_is_hardly_too_hopeful_and_by_last_week_much() -> None:
    end = FIRST_MONDAY + dt.timedelta(weeks=WEEKS, days=-1)
    judged = [
        week for seed in SEEDS for weeks in judge(crowd(CLIENTS, WEEKS, seed), end) for week in weeks
    ]  # clients of one name in several crowds make the intervals a little wide
    told = score(judged)
    print(f"\n{len(SEEDS)} crowds of {CLIENTS}, {WEEKS} weeks")
    print(as_table(told))
    ours, last = told.chosen[OURS], told.chosen["last week"]
    assert ours is not None
    assert ours.interval is not None
    assert last is not None
    assert ours.interval[0] < 0.02
    assert last.by > 0.05
    assert told.methods[OURS].log_loss == min(score.log_loss for score in told.methods.values())
