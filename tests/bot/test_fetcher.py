"""Files that people send, over real HTTP: fetched outside of any transaction, once for good, in order within a chat."""

import asyncio
from collections.abc import AsyncIterator, Mapping
from typing import Any

import pytest
from sqlalchemy import select
from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.files import Wanted
from bot.dispatcher import FETCH_ATTEMPTS, FETCH_LEASE, FETCHES, MAX_ATTEMPTS, Dispatcher
from bot.fetcher import Fetcher
from core.errors import Refused
from core.store.engine import Store
from core.store.queue_tables import inbox
from tests.bot.queues import HOUR, MINUTE, Queues, message, queues_on
from tests.fake_api import BAD_GATEWAY, LOST_ANSWER, TOO_MANY, Answer, refused

LARGEST = 1000


def document(update_id: int, *, chat: int = 7, file_id: str = "a", size: int = 3) -> dict[str, Any]:
    sent = message(update_id, "", chat=chat)
    sent["message"]["document"] = {"file_id": file_id, "file_name": "x.csv", "file_size": size}
    return sent


def read(content: bytes) -> str:
    if content == b"poison":
        raise ZeroDivisionError
    if content == b"bad":
        raise Refused("row 3 is wrong", "row 5 is wrong")
    return content.decode()


async def wants(_tx: AsyncConnection, update: Mapping[str, Any], _at: object) -> Wanted | None:
    file = update["message"].get("document")
    return Wanted(file["file_id"], LARGEST, read) if file and file["file_size"] <= LARGEST else None


@pytest.fixture
async def fetching(store: Store) -> AsyncIterator[Queues]:
    async with queues_on(store) as queues:
        queues.dispatcher._fetcher = Fetcher(store, queues.api, wants)
        queues.server.files["a"] = b"a,b"
        yield queues


async def handle_all(queues: Queues) -> None:
    while await queues.dispatcher.handle_next() or queues.dispatcher._fetches:
        await queues.dispatcher.finish()


async def said(queues: Queues) -> list[str]:
    await queues.send_all()
    return queues.server.texts()


async def test_a_file_is_fetched_and_handled_with_its_message(fetching: Queues) -> None:
    await fetching.receiver.take([document(1)])
    await handle_all(fetching)
    assert await said(fetching) == ["heard: a,b"]
    assert await fetching.inbox_states() == ["handled"]


async def test_nothing_is_open_in_the_database_while_a_file_is_fetched(fetching: Queues) -> None:
    during: list[int] = []
    pool = fetching.store.engine.sync_engine.pool

    def look(call: Any) -> None:
        if call.method in {"getFile", "download"}:
            during.append(pool.checkedout())  # type: ignore[attr-defined]

    fetching.server.on_taken = look
    await fetching.receiver.take([document(1)])
    await handle_all(fetching)
    assert during == [0, 0]


async def test_the_chat_waits_for_its_file_and_the_others_do_not(fetching: Queues) -> None:
    fetching.server.next("download", Answer(after_s=0.3))
    await fetching.receiver.take([document(1), message(2, "after it"), message(3, "other", chat=8)])
    while await fetching.dispatcher.handle_next():
        pass
    assert [u["update_id"] for u in fetching.house.handled] == [3]
    await fetching.dispatcher.finish()
    await handle_all(fetching)
    assert [u["update_id"] for u in fetching.house.handled] == [3, 1, 2]


@pytest.mark.parametrize(
    "trouble", [BAD_GATEWAY, LOST_ANSWER, TOO_MANY, refused(400, "Bad Request: temporarily unavailable")]
)
@pytest.mark.parametrize("method", ["getFile", "download"])
async def test_trouble_on_the_way_is_tried_again(fetching: Queues, method: str, trouble: Answer) -> None:
    fetching.server.next(method, trouble, trouble)
    await fetching.receiver.take([document(1), message(2, "after it")])
    for _ in range(3):
        await handle_all(fetching)
        fetching.machine.advance(HOUR)
    assert await said(fetching) == ["heard: a,b", "heard: after it"]


async def test_a_server_that_asks_for_patience_gets_it(fetching: Queues) -> None:
    fetching.server.next("getFile", refused(429, "Too Many Requests: retry after 600", retry_after=600))
    await fetching.receiver.take([document(1)])
    await handle_all(fetching)
    fetching.machine.advance(9 * MINUTE)
    assert not await fetching.dispatcher.handle_next()
    fetching.machine.advance(2 * MINUTE)
    await handle_all(fetching)
    assert await said(fetching) == ["heard: a,b"]


