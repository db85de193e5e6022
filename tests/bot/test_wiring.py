"""Whether a bot that is not well says so."""

import datetime as dt
from collections.abc import AsyncIterator

import pytest
from pydantic import SecretStr
from sqlalchemy import make_url
from telegram.error import TelegramError

from bot import wiring
from bot.bot_api import BotApi
from bot.clock import ManualClock
from bot.settings import Settings
from bot.wiring import Parts, assemble, house_for, metrics, unready
from core.people.model import Client, Coach
from core.store import house
from core.store.cipher import Cipher
from core.store.engine import Store, open_store, sqlite_file
from core.store.schema import downgrade
from core.usecases.keeping import erase
from tests.bot.queues import MINUTE, NOON
from tests.fake_api import TOKEN


@pytest.fixture
async def parts(store: Store) -> AsyncIterator[Parts]:
    clock = ManualClock(NOON)
    settings = Settings(bot_token=SecretStr(TOKEN))
    api = BotApi(TOKEN, "http://127.0.0.1:9")
    await api.open()
    yield assemble(settings, store, api, house_for(TOKEN, "invented_bot", clock), clock=clock, machine=clock)
    await api.close_connections()


def _move(parts: Parts, by: dt.timedelta) -> None:
    assert isinstance(parts.machine, ManualClock)
    parts.machine.advance(by)


async def test_a_bot_that_has_just_begun_is_ready(parts: Parts) -> None:
    assert await unready(parts) == []


async def test_a_metronome_that_fails_is_noticed(parts: Parts) -> None:
    _move(parts, 3 * MINUTE)
    (said,) = await unready(parts)
    assert said.startswith("no tick has succeeded since 12:00 UTC")
    assert 'keptword_seconds_since{what="tick"} 180.0' in await metrics(parts)


async def test_a_silent_server_is_noticed(parts: Parts) -> None:
    parts.receiver.troubled_since = parts.machine.now()
    _move(parts, 3 * MINUTE)
    parts.pulse.ticked_at = parts.machine.now()
    assert await unready(parts) == ["the server has not answered a poll since 12:00 UTC"]
    with pytest.raises(TelegramError):
        await parts.receiver.poll_once(0)


async def test_an_old_schema_is_noticed(parts: Parts, store_url: str, cipher: Cipher) -> None:
    old = open_store(store_url, cipher, foreign_keys=False)
    await downgrade(old, "0001")
    await old.close()
    (said,) = await unready(parts)
    assert "run 'keptword migrate'" in said


def test_every_worker_signs_buttons_alike() -> None:
    clock = ManualClock(NOON)
    first, second = (house_for(TOKEN, "invented_bot", clock) for _ in range(2))
    assert first == second
    assert first != house_for(TOKEN.replace("nobody", "somebody"), "invented_bot", clock)


async def test_within_the_hour_nothing_is_left_on_the_disk_of_who_was_erased(
    sqlite_url: str, cipher: Cipher
) -> None:
    name, store, clock = "Xanthippe Quill", open_store(sqlite_url, cipher), ManualClock(NOON)
    api = BotApi(TOKEN, "http://127.0.0.1:9")
    settings = Settings(bot_token=SecretStr(TOKEN))
    parts = assemble(settings, store, api, house_for(TOKEN, "a_bot", clock), clock=clock, machine=clock)
    async with store.begin() as tx:
        coach = await house.coaches.add(tx, Coach(id=0, name="Ines Prado"))
        client = await house.clients.add(tx, Client(id=0, coach_id=coach.id, name=name))
    assert name.encode() in _on_the_disk(sqlite_url)
    async with store.begin() as tx:
        await erase(tx, client)
    (tidy,) = (beat for beat in wiring._beats(parts) if beat.name == "housekeeping")
    await tidy.work(NOON)
    assert name.encode() not in _on_the_disk(sqlite_url)
    await store.close()


def _on_the_disk(url: str) -> bytes:
    file = sqlite_file(make_url(url))
    return b"".join(each.read_bytes() for each in sorted(file.parent.glob(f"{file.name}*")))
