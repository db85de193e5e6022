"""Simulated weeks against the rules: no ask without an end, none counted twice, none outside its week, no prompt twice or at night."""

import random

import pytest

from tests.bot.rounds.direct_store import direct_store
from tests.bot.rounds.lives import Lives
from tests.playhouse import Play


@pytest.mark.parametrize("seed", range(6))
async def test_whatever_happens_the_rules_of_the_week_hold(seed: int) -> None:
    lives = Lives(Play(direct_store()), random.Random(seed))
    await lives.enter(3)
    await lives.live(5)
    assert lives.said.total() > 20, "nothing happened that could have broken a rule"
    assert lives.faults == []
