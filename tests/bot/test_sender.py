import asyncio

from core.store import outbox
from core.store.lanes import Kind, State
from tests.bot.queues import HOUR, MINUTE, NOON, SECOND, Queues, outgoing
from tests.fake_api import (
    BAD_GATEWAY,
    TOO_MANY,
)

TOMORROW = NOON + 24 * HOUR


async def test_what_is_enqueued_is_sent_once_and_remembered_by_its_message(queues: Queues) -> None:
    await queues.enqueue(outgoing("prompt/1/1", text="Squat day at 7?", person="ines"))
    await queues.send_all()
    assert queues.server.texts() == ["Squat day at 7?"]
    message_id = queues.server.taken()[0].message_id
    assert message_id is not None
    async with queues.store.reading() as tx:
        found = await outbox.find_sent(tx, 7, message_id)
    assert found is not None
    assert (found.key, found.person, found.state) == ("prompt/1/1", "ines", State.SENT)
    assert queues.house.ends == [("prompt/1/1", State.SENT)]


async def test_the_same_key_is_never_sent_twice(queues: Queues) -> None:
    for _ in range(2):
        async with queues.store.begin() as tx:
            new = [await outbox.enqueue(tx, outgoing("prompt/1/1", text=t), at=NOON) for t in ("one", "two")]
        await queues.send_all()
        assert new[1] is False
    assert queues.server.texts() == ["one"]


async def test_nothing_goes_before_its_time_nor_after_its_expiry(queues: Queues) -> None:
    await queues.enqueue(
        outgoing("early", chat=1, not_before=NOON + HOUR),
        outgoing("stale", chat=2, expires_at=NOON + MINUTE),
        outgoing("default expiry", chat=3),
    )
    queues.clock.advance(2 * MINUTE)
    assert (await queues.sender.outlook()).due_at == NOON + HOUR
    await queues.send_all()
    assert queues.server.texts() == ["default expiry"]
    queues.clock.advance(HOUR)
    await queues.send_all()
    assert queues.server.texts() == ["default expiry", "early"]
    assert queues.house.ends[0] == ("stale", State.EXPIRED)


async def test_after_an_outage_of_a_day_and_a_half_no_stale_prompt_is_sent(queues: Queues) -> None:
    await queues.enqueue(*(outgoing(f"prompt/{n}", chat=n) for n in range(1, 31)))
    await queues.enqueue(outgoing("pain", kind=Kind.SAFETY))
    queues.clock.advance(36 * HOUR)
    await queues.send_all()
    assert queues.server.texts() == ["pain"]
    assert list((await queues.states()).values()).count("expired") == 30


async def test_what_is_no_longer_true_is_not_sent(queues: Queues) -> None:
    queues.house.untrue.add("prompt/1/1")
    await queues.enqueue(outgoing("prompt/1/1"), outgoing("next"))
    await queues.send_all()
    assert queues.server.texts() == ["next"]
    assert queues.house.ends[0] == ("prompt/1/1", State.EXPIRED)


async def test_lanes_go_in_order_and_a_chat_keeps_its_own_order(queues: Queues) -> None:
    await queues.enqueue(
        outgoing("digest", chat=1, kind=Kind.DIGEST),
        outgoing("prompt", chat=2),
        outgoing("first", chat=3, kind=Kind.REPLY),
        outgoing("second", chat=3, kind=Kind.REPLY),
        outgoing("safety", chat=4, kind=Kind.SAFETY),
    )
    await queues.send_all()
    texts = queues.server.texts()
    assert [t for t in texts if t != "second"] == ["safety", "first", "prompt", "digest"]
    assert texts.index("first") < texts.index("second")


async def test_order_within_a_chat_is_kept_when_the_first_must_wait(queues: Queues) -> None:
    queues.server.next("sendMessage", TOO_MANY, BAD_GATEWAY)
    await queues.enqueue(*(outgoing(f"reply {n}", kind=Kind.REPLY) for n in range(5)))
    await queues.send_all()
    assert queues.server.texts() == [f"reply {n}" for n in range(5)]


