"""A database that fails for a while: the loops begin again, and what was written meanwhile is answered."""

import asyncio
import contextlib
import logging
import sqlite3

import pytest
from pydantic import SecretStr
from sqlalchemy import make_url

from bot import wiring
from bot.bot_api import BotApi
from bot.clock import SystemClock
from bot.settings import Settings
from bot.wiring import assemble, house_for, run
from core.store import engine
from core.store.cipher import Cipher
from core.store.engine import open_store
from tests.bot.queues import message
from tests.fake_api import TOKEN, FakeApi, serving


async def test_a_database_that_somebody_else_held_ends_nothing(
    sqlite_url: str, cipher: Cipher, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr(engine, "BUSY_TIMEOUT_S", 0)
    monkeypatch.setattr(wiring, "FIRST_PAUSE_S", 0.01)
    store, clock, stopping = open_store(sqlite_url, cipher), SystemClock(), asyncio.Event()
    async with asyncio.timeout(60), serving(FakeApi()) as server:
        api = BotApi(TOKEN, server.url)
        await api.open()
        settings = Settings(bot_token=SecretStr(TOKEN), bot_api_url=server.url, listen="127.0.0.1:0")
        parts = assemble(settings, store, api, house_for(TOKEN, "a_bot", clock), clock=clock, machine=clock)
        with caplog.at_level(logging.WARNING), contextlib.closing(_another_process(sqlite_url)) as other:
            other.execute("BEGIN IMMEDIATE")
            running = asyncio.create_task(run(parts, stopping))
            await _until_said(caplog, "another process is writing to it")
            server.arrive(message(1, "hello"))
            other.rollback()
            while not server.texts():  # noqa: ASYNC110 - both run on real time
                await asyncio.sleep(0.01)
            stopping.set()
            await running
        await api.close_connections()
    await store.close()


def _another_process(url: str) -> sqlite3.Connection:
    return sqlite3.connect(str(make_url(url).database))


async def _until_said(caplog: pytest.LogCaptureFixture, words: str) -> None:
    while words not in caplog.text:  # noqa: ASYNC110 - both run on real time
        await asyncio.sleep(0.01)


async def test_any_other_fault_ends_a_loop() -> None:
    async def broken(_stopping: asyncio.Event) -> None:
        raise ValueError("a fault of ours")

    with pytest.raises(ValueError, match="a fault of ours"):
        await wiring.begin_again("a loop", broken, asyncio.Event())