async def test_a_file_that_cannot_be_had_is_told_of_in_a_sentence(fetching: Queues) -> None:
    fetching.server.always["download"] = BAD_GATEWAY
    await fetching.receiver.take([document(1)])
    for _ in range(FETCH_ATTEMPTS + 1):
        await handle_all(fetching)
        fetching.machine.advance(HOUR)
    [sentence] = await said(fetching)
    assert "could not get the file from Telegram" in sentence
    assert len([call for call in fetching.server.calls if call.method == "getFile"]) == FETCH_ATTEMPTS
    assert await fetching.inbox_states() == ["handled"]


async def test_a_file_larger_than_it_said_is_not_taken(fetching: Queues) -> None:
    fetching.server.files["a"] = b"x" * (LARGEST + 1)
    await fetching.receiver.take([document(1, size=0)])
    await handle_all(fetching)
    assert "too large" in (await said(fetching))[0]
    assert not fetching.server.taken("download")


async def test_a_file_too_large_for_any_bot_is_told_of_at_once(fetching: Queues) -> None:
    fetching.server.always["getFile"] = refused(400, "Bad Request: file is too big")
    await fetching.receiver.take([document(1, size=0)])
    await handle_all(fetching)
    assert "too large" in (await said(fetching))[0]


async def test_what_is_not_wanted_is_not_fetched(fetching: Queues) -> None:
    await fetching.receiver.take([document(1, size=LARGEST + 1)])
    await handle_all(fetching)
    assert not fetching.server.taken("getFile")
    assert await fetching.inbox_states() == ["handled"]


async def test_all_that_is_wrong_with_a_file_arrives_together(fetching: Queues) -> None:
    fetching.server.files["a"] = b"bad"
    await fetching.receiver.take([document(1)])
    await handle_all(fetching)
    assert await said(fetching) == ["heard: ('row 3 is wrong', 'row 5 is wrong')"]


async def test_a_file_that_breaks_its_reader_is_set_aside_and_its_chat_goes_on(fetching: Queues) -> None:
    fetching.server.files["a"] = b"poison"
    await fetching.receiver.take([document(1), message(2, "done")])
    for _ in range(MAX_ATTEMPTS + 1):
        await handle_all(fetching)
        fetching.machine.advance(HOUR)
    assert await said(fetching) == ["sorry", "heard: done"]
    assert await fetching.inbox_states() == ["dead", "handled"]


async def test_a_process_that_dies_while_fetching_loses_nothing(fetching: Queues) -> None:
    fetching.server.next("download", Answer(after_s=30))
    await fetching.receiver.take([document(1)])
    assert await fetching.dispatcher.handle_next()
    await asyncio.sleep(0.1)
    await fetching.dispatcher.finish(0.0)  # cut off under way
    assert await fetching.inbox_states() == ["waiting"]
    fetching.machine.advance(FETCH_LEASE)
    await handle_all(fetching)
    assert await said(fetching) == ["heard: a,b"]
    assert len(fetching.house.handled) == 1


async def test_who_fetched_for_longer_than_the_lease_leaves_it_to_the_next(fetching: Queues) -> None:
    fetching.server.next("download", Answer(after_s=0.3))
    await fetching.receiver.take([document(1)])
    assert await fetching.dispatcher.handle_next()
    await asyncio.sleep(0.1)
    fetching.machine.advance(FETCH_LEASE)
    another = Dispatcher(
        fetching.store,
        fetching.house.handle,
        fetching.house.apologise,
        clock=fetching.clock,
        machine=fetching.machine,
        chance=fetching.dispatcher._chance,
        bell=fetching.dispatcher._bell,
        done=fetching.dispatcher._done,
        fetcher=fetching.dispatcher._fetcher,
    )
    assert await another.handle_next()
    await another.finish()
    await fetching.dispatcher.finish()
    assert len(fetching.house.handled) == 1


async def test_more_files_than_are_fetched_at_once_wait_without_losing_a_try(fetching: Queues) -> None:
    fetching.server.next("download", *[Answer(after_s=0.3)] * FETCHES)
    await fetching.receiver.take([document(n, chat=n) for n in range(1, FETCHES + 3)])
    while await fetching.dispatcher.handle_next():
        pass
    assert len(fetching.dispatcher._fetches) == FETCHES
    async with fetching.store.reading() as tx:
        attempts = (await tx.execute(select(inbox.c.attempts).order_by(inbox.c.id))).scalars().all()
    assert list(attempts) == [1] * FETCHES + [0, 0]
    for _ in range(4):
        await handle_all(fetching)
        fetching.machine.advance(MINUTE)
    assert len(fetching.house.handled) == FETCHES + 2
