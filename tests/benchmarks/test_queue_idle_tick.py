"""What a tick costs while nobody is due, with a thousand and with ten thousand clients."""

import statistics
import time
from pathlib import Path

import pytest

from bot.clock import ManualClock
from bot.house import House
from core.people.model import Client, Coach, Stage
from core.store import house
from core.store import house_tables as t
from core.store.cipher import Cipher, new_key
from core.store.engine import open_store
from core.store.schema import upgrade
from tests.playhouse import WEDNESDAY, a_desk

SIZES, TICKS = (1_000, 10_000), 300


async def milliseconds(tmp_path: Path, clients: int) -> list[float]:
    url, cipher = f"sqlite:///{tmp_path / f'{clients}.db'}", Cipher([new_key()])
    store = open_store(url, cipher, foreign_keys=False)
    await upgrade(store)
    await store.close()
    store = open_store(url, cipher)
    served = House(desk=a_desk(), clock=ManualClock(WEDNESDAY))
    async with store.begin() as tx:
        coach = await house.coaches.add(tx, Coach(id=0, name="Ines Prado", telegram_id=1))
        for n in range(clients):
            new = Client(id=0, coach_id=coach.id, name=f"Client {n}", telegram_id=100 + n, stage=Stage.ACTIVE)
            await house.clients.add(tx, new)
        await tx.execute(t.client.update().values(next_due_at=WEDNESDAY.replace(year=2027)))
    took = []
    for _ in range(TICKS):
        begun = time.perf_counter()
        assert await served.tick(store, WEDNESDAY) == 0
        took.append((time.perf_counter() - begun) * 1000)
    await store.close()
    return took


@pytest.mark.benchmark
async def test_an_idle_tick(tmp_path: Path) -> None:
    medians = {}
    print(f"\n{'clients':>8}{'median ms':>12}{'p95 ms':>10}")
    for size in SIZES:
        took = await milliseconds(tmp_path, size)
        medians[size] = statistics.median(took)
        print(f"{size:>8}{medians[size]:>12.3f}{sorted(took)[int(TICKS * 0.95)]:>10.3f}")
    print(f"ratio {medians[SIZES[1]] / medians[SIZES[0]]:.2f}")
