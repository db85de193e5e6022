"""Two transactions about one person at once, on PostgreSQL: neither may undo what the other wrote."""

import asyncio
import datetime as dt
from collections.abc import AsyncIterator, Awaitable
from contextlib import asynccontextmanager
from dataclasses import replace
from typing import Any

import pytest
from sqlalchemy import text
from sqlalchemy.ext.asyncio import AsyncConnection

from core.people.model import Client, Stage
from core.store import house, outbox
from core.store.cipher import Cipher
from core.store.engine import Store, open_store
from core.store.lanes import Kind, State
from core.store.outbox import Outgoing
from tests.playhouse import CLIENT_ID, COACH_ID, Play, queued

SOMEBODY, SOMEBODY_ELSE = 7201, 7202


@pytest.fixture
async def play(postgresql_url: str, cipher: Cipher) -> AsyncIterator[Play]:
    store = open_store(postgresql_url, cipher)
    yield Play(store)
    await store.close()


@asynccontextmanager
async def meanwhile(store: Store, other: Awaitable[Any]) -> AsyncIterator[AsyncConnection]:
    """A transaction that is not over when ``other`` begins: it ends once that waits for it."""
    async with asyncio.TaskGroup() as both, store.begin() as tx:
        yield tx
        both.create_task(_awaited(other))
        while not await _somebody_waits(store):
            pass


async def _awaited(other: Awaitable[Any]) -> None:
    await other


async def _somebody_waits(store: Store) -> bool:
    async with store.reading() as tx:
        waiting = await tx.execute(text("SELECT count(*) FROM pg_locks WHERE NOT granted"))
    return bool(waiting.scalar_one())


async def _now(store: Store, client: Client) -> Client:
    async with store.reading() as tx:
        return await house.clients.get(tx, client.id)


async def test_a_client_who_stops_leaves_what_the_coach_sets_meanwhile(play: Play) -> None:
    await play.coach()
    client = await play.client()
    async with meanwhile(play.store, play.says(CLIENT_ID, "/stop")) as tx:
        await house.clients.save(tx, replace(await house.clients.lock(tx, client.id), floor=2))
    after = await _now(play.store, client)
    assert (after.stage, after.floor) == (Stage.STOPPED, 2)


async def test_a_coach_who_sets_a_floor_wakes_nobody_who_stops_meanwhile(play: Play) -> None:
    await play.coach()
    client = await play.client()
    await play.says(COACH_ID, "/clients")
    await play.presses(COACH_ID, client.name)
    await play.presses(COACH_ID, "The least")
    async with meanwhile(play.store, play.presses(COACH_ID, "2")) as tx:
        await house.clients.save(tx, replace(await house.clients.lock(tx, client.id), stage=Stage.STOPPED))
    after = await _now(play.store, client)
    assert (after.stage, after.floor) == (Stage.STOPPED, 2)


async def test_a_client_who_blocks_us_keeps_what_the_coach_sets_meanwhile(play: Play) -> None:
    await play.coach()
    client = await play.client()
    row = await _sent(
        play, Outgoing(key="a prompt", chat_id=CLIENT_ID, kind=Kind.PROMPT, method="sendMessage", payload={})
    )

    async def ended() -> None:
        async with play.store.begin() as tx:
            await play.house.ended(tx, row, State.UNREACHABLE)

    async with meanwhile(play.store, ended()) as tx:
        await house.clients.save(tx, replace(await house.clients.lock(tx, client.id), floor=2))
    after = await _now(play.store, client)
    assert (after.unreachable, after.floor) == (True, 2)


async def _sent(play: Play, message: Outgoing) -> outbox.Queued:
    async with play.store.begin() as tx:
        await outbox.enqueue(tx, message, at=play.at)
        return await queued(tx, message.key)


async def test_a_link_that_two_people_open_at_once_lets_one_of_them_in(play: Play) -> None:
    await play.coach()
    token = await play.invitation(COACH_ID, "Mara")
    async with meanwhile(play.store, play.says(SOMEBODY_ELSE, f"/start {token}")) as tx:
        await play.house.handle(tx, _opens_link(SOMEBODY, token, play.at), play.at)
    async with play.store.reading() as tx:
        found = [await house.client_by_telegram(tx, user) for user in (SOMEBODY, SOMEBODY_ELSE)]
    assert [each.name if each else None for each in found] == ["Mara", None]


def _opens_link(user: int, token: str, at: dt.datetime) -> dict[str, Any]:
    message = {
        "message_id": 1,
        "date": int(at.timestamp()),
        "chat": {"id": user, "type": "private"},
        "from": {"id": user, "first_name": "Somebody"},
        "text": f"/start {token}",
    }
    return {"update_id": 900_001, "message": message}