async def test_a_chat_gets_one_message_a_second_and_the_others_need_not_wait_for_it(queues: Queues) -> None:
    await queues.enqueue(
        *(outgoing(f"a{n}", chat=1) for n in range(3)), *(outgoing(f"b{n}", chat=2) for n in range(2))
    )
    began = queues.machine.now()
    await queues.send_all()
    assert sorted(queues.server.texts()) == ["a0", "a1", "a2", "b0", "b1"]
    assert 2 * SECOND <= queues.machine.now() - began < 2.2 * SECOND


async def test_thirty_messages_take_a_second_whoever_sends_them(queues: Queues) -> None:
    """30 messages a second in all, on one budget however many send."""
    await queues.enqueue(*(outgoing(f"prompt/{n}", chat=n) for n in range(1, 61)))
    senders = [queues.sender, queues.another_sender()]
    starts = []
    while len(queues.server.calls) < 60:
        for sender in senders:
            before = len(queues.server.calls)
            await sender.send_next()
            starts += [queues.machine.now()] * (len(queues.server.calls) - before)
        queues.machine.advance(SECOND / 200)
    within = [sum(1 for s in starts if start <= s < start + SECOND) for start in starts]
    assert max(within) <= 30
    assert (starts[-1] - starts[0]) < 2.15 * SECOND  # and no slower than it may


async def test_two_senders_at_once_send_nothing_twice(queues: Queues) -> None:
    await queues.enqueue(*(outgoing(f"prompt/{n}", chat=n) for n in range(1, 21)))
    senders = [queues.sender, *(queues.another_sender(seed) for seed in (2, 3, 4))]
    while len(queues.server.calls) < 20:
        await asyncio.gather(*(sender.send_next() for sender in senders))
        queues.machine.advance(SECOND / 20)
    assert max(queues.server.times_taken().values()) == 1


async def test_a_reply_takes_the_very_next_slot_of_a_broadcast(queues: Queues) -> None:
    await queues.enqueue(*(outgoing(f"prompt/{n}", chat=n) for n in range(1, 101)))
    while len(queues.server.calls) < 10:
        await queues.sender.send_next()
        queues.machine.advance(SECOND / 29)
    await queues.enqueue(outgoing("noted", chat=500, kind=Kind.REPLY))
    while len(queues.server.calls) < 11:
        await queues.sender.send_next()
        queues.machine.advance(SECOND / 29)
    assert queues.server.texts()[10] == "noted"


async def test_retry_after_is_obeyed_by_the_chat_and_by_nobody_else(queues: Queues) -> None:
    queues.server.next("sendMessage", TOO_MANY)
    began = queues.machine.now()
    await queues.enqueue(outgoing("a", chat=1), outgoing("b", chat=2))
    await queues.sender.send_next()
    queues.machine.advance(SECOND / 10)
    await queues.sender.send_next()
    assert queues.server.texts() == ["b"]
    await queues.send_all()
    assert queues.server.texts() == ["b", "a"]
    assert 3 * SECOND <= queues.machine.now() - began < 3.5 * SECOND


async def test_when_a_second_chat_is_refused_everything_waits_through_a_restart(queues: Queues) -> None:
    queues.server.next("sendMessage", TOO_MANY, TOO_MANY)
    await queues.enqueue(*(outgoing(f"p{n}", chat=n) for n in range(1, 6)))
    for _ in range(2):
        await queues.sender.send_next()
        queues.machine.advance(SECOND / 10)
    restarted = queues.another_sender()
    assert not await restarted.send_next()
    ready_at = (await restarted.outlook()).ready_at
    assert ready_at is not None
    assert ready_at > queues.machine.now() + 2 * SECOND
    await queues.send_all()
    assert max(queues.server.times_taken().values()) == 1
    assert len(queues.server.texts()) == 5
