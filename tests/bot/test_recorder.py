"""What became of a message: written down as it is, doubts and all, and told to the house."""

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
from tests.bot.queues import HOUR, NOON, Queues, outgoing
from tests.fake_api import (
    BAD_GATEWAY,
    BLOCKED,
    JUNK,
    LOST_ANSWER,
    Answer,
    refused,
)

TOMORROW = NOON + 24 * HOUR


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


@pytest.mark.parametrize("wrong", [{"method": "sendMesage"}, {"key": ""}, {"key": "x" * 256}])
def test_a_malformed_message_is_refused_before_it_is_kept(wrong: dict[str, Any]) -> None:
    right: dict[str, Any] = {"key": "k", "method": "sendMessage"}
    with pytest.raises(ValueError, match=r"key|method"):
        Outgoing(chat_id=7, kind=Kind.REPLY, payload={}, **(right | wrong))
