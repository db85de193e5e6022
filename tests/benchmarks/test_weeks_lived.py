"""Many simulated weeks against the rules of the week: how many, how fast, and what was broken."""

import random
import time

import pytest

from tests.bot.rounds.direct_store import direct_store
from tests.bot.rounds.lives import Lives
from tests.playhouse import Play

SEEDS, CLIENTS, WEEKS = 60, 4, 8


@pytest.mark.benchmark
async def test_simulated_weeks() -> None:
    begun = time.perf_counter()
    broken: list[str] = []
    unasked = outages = 0
    for seed in range(1000, 1000 + SEEDS):
        lives = Lives(Play(direct_store()), random.Random(seed))
        await lives.enter(CLIENTS)
        await lives.live(WEEKS)
        broken += [f"seed {seed}: {fault}" for fault in lives.witness.faults]
        unasked += lives.witness.said.total()
        outages += lives.outages
    took = time.perf_counter() - begun
    lived = SEEDS * CLIENTS * WEEKS
    print(
        f"\n{'client-weeks':<16}{'unasked':>10}{'outages':>10}{'broken rules':>14}{'client-weeks a second':>24}"
    )
    print(f"{lived:<16}{unasked:>10}{outages:>10}{len(broken):>14}{lived / took:>24.1f}")
    assert broken == []
