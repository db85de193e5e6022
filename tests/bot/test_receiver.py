import asyncio
import json
import logging
from typing import Any

import pytest
from sqlalchemy import select
from telegram.error import TelegramError

from bot.receiver import ALLOWED_UPDATES, LEASE, epoch_of
from core.store.leases import hold
from core.store.queue_tables import inbox
from tests.bot.queues import Queues, message
from tests.fake_api import BAD_GATEWAY, JUNK, TOKEN, Answer, refused


async def test_an_update_is_confirmed_only_after_it_is_stored(queues: Queues) -> None:
    queues.server.arrive(message(10), message(11))
    assert await queues.receiver.poll_once(0) == 2
    assert queues.server.confirmed == 0
    assert await queues.inbox_states() == ["waiting", "waiting"]
    assert await queues.receiver.poll_once(0) == 0
    assert queues.server.confirmed == 12


async def test_what_cannot_be_stored_is_not_confirmed(queues: Queues) -> None:
    """Killed, or out of disk, between the answer and the commit: the server still has it."""
    queues.server.arrive(message(10))
    begin, queues.store.begin = queues.store.begin, _broken  # type: ignore[method-assign, assignment]
    with pytest.raises(OSError, match="disk"):
        await queues.receiver.poll_once(0)
    queues.store.begin = begin  # type: ignore[method-assign]
    assert await queues.receiver.poll_once(0) == 1
    assert queues.server.confirmed == 0


def _broken() -> None:
    raise OSError("no room on the disk")


async def test_the_first_call_sends_no_offset_and_every_call_says_what_it_wants(queues: Queues) -> None:
    await queues.receiver.poll_once(0)
    parameters = queues.server.calls[0].parameters
    assert "offset" not in parameters
    assert json.loads(parameters["allowed_updates"]) == list(ALLOWED_UPDATES)


async def test_ids_that_start_again_lower_are_followed(queues: Queues) -> None:
    """After a week without updates the next id is chosen at random."""
    queues.server.arrive(message(900))
    await queues.receiver.poll_once(0)
    await queues.receiver.poll_once(0)
    queues.server.updates = [message(17)]
    queues.receiver._offset = None
    assert await queues.receiver.poll_once(0) == 1
    assert queues.receiver._offset == 18


@pytest.mark.parametrize(
    "odd",
    [
        {"update_id": 5, "message": {"chat": "nonsense", "date": "x"}},
        {"update_id": 5, "something_new": {"a": [1, 2]}},
        {"update_id": 5, "message": {"chat": {"id": 7}, "text": "\u0000 👋 \ud83d \u202e مرحبا"}},
        {"update_id": 5},
    ],
)
async def test_an_odd_update_is_kept_and_does_not_stop_the_one_behind_it(
    queues: Queues, odd: dict[str, Any]
) -> None:
    queues.server.arrive(odd, message(6))
    assert await queues.receiver.poll_once(0) == 2
    async with queues.store.reading() as tx:
        bodies = list((await tx.execute(select(inbox.c.body).order_by(inbox.c.id))).scalars())
    assert bodies == [odd, message(6)]


async def test_what_has_no_number_is_set_aside_at_once(queues: Queues) -> None:
    nameless: list[Any] = [{"message": {}}, "hello", None]
    await queues.receiver.take([*nameless, message(6)])
    assert await queues.inbox_states() == ["dead", "dead", "dead", "waiting"]


def test_another_server_or_bot_counts_for_itself() -> None:
    epochs = {
        epoch_of("https://api.telegram.org", "1:a"),
        epoch_of("https://api.telegram.org", "2:a"),
        epoch_of("http://127.0.0.1:8081", "1:a"),
    }
    assert len(epochs) == 3
    assert epoch_of("https://api.telegram.org/", "1:b") in epochs  # a new token of the same bot, a slash more


async def test_a_pressed_button_is_answered_at_once(queues: Queues) -> None:
    queues.server.next("answerCallbackQuery", refused(400, "Bad Request: query is too old"))
    press: Any = {"update_id": 1, "callback_query": {"id": "99", "from": {"id": 7}, "data": "x"}}
    await queues.receiver.take([press])
    await queues.receiver.finish()
    (call,) = [call for call in queues.server.calls if call.method == "answerCallbackQuery"]
    assert call.parameters == {"callback_query_id": "99"}
    assert await queues.inbox_states() == ["waiting"]


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (refused(409, "Conflict: terminated by other getUpdates request"), "Another program polls"),
        (refused(404, "Not Found"), "does not know this bot's token"),
        (refused(401, "Unauthorized"), "does not know this bot's token"),
        (BAD_GATEWAY, "polling failed"),
        (JUNK, "polling failed"),
    ],
)
async def test_trouble_is_said_and_waited_out_and_ends(
    queues: Queues, answer: Answer, said: str, caplog: pytest.LogCaptureFixture
) -> None:
    queues.server.next("getUpdates", answer, answer)
    stopping = asyncio.Event()
    with caplog.at_level(logging.WARNING):
        first = await queues.receiver._poll_and_judge(stopping)
        second = await queues.receiver._poll_and_judge(stopping)
    assert said in caplog.text
    assert 0 < first < second
    assert TOKEN not in caplog.text
    queues.server.arrive(message(1))
    assert await queues.receiver._poll_and_judge(stopping) == 0
    assert await queues.inbox_states() == ["waiting"]


async def test_stepping_shows_trouble_to_whoever_steps(queues: Queues) -> None:
    queues.server.next("getUpdates", BAD_GATEWAY)
    with pytest.raises(TelegramError):
        await queues.receiver.poll_once(0)


async def test_only_one_of_several_processes_polls(queues: Queues) -> None:
    stopping = asyncio.Event()
    assert await queues.receiver._is_our_turn()
    queues.receiver._holder = "another process"
    assert await queues.receiver._poll_and_judge(stopping) > 0
    assert queues.server.calls == []


async def test_a_process_that_polls_no_more_is_not_unwell_for_what_it_met_when_it_did(queues: Queues) -> None:
    stopping = asyncio.Event()
    queues.server.next("getUpdates", BAD_GATEWAY)
    await queues.receiver._poll_and_judge(stopping)
    assert queues.receiver.troubled_since is not None
    queues.machine.advance(LEASE)
    async with queues.store.begin() as tx:
        await hold(tx, "receiver", "another process", now=queues.machine.now(), lasting=LEASE)
    await queues.receiver._poll_and_judge(stopping)
    assert queues.receiver.troubled_since is None


async def test_a_long_poll_is_dropped_when_we_stop(queues: Queues) -> None:
    stopping = asyncio.Event()
    async with asyncio.timeout(5):
        running = asyncio.create_task(queues.receiver.forever(stopping))
        await asyncio.sleep(0.05)
        stopping.set()
        await running
