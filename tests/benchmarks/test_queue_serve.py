"""Memory of the bot, and how long it takes to be ready."""

import asyncio
import time
from pathlib import Path

import psutil  # type: ignore[import-untyped]
import pytest

from tests.bot.commands.process import environment, free_port, running
from tests.bot.queues import message
from tests.fake_api import FakeApi, serving


@pytest.mark.benchmark
async def test_memory_and_start_of_serve(tmp_path: Path) -> None:
    async with serving(FakeApi()) as server:
        env = environment(f"sqlite:///{tmp_path / 'k.db'}", server.url, free_port())
        async with running(env):  # lays out the tables
            pass
        starts, fresh = [], 0.0
        for _ in range(5):
            began = time.monotonic()
            async with running(env) as process:
                starts.append(time.monotonic() - began)
                fresh = psutil.Process(process.pid).memory_info().rss / 2**20
        async with running(env) as process:
            server.arrive(*(message(n, "done", chat=n) for n in range(1, 201)))
            async with asyncio.timeout(60):
                while len(server.taken()) < 200:  # noqa: ASYNC110
                    await asyncio.sleep(0.1)
            after = psutil.Process(process.pid).memory_info().rss / 2**20
    print("\nserve")
    print(f"  start to ready, median of 5    {sorted(starts)[2]:8.2f} s")
    print(f"  resident when ready            {fresh:8.1f} MiB")
    print(f"  resident after 200 replies     {after:8.1f} MiB")
