"""300 prompts due at once, against a server that enforces 30 a second and one a second to a chat; people answer meanwhile."""

import asyncio
import datetime as dt
import random
import time
from pathlib import Path
from typing import Any

import pytest

from bot.keys import cipher_for
from bot.settings import Settings
from core.store import outbox
from core.store.engine import open_store
from core.store.lanes import Kind
from core.store.outbox import Outgoing
from tests.bot.commands.process import environment, free_port, running
from tests.bot.queues import message
from tests.fake_api import Call, FakeApi, serving

PROMPTS, ALLOWED = 300, 30
FIRST_PROMPTED, FIRST_TAPPING = 50_000, 90_000


@pytest.mark.benchmark
async def test_a_broadcast_uses_what_is_allowed_and_nobody_waits_for_it(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'k.db'}"
    chance = random.Random(7)
    async with serving(FakeApi(enforce=True, latency_s=0.03)) as server:
        env = environment(url, server.url, free_port())
        async with running(env):
            written: dict[str, float] = {}
            waits: list[float] = []
            finished = asyncio.Event()

            def note(call: Call) -> None:
                chat = str(call.parameters.get("chat_id"))
                if chat in written:
                    waits.append(call.at - written.pop(chat))
                if sum(1 for c in server.taken() if int(c.parameters["chat_id"]) < FIRST_TAPPING) >= PROMPTS:
                    finished.set()

            server.on_taken = note
            began = time.monotonic()
            await _put_prompts(url)
            writing = asyncio.create_task(_write(server, written, chance))
            async with asyncio.timeout(60):
                await finished.wait()
            writing.cancel()
            await asyncio.sleep(1.5)
        _report(server, waits, began)


async def _put_prompts(url: str) -> None:
    store = open_store(url, cipher_for(Settings(database_url=url)))
    now = dt.datetime.now(dt.UTC)  # noqa: TID251 - the bot under test has the machine's clock
    async with store.begin() as tx:
        for n in range(PROMPTS):
            prompt = Outgoing(
                key=f"prompt/{n}",
                chat_id=FIRST_PROMPTED + n,
                kind=Kind.OFFER,
                method="sendMessage",
                payload={"text": f"prompt {n}"},
            )
            await outbox.enqueue(tx, prompt, at=now)
    await store.close()


async def _write(server: FakeApi, written: dict[str, float], chance: random.Random) -> None:
    for n in range(1000):
        await asyncio.sleep(chance.expovariate(2.0))
        written[str(FIRST_TAPPING + n)] = time.monotonic()
        server.arrive(message(n + 1, "done", chat=FIRST_TAPPING + n))


def _report(server: FakeApi, waits: list[float], began: float) -> None:
    sends: list[Any] = [call for call in server.taken() if call.at >= began]
    times = sorted(call.at for call in sends)
    last_prompt = max(c.at for c in sends if int(c.parameters["chat_id"]) < FIRST_TAPPING)
    busy = [t for t in times if t <= last_prompt]
    rate = (len(busy) - 1) / (busy[-1] - busy[0])
    most = max(sum(1 for t in times if start <= t < start + 1) for start in times)
    ordered = sorted(waits)
    rows = [
        ("prompts", PROMPTS, "d"),
        ("replies answered meanwhile", len(waits), "d"),
        ("seconds from first to last", busy[-1] - busy[0], ".2f"),
        ("messages a second", rate, ".2f"),
        ("share of the allowed 30/s, %", 100 * rate / ALLOWED, ".1f"),
        ("most in any second", most, "d"),
        ("refused (429)", server.refusals, "d"),
        ("wait of a reply, median s", ordered[len(ordered) // 2], ".3f"),
        ("wait of a reply, p99 s", ordered[min(len(ordered) - 1, int(len(ordered) * 0.99))], ".3f"),
    ]
    print("\n300 prompts due at once, limits enforced, 30 ms a call")
    for name, value, how in rows:
        print(f"  {name:<40}{value:>10{how}}")
    assert server.refusals == 0
