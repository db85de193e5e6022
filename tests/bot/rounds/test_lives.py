"""Simulated weeks against the rules: no ask without an end, none counted twice, none outside its week, no prompt twice or at night.

A few lives go through the whole house on SQLite, forecast and all; many more through the house in memory, with a forecast by dice.
"""

import random

import pytest

from core.store.engine import Store
from tests.bot.rounds.direct_store import direct_store
from tests.bot.rounds.lives import Lives
from tests.bot.rounds.memory_store import in_memory
from tests.bot.rounds.quickly import live_quickly
from tests.bot.rounds.short_ways import short_ways
from tests.playhouse import COACH_ID, Play

QUICK, CLIENTS, WEEKS = 60, 3, 12  # lives of so many clients and weeks: 2160 client-weeks


@pytest.mark.parametrize("seed", range(6))
async def test_whatever_happens_the_rules_of_the_week_hold(seed: int) -> None:
    lives = Lives(Play(direct_store()), random.Random(seed))
    await lives.enter(3)
    await lives.live(5)
    assert lives.witness.said.total() > 20, "nothing happened that could have broken a rule"
    assert lives.witness.faults == []


@pytest.mark.parametrize("first", range(0, QUICK, 6))
async def test_in_thousands_of_weeks_the_rules_hold(first: int) -> None:
    for seed in range(first, first + 6):
        lives = await live_quickly(seed, clients=CLIENTS, weeks=WEEKS)
        assert lives.witness.said.total() > 20, "nothing happened that could have broken a rule"
        assert lives.witness.faults == [], f"seed {seed}"


async def test_a_life_in_memory_is_the_same_life_as_on_sqlite() -> None:
    """The store of dictionaries answers as a database does: the same dice, the same words, at the same instants."""
    on_sqlite = await _everything_said(direct_store())
    with short_ways():
        in_short = await _everything_said(in_memory())
    assert len(on_sqlite) > 100
    assert await _everything_said(in_memory()) == on_sqlite
    assert in_short == on_sqlite


async def _everything_said(store: Store) -> list[tuple[str, str, str, list[str]]]:
    lives = Lives(Play(store), random.Random(8))
    await lives.enter(2)
    await lives.live(4)
    said = [m for chat in (COACH_ID, *lives.clients) for m in await lives.play.waiting(chat)]
    return [(m.key, m.kind, m.text, list(m.buttons)) for m in said]
