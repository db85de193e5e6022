"""Memory of the bot with a thousand clients, the gazetteer read, and how long it takes to be ready."""

import asyncio
import time
from pathlib import Path

import psutil  # type: ignore[import-untyped]
import pytest

from bot.keys import cipher_for
from bot.settings import Settings
from core.people.model import Client, Coach, Stage
from core.store import house
from core.store.engine import open_store
from tests.bot.commands.process import environment, free_port, running
from tests.bot.queues import message
from tests.fake_api import FakeApi, serving

CLIENTS, REPLIES = 1_000, 200
FIRST = 1_000  # the first client's chat


@pytest.mark.benchmark
async def test_memory_and_start_of_serve(tmp_path: Path) -> None:
    async with serving(FakeApi()) as server:
        url = f"sqlite:///{tmp_path / 'k.db'}"
        env = environment(url, server.url, free_port())
        async with running(env):  # lays out the tables
            pass
        await _enrol(url)
        starts, fresh = [], 0.0
        for _ in range(5):
            began = time.monotonic()
            async with running(env) as process:
                starts.append(time.monotonic() - began)
                fresh = _resident(process.pid)
        async with running(env) as process:
            server.arrive(*(message(n + 1, "done", chat=FIRST + n) for n in range(REPLIES)))
            async with asyncio.timeout(60):
                while len(server.taken()) < REPLIES:  # noqa: ASYNC110
                    await asyncio.sleep(0.1)
            server.arrive(message(REPLIES + 1, "in Tromsø 3-7 Dec", chat=FIRST))
            async with asyncio.timeout(60):
                while not any("Troms" in text for text in server.texts()):  # noqa: ASYNC110
                    await asyncio.sleep(0.1)
            after = _resident(process.pid)
    print(f"\nserve, {CLIENTS} clients")
    print(f"  start to ready, median of 5    {sorted(starts)[2]:8.2f} s")
    print(f"  resident when ready            {fresh:8.1f} MiB")
    print(f"  resident after 200 replies     {after:8.1f} MiB, and a city looked up")


def _resident(pid: int) -> float:
    return float(psutil.Process(pid).memory_info().rss) / 2**20


async def _enrol(url: str) -> None:
    store = open_store(url, cipher_for(Settings(database_url=url)))
    async with store.begin() as tx:
        coach = await house.coaches.add(tx, Coach(id=0, name="Ines Prado", telegram_id=1))
        for n in range(CLIENTS):
            client = Client(
                id=0, coach_id=coach.id, name=f"Client {n}", telegram_id=FIRST + n, stage=Stage.ACTIVE
            )
            await house.clients.add(tx, client)
    await store.close()
