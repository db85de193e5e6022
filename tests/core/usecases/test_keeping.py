"""What is held about a client: handed over without growing by what was handed over before, and gone when it is to go."""

import base64
import json
from typing import Any

import pytest
from sqlalchemy import select, update

from bot.chats.phrases.privacy import ERASED
from core.store import house
from core.store.engine import Store
from core.store.queue_tables import outbox
from core.store.schema import all_tables
from core.usecases import keeping
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play, said_to

NAME = "Xanthippe Quill"  # of nobody else, so that it can be looked for in everything that is stored


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    return stage


def file_in(message: Message) -> Any:
    return json.loads(base64.b64decode(message.payload["files"]["document"]["content"]))


async def test_an_export_does_not_hold_the_exports_before_it(play: Play) -> None:
    await play.client()
    sizes = []
    for _ in range(4):
        (sent,) = await play.says(CLIENT_ID, "/export")
        sizes.append(len(sent.payload["files"]["document"]["content"]))
    # Each adds as much as the one before it did.
    assert sizes[3] < sizes[0] + 3 * (sizes[1] - sizes[0]) + 1000


async def test_an_export_says_of_a_file_that_was_sent_what_it_was(play: Play) -> None:
    await play.client()
    await play.says(CLIENT_ID, "/export")
    (sent,) = await play.says(CLIENT_ID, "/export")
    before = [row for row in file_in(sent)["outbox"] if row["method"] == "sendDocument"]
    assert [row["payload"]["files"]["document"]["name"] for row in before] == ["keptword-export.json"]


async def test_who_never_opened_the_link_is_erased_whole(play: Play) -> None:
    await play.says(COACH_ID, f"/invite {NAME}")
    await all_are_sent(play)
    async with play.store.begin() as tx:
        (client,) = await house.clients.list(tx)
        assert await _tables_that_hold(tx, NAME) != []
        await keeping.erase(tx, client)
        assert await _tables_that_hold(tx, NAME) == []


async def test_who_leaves_is_erased_whole_but_for_the_word_to_the_coach(play: Play) -> None:
    await play.client(name=NAME)
    await play.says(CLIENT_ID, "my knee hurts, can you call me?")
    await play.says(COACH_ID, "/clients")
    await all_are_sent(play)
    await play.says(CLIENT_ID, "/erase")
    said = await play.presses(CLIENT_ID, "Remove it all")
    assert said_to(said, CLIENT_ID) == ERASED
    async with play.store.begin() as tx:
        assert await _tables_that_hold(tx, "knee") == []
        assert await _tables_that_hold(tx, NAME) == ["outbox"]
    assert NAME in said_to(said, COACH_ID)


async def all_are_sent(play: Play) -> None:
    async with play.store.begin() as tx:
        await tx.execute(update(outbox).values(state="sent", ended_at=play.at))


async def _tables_that_hold(tx: Any, words: str) -> list[str]:
    """The tables in which these words stand, what is sealed opened."""
    return [
        table.name
        for table in all_tables().sorted_tables
        if words in str([dict(row) for row in (await tx.execute(select(table))).mappings()])
    ]
