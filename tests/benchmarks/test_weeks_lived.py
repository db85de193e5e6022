"""A hundred thousand simulated client-weeks against the rules of the week: how many, how fast, what was seen, what was broken.

In ten parts, of which one can be run alone: `pytest tests/benchmarks/test_weeks_lived.py -m benchmark -s -k part3`.
"""

import asyncio
import random
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest

from tests.bot.rounds.direct_store import direct_store
from tests.bot.rounds.lives import Lives
from tests.bot.rounds.quickly import live_quickly
from tests.playhouse import Play

PARTS, LIVES, CLIENTS, WEEKS = 10, 280, 3, 12  # ten times 10,080 client-weeks
PROCESSES = 2
pytestmark = [pytest.mark.benchmark, pytest.mark.timeout(3600)]


def lived(seed: int) -> tuple[Counter[str], list[str], float]:
    """One life: what was seen in it, what was broken, and the processor's seconds."""
    begun = time.process_time()
    lives = asyncio.run(live_quickly(seed, clients=CLIENTS, weeks=WEEKS))
    seen = Counter({f"said: {kind}": number for kind, number in lives.witness.said.items()})
    seen += lives.witness.seen + Counter({f"did: {doing}": number for doing, number in lives.did.items()})
    seen["outage"] += lives.outages
    broken = [f"seed {seed}: {fault}" for fault in lives.witness.faults]
    return seen, broken, time.process_time() - begun


@pytest.mark.parametrize("part", range(PARTS), ids=lambda part: f"part{part}")
def test_simulated_weeks_in_memory(part: int) -> None:
    begun = time.perf_counter()
    seen, broken, processor = Counter[str](), list[str](), 0.0
    seeds = range(10_000 + part * LIVES, 10_000 + (part + 1) * LIVES)
    with ProcessPoolExecutor(PROCESSES, mp_context=get_context("spawn")) as pool:
        for saw, broke, took in pool.map(lived, seeds, chunksize=4):
            seen += saw
            broken += broke
            processor += took
    number, wall = LIVES * CLIENTS * WEEKS, time.perf_counter() - begun
    print(f"\npart {part}: {number} client-weeks, {number / wall:.0f} a second on {PROCESSES} processes")
    print(f"({number / processor:.0f} a second of one processor); broken rules: {len(broken)}")
    for name, times in sorted(seen.items()):
        print(f"  {name:<34}{times:>9}")
    print("\n".join(broken))
    assert broken == []


async def test_simulated_weeks_on_sqlite() -> None:
    """The whole house with its forecast, as it is: slower, and every query real."""
    begun, seeds, weeks = time.perf_counter(), 15, 8
    broken: list[str] = []
    for seed in range(1000, 1000 + seeds):
        lives = Lives(Play(direct_store()), random.Random(seed))
        await lives.enter(CLIENTS)
        await lives.live(weeks)
        broken += [f"seed {seed}: {fault}" for fault in lives.witness.faults]
    number, wall = seeds * CLIENTS * weeks, time.perf_counter() - begun
    print(f"\n{number} client-weeks on SQLite, {number / wall:.1f} a second; broken rules: {len(broken)}")
    assert broken == []
