import asyncio
from dataclasses import replace

import pytest
from sqlalchemy import select, text

from bot.bell import Bell
from bot.dispatcher import LEASE, MAX_ATTEMPTS, Dispatcher
from core.store.inbox import NO_CHAT, chat_of, claim
from core.store.queue_tables import inbox
from tests.bot.queues import HOUR, MINUTE, SECOND, Queues, message, seeded


async def test_an_update_is_handled_and_answered_in_one_go(queues: Queues) -> None:
    queues.server.arrive(message(1, "done, 40 minutes"))
    assert await queues.receiver.poll_once(0) == 1
    await queues.handle_all()
    await queues.send_all()
    assert queues.server.texts() == ["heard: done, 40 minutes"]
    assert await queues.inbox_states() == ["handled"]


async def test_nothing_is_handled_twice(queues: Queues) -> None:
    for _ in range(2):  # the server serves it again: its confirmation was lost
        await queues.receiver.take([message(1), message(1)])
        await queues.handle_all()
    assert len(queues.house.handled) == 1


async def test_a_failed_update_changes_nothing_and_is_tried_again(queues: Queues) -> None:
    queues.house.stumbles = 1
    await queues.receiver.take([message(1, "first"), message(2, "second"), message(3, "other", chat=8)])
    await queues.handle_all()
    assert [update["update_id"] for update in queues.house.handled] == [3]  # the chat of the first waits
    assert "reply/1" not in await queues.states()
    queues.machine.advance(3 * SECOND)
    await queues.handle_all()
    assert [update["update_id"] for update in queues.house.handled] == [3, 1, 2]


async def test_a_poison_update_is_set_aside_with_one_apology_and_its_chat_goes_on(queues: Queues) -> None:
    await queues.receiver.take([message(1, "poison"), message(2, "done")])
    for _ in range(MAX_ATTEMPTS + 2):
        await queues.handle_all()
        queues.machine.advance(10 * MINUTE)
    await queues.send_all()
    assert queues.server.texts() == ["sorry", "heard: done"]
    assert await queues.inbox_states() == ["dead", "handled"]
    async with queues.store.reading() as tx:
        row = (await tx.execute(select(inbox).where(inbox.c.update_id == 1))).one()
    assert (row.attempts, row.error) == (MAX_ATTEMPTS, "ValueError")


async def test_an_update_that_cannot_be_opened_is_set_aside_and_the_others_go_on(queues: Queues) -> None:
    await queues.receiver.take([message(1, "sealed with a key that is gone"), message(2, "done", chat=8)])
    async with queues.store.begin() as tx:
        await tx.execute(text("UPDATE inbox SET body = 'spoilt' WHERE update_id = 1"))
    for _ in range(MAX_ATTEMPTS + 2):
        await queues.handle_all()
        queues.machine.advance(10 * MINUTE)
    assert await queues.inbox_states() == ["dead", "handled"]


async def test_an_update_that_kills_the_process_runs_out_of_attempts(queues: Queues) -> None:
    await queues.receiver.take([message(1, "poison")])
    for _ in range(MAX_ATTEMPTS - 1):
        assert await queues.dispatcher._claim()  # and then the process is killed
        assert not await queues.dispatcher.handle_next()  # its lease holds
        queues.machine.advance(LEASE)
    await queues.handle_all()
    assert await queues.inbox_states() == ["dead"]


async def test_a_worker_whose_lease_ran_out_leaves_the_update_to_the_next(queues: Queues) -> None:
    await queues.receiver.take([message(1)])
    claimed = await queues.dispatcher._claim()
    assert claimed is not None
    queues.machine.advance(LEASE)
    await queues.handle_all()
    await queues.dispatcher._handle_claimed(claimed)
    assert len(queues.house.handled) == 1


async def test_four_workers_keep_each_chats_order(queues: Queues) -> None:
    await queues.receiver.take([message(n, f"m{n}", chat=n % 5 + 1) for n in range(1, 61)])
    workers = [
        Dispatcher(
            queues.store, queues.house.handle, queues.house.apologise, clock=queues.clock, machine=queues.machine,
            chance=seeded(seed), bell=Bell(), done=Bell(),
        )
        for seed in range(4)
    ]  # fmt: skip

    async def work(worker: Dispatcher) -> None:
        while len(queues.house.handled) < 60:
            await worker.handle_next()

    async with asyncio.timeout(30):
        await asyncio.gather(*map(work, workers))
    handled = [update["update_id"] for update in queues.house.handled]
    assert sorted(handled) == list(range(1, 61))
    for chat in range(5):
        assert [n for n in handled if n % 5 == chat] == sorted(n for n in handled if n % 5 == chat)


async def test_what_people_write_is_not_readable_in_the_database(queues: Queues) -> None:
    await queues.receiver.take([message(1, "my hip hurts")])
    await queues.handle_all()
    async with queues.store.reading() as tx:
        for statement in ("SELECT * FROM inbox", "SELECT * FROM outbox"):
            rows = (await tx.execute(text(statement))).all()
            assert rows
            assert "hip" not in str(rows)


async def test_the_house_is_told_the_houses_time(queues: Queues) -> None:
    queues.clock.advance(5 * HOUR)
    await queues.receiver.take([message(1)])
    await queues.handle_all()
    async with queues.store.reading() as tx:
        row = (await tx.execute(select(inbox.c.received_at, inbox.c.handled_at))).one()
    assert row.received_at == row.handled_at == queues.clock.now()


@pytest.mark.parametrize(
    ("update", "chat"),
    [
        (message(1, chat=7123456789), 7123456789),
        ({"callback_query": {"message": {"chat": {"id": 5}}, "from": {"id": 6}}}, 5),
        ({"callback_query": {"from": {"id": 6}}}, 6),
        ({"my_chat_member": {"chat": {"id": -100}}}, -100),
        ({"edited_message": {"chat": {"id": 9}}}, 9),
        ({"message": {"chat": {"id": True}}}, NO_CHAT),
        ({"message": {"chat": {"id": 2**70}}}, NO_CHAT),
        ({"message": "hello"}, NO_CHAT),
        ({"poll": {}}, NO_CHAT),
        ([], NO_CHAT),
        (None, NO_CHAT),
    ],
)
def test_the_chat_of_an_update_is_looked_up_leniently(update: object, chat: int) -> None:
    assert chat_of(update) == chat  # type: ignore[arg-type]


@pytest.mark.parametrize("attempts", [1, MAX_ATTEMPTS])
async def test_a_worker_who_fails_too_late_takes_nothing_back_from_the_next(
    queues: Queues, attempts: int
) -> None:
    """It was held up for longer than its lease: the next one has handled the update by the time that it gives up."""
    await queues.receiver.take([message(1)])
    async with queues.store.begin() as tx:
        slow = await claim(
            tx, lease="slow", machine_now=queues.machine.now(), lease_until=queues.machine.now() + LEASE
        )
    assert slow is not None
    queues.machine.advance(LEASE + SECOND)
    await queues.handle_all()
    await queues.dispatcher._set_back(replace(slow, attempts=attempts), ValueError())
    async with queues.store.reading() as tx:
        row = (await tx.execute(select(inbox))).one()
    assert (row.state, row.error, row.try_after) == ("handled", None, None)
    assert not [key for key in await queues.states() if key.startswith("sorry/")]
