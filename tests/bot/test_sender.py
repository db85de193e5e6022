import asyncio
import base64
from typing import Any

import pytest
from sqlalchemy import select

from bot.recorder import MAX_UNCERTAIN
from bot.sender import LEASE, MAX_DEATHS
from core.store import claims, outbox
from core.store.lanes import POLICIES, Kind, State
from core.store.outbox import Outgoing
from core.store.queue_tables import outbox as table
from tests.bot.queues import HOUR, MINUTE, NOON, SECOND, Queues, outgoing
from tests.fake_api import (
    BAD_GATEWAY,
    BLOCKED,
    JUNK,
    LOST_ANSWER,
    TOO_MANY,
    Answer,
    refused,
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


async def test_what_was_cancelled_is_not_sent(queues: Queues) -> None:
    await queues.enqueue(outgoing("prompt/1/1"), outgoing("prompt/1/2"))
    async with queues.store.begin() as tx:
        assert await outbox.cancel(tx, "prompt/1/1", at=NOON)
    await queues.send_all()
    assert queues.server.texts() == ["prompt/1/2"]
    async with queues.store.begin() as tx:
        assert not await outbox.cancel(tx, "prompt/1/2", at=NOON)  # it is sent


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


@pytest.mark.parametrize("doubt", [LOST_ANSWER, BAD_GATEWAY, JUNK], ids=["answer lost", "502", "junk"])
async def test_what_may_have_arrived_is_sent_again_only_where_the_table_says_so(
    queues: Queues, doubt: Answer
) -> None:
    queues.server.next("sendMessage", *[doubt] * len(Kind))
    await queues.enqueue(*(outgoing(kind, chat=chat, kind=kind) for chat, kind in enumerate(Kind, start=1)))
    await queues.send_all()
    states = await queues.states()
    for kind in Kind:
        again = POLICIES[kind].resend_if_uncertain
        calls = [call for call in queues.server.calls if call.parameters["text"] == kind]
        assert len(calls) == (2 if again else 1)
        assert states[kind] == ("sent" if again else "uncertain")
        assert (kind.value, State.SENT if again else State.UNCERTAIN) in queues.house.ends


def test_prompts_are_never_sent_again_and_safety_and_digest_always_are() -> None:
    """As the house has promised: a prompt that may have gone out is not sent again, a digest or a safety message is."""
    assert not POLICIES[Kind.PROMPT].resend_if_uncertain
    assert POLICIES[Kind.SAFETY].resend_if_uncertain
    assert POLICIES[Kind.DIGEST].resend_if_uncertain
    assert set(POLICIES) == set(Kind)


async def test_a_message_that_never_gets_a_clear_answer_is_set_aside(queues: Queues) -> None:
    queues.server.always["sendMessage"] = BAD_GATEWAY
    await queues.enqueue(outgoing("it", kind=Kind.SAFETY))
    await queues.send_all()
    assert len(queues.server.calls) == MAX_UNCERTAIN
    assert await queues.states() == {"it": "uncertain"}


@pytest.mark.parametrize(("kind", "sent"), [(Kind.PROMPT, 0), (Kind.SAFETY, 1)])
async def test_a_sender_that_died_under_way_leaves_a_doubt(queues: Queues, kind: Kind, sent: int) -> None:
    await queues.enqueue(outgoing("it", kind=kind), outgoing("next", kind=Kind.DIGEST))
    row = (await queues.sender._claim()).row  # and then the process is killed
    assert row is not None
    assert not await queues.another_sender().send_next()  # it may still be under way: the chat waits
    queues.machine.advance(LEASE)
    await queues.send_all()
    assert queues.server.texts() == ["it"] * sent + ["next"]
    assert (await queues.states())["it"] == ("sent" if sent else "uncertain")


async def test_a_message_that_kills_its_sender_every_time_is_set_aside(queues: Queues) -> None:
    await queues.enqueue(outgoing("it", kind=Kind.SAFETY))
    for _ in range(MAX_DEATHS):
        row = (await queues.sender._claim()).row
        assert row is not None
        queues.machine.advance(LEASE)
        await queues.sender.send_next()
    await queues.send_all()
    assert await queues.states() == {"it": "uncertain"}
    assert queues.server.calls == []


async def test_a_sender_that_was_thought_dead_does_not_overwrite_what_became_of_it(queues: Queues) -> None:
    await queues.enqueue(outgoing("it", kind=Kind.SAFETY))
    row = (await queues.sender._claim()).row
    assert row is not None
    queues.machine.advance(LEASE)
    await queues.another_sender().send_next()  # takes it over
    async with queues.store.begin() as tx:
        assert not await claims.end(tx, row, State.SENT, at=NOON)


async def test_a_claim_that_was_slept_over_is_not_sent_late(queues: Queues) -> None:
    await queues.enqueue(outgoing("it"))
    row = (await queues.sender._claim()).row
    assert row is not None
    queues.machine.advance(LEASE / 2)
    await queues.sender._deliver(row)
    assert queues.server.calls == []
    assert await queues.states() == {"it": "waiting"}


async def test_without_a_connection_everything_waits_and_nothing_is_lost(queues: Queues) -> None:
    """A refused connection: nothing was sent, so even a prompt is tried again."""
    queues.api._request[1]._client._transport = _NoConnection()  # type: ignore[attr-defined]
    await queues.enqueue(*(outgoing(f"p{n}", chat=n) for n in range(1, 4)))
    await queues.sender.send_next()
    assert not await queues.sender.send_next()
    assert set((await queues.states()).values()) == {"waiting"}
    await queues.api.close_connections()
    await queues.api.open()
    await queues.send_all()
    assert sorted(queues.server.texts()) == ["p1", "p2", "p3"]


class _NoConnection:
    async def handle_async_request(self, _request: object) -> object:
        import httpx

        raise httpx.ConnectError("refused")

    async def aclose(self) -> None: ...


async def test_a_client_who_blocked_us_is_told_to_the_house(queues: Queues) -> None:
    queues.server.next("sendMessage", BLOCKED, refused(400, "Bad Request: chat not found"))
    await queues.enqueue(outgoing("a", chat=1), outgoing("b", chat=2), outgoing("c", chat=3))
    await queues.send_all()
    assert queues.house.ends == [("a", State.UNREACHABLE), ("b", State.UNREACHABLE), ("c", State.SENT)]


async def test_a_rejected_message_is_set_aside_and_its_chat_goes_on(queues: Queues) -> None:
    queues.server.next("sendMessage", refused(400, "Bad Request: message is too long"))
    await queues.enqueue(outgoing("a"), outgoing("b"))
    await queues.send_all()
    assert await queues.states() == {"a": "dead", "b": "sent"}
    async with queues.store.reading() as tx:
        error = (await tx.execute(select(table.c.error).where(table.c.key == "a"))).scalar_one()
    assert error == "Message is too long"


async def test_an_edit_that_changes_nothing_is_as_good_as_sent(queues: Queues) -> None:
    queues.server.next(
        "editMessageText", refused(400, "Bad Request: message is not modified: specified new...")
    )
    await queues.enqueue(_edit("e"))
    await queues.send_all()
    assert await queues.states() == {"e": "sent"}


def _edit(key: str) -> Outgoing:
    return Outgoing(
        key=key,
        chat_id=7,
        kind=Kind.EDIT,
        method="editMessageText",
        payload={"message_id": 5, "text": "Noted."},
    )


async def test_an_edit_is_not_mistaken_for_the_message_it_edits(queues: Queues) -> None:
    await queues.enqueue(outgoing("prompt/1/1"))
    await queues.send_all()
    message_id = queues.server.taken()[0].message_id or 0
    async with queues.store.begin() as tx:
        edit = Outgoing(
            key="edit",
            chat_id=7,
            kind=Kind.EDIT,
            method="editMessageText",
            payload={"message_id": message_id, "text": "x"},
        )
        await outbox.enqueue(tx, edit, at=NOON)
    queues.server._next_message_id = message_id - 1  # an edit is answered with the message it edited
    await queues.send_all()
    async with queues.store.reading() as tx:
        found = await outbox.find_sent(tx, 7, message_id)
    assert found is not None
    assert found.key == "prompt/1/1"


async def test_broken_markup_goes_once_more_as_plain_text(queues: Queues) -> None:
    broken = refused(400, "Bad Request: can't parse entities: Unsupported start tag")
    queues.server.next("sendMessage", broken, Answer(), broken, broken)
    await queues.enqueue(outgoing("a", text="<b>Tom &amp; <3</b>"), outgoing("b", text="<i>x</i>"))
    await queues.send_all()
    assert queues.server.texts() == ["Tom & <3"]
    assert "parse_mode" not in queues.server.taken()[0].parameters
    assert await queues.states() == {"a": "sent", "b": "dead"}


async def test_a_wrong_token_holds_everything_and_loses_nothing(queues: Queues) -> None:
    queues.server.next("sendMessage", refused(401, "Unauthorized"))
    await queues.enqueue(outgoing("a", chat=1), outgoing("b", chat=2))
    await queues.sender.send_next()
    assert not await queues.sender.send_next()
    await queues.send_all()
    assert sorted(queues.server.texts()) == ["a", "b"]


async def test_a_group_that_became_a_supergroup_is_followed(queues: Queues) -> None:
    queues.server.next("sendMessage", refused(400, "Bad Request: upgraded", migrate_to_chat_id=-100500))
    await queues.enqueue(outgoing("a", chat=-5), outgoing("b", chat=-5))
    await queues.send_all()
    assert [call.parameters["chat_id"] for call in queues.server.taken()] == ["-100500", "-100500"]
    assert queues.server.texts() == ["a", "b"]


async def test_when_the_house_cannot_say_whether_it_is_true_it_is_asked_again_a_few_times(
    queues: Queues,
) -> None:
    queues.house.broken.add("a")
    await queues.enqueue(outgoing("a", chat=1), outgoing("b", chat=2))
    await queues.send_all()
    assert await queues.states() == {"a": "dead", "b": "sent"}


async def test_a_house_that_fails_over_the_news_does_not_cause_a_second_message(queues: Queues) -> None:
    await queues.enqueue(outgoing("tell me not", kind=Kind.REPLY))
    await queues.send_all()
    queues.machine.advance(LEASE * 2)
    await queues.send_all()
    assert queues.server.texts() == ["tell me not"]
    assert await queues.states() == {"tell me not": "sent"}


async def test_files_ride_in_the_payload_and_arrive_whole(queues: Queues) -> None:
    picture = bytes(range(256)) * 40
    file = {"name": "week.png", "content": base64.b64encode(picture).decode()}
    await queues.enqueue(
        Outgoing(
            key="digest", chat_id=7, kind=Kind.DIGEST, method="sendPhoto",
            payload={"caption": "Week 48", "files": {"photo": file}},
        ),
        Outgoing(
            key="bad", chat_id=8, kind=Kind.DIGEST, method="sendPhoto",
            payload={"files": {"photo": {"name": "x", "content": "no base64!"}}},
        ),
    )  # fmt: skip
    await queues.send_all()
    (call,) = queues.server.taken("sendPhoto")
    assert call.parameters["photo"] == picture
    assert call.parameters["caption"] == "Week 48"
    assert await queues.states() == {"digest": "sent", "bad": "dead"}


async def test_a_pressed_button_settles_a_doubt(queues: Queues) -> None:
    queues.server.next("sendMessage", LOST_ANSWER)
    await queues.enqueue(outgoing("prompt/1/1"))
    await queues.send_all()
    async with queues.store.begin() as tx:
        assert await outbox.arrived(tx, "prompt/1/1", 4711, at=NOON)
        found = await outbox.find_sent(tx, 7, 4711)
    assert found is not None
    assert found.state is State.SENT


@pytest.mark.parametrize("wrong", [{"method": "sendMesage"}, {"key": ""}, {"key": "x" * 256}])
def test_a_malformed_message_is_refused_before_it_is_kept(wrong: dict[str, Any]) -> None:
    right: dict[str, Any] = {"key": "k", "method": "sendMessage"}
    with pytest.raises(ValueError, match=r"key|method"):
        Outgoing(chat_id=7, kind=Kind.REPLY, payload={}, **(right | wrong))
