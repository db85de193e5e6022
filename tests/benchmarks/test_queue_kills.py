"""Kill -9 of the bot at random moments while clients answer: what is lost, what is handled or sent twice.

The real house, on SQLite, over real HTTP to a server on loopback that confirms updates as Telegram does. A stranger's message
is answered with one line; so the replies of 1,000 strangers are 1,000 updates to be handled and answered, and prompts are rows
put into the outbox beforehand.
"""

import asyncio
import datetime as dt
import random
import signal
from collections import Counter
from pathlib import Path

import pytest
from sqlalchemy import func, select

from bot.keys import cipher_for
from bot.settings import Settings
from core.store import outbox
from core.store.engine import open_store
from core.store.lanes import Kind
from core.store.outbox import Outgoing
from core.store.queue_tables import inbox
from core.store.queue_tables import outbox as outbox_table
from tests.bot.commands.process import environment, free_port, running
from tests.bot.queues import message
from tests.fake_api import FakeApi, serving

REPLIES, KILLS, PROMPTS = 1_000, 40, 200
FIRST_CHAT, FIRST_PROMPTED = 10_000, 50_000


@pytest.mark.benchmark
async def test_kills_while_clients_answer(tmp_path: Path) -> None:
    chance = random.Random(20261125)
    url = f"sqlite:///{tmp_path / 'k.db'}"
    async with serving(FakeApi(latency_s=0.002)) as server:
        env = environment(url, server.url, free_port())
        async with running(env):
            pass
        await _put_prompts(url)
        arriving = asyncio.create_task(_answer(server))
        kills = 0
        while kills < KILLS or not arriving.done():
            async with running(env) as process:
                await asyncio.sleep(chance.uniform(0.0, 1.2))
                if kills < KILLS:
                    process.send_signal(signal.SIGKILL)
                    await process.wait()
                    kills += 1
        async with running(env):
            async with asyncio.timeout(240):
                while await _left(url):  # noqa: ASYNC110 - what is waited for happens in another process
                    await asyncio.sleep(0.5)
        await _report(server, url, kills)


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
                not_before=now + dt.timedelta(seconds=n / 2),
            )
            await outbox.enqueue(tx, prompt, at=now)
    await store.close()


async def _answer(server: FakeApi) -> None:
    for n in range(REPLIES):
        server.arrive(message(n + 1, f"done {n}", chat=FIRST_CHAT + n))
        await asyncio.sleep(0.05)


async def _left(url: str) -> int:
    store = open_store(url, cipher_for(Settings(database_url=url)))
    async with store.reading() as tx:
        waiting = select(func.count()).where(inbox.c.state == "waiting")
        unsent = select(func.count()).where(outbox_table.c.state.in_(["waiting", "sending"]))
        left = (await tx.execute(waiting)).scalar_one() + (await tx.execute(unsent)).scalar_one()
        stored = (await tx.execute(select(func.count()).select_from(inbox))).scalar_one()
    await store.close()
    return int(left + REPLIES - stored)


async def _report(server: FakeApi, url: str, kills: int) -> None:
    store = open_store(url, cipher_for(Settings(database_url=url)))
    async with store.reading() as tx:
        handled = (await tx.execute(select(func.count()).where(inbox.c.state == "handled"))).scalar_one()
        states = (
            await tx.execute(
                select(outbox_table.c.kind, outbox_table.c.state, func.count()).group_by("kind", "state")
            )
        ).all()
        replies = (await tx.execute(select(func.count()).where(outbox_table.c.kind == "reply"))).scalar_one()
        uncertain = (
            await tx.execute(select(outbox_table.c.key).where(outbox_table.c.state == "uncertain"))
        ).scalars()
        doubtful = list(uncertain)
    await store.close()
    taken = server.taken()
    to_chat = Counter(int(call.parameters["chat_id"]) for call in taken)
    prompts = {c: n for c, n in to_chat.items() if c >= FIRST_PROMPTED}
    answers = {c: n for c, n in to_chat.items() if c < FIRST_PROMPTED}
    rows = [
        ("kills", kills),
        ("replies written by clients", REPLIES),
        ("replies lost (not handled)", REPLIES - handled),
        ("handled twice (answers enqueued beyond one each)", max(0, replies - REPLIES)),
        ("clients who were answered", len(answers)),
        ("answers sent again because the first may not have arrived", sum(n - 1 for n in answers.values())),
        ("prompts due", PROMPTS),
        ("prompts sent", len(prompts)),
        ("prompts sent twice", sum(n > 1 for n in prompts.values())),
        ("prompts of uncertain fate, not sent again", len(doubtful)),
        (
            "  of these, had arrived",
            sum(FIRST_PROMPTED + int(key.split("/")[1]) in prompts for key in doubtful),
        ),
    ]
    print("\nkill -9 at random moments, SQLite, real HTTP")
    for name, value in rows:
        print(f"  {name:<62}{value:>7}")
    print(f"  uncertain: {', '.join(doubtful) or 'none'}")
    print(f"  outbox: {', '.join(f'{kind} {state} {count}' for kind, state, count in states)}")
    assert handled == REPLIES
    assert replies == REPLIES
    assert all(n == 1 for n in prompts.values())
    assert len(answers) == REPLIES
