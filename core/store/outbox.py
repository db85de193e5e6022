"""What is to be said: enqueued with the state that it speaks of, in one transaction, under a key that means one thing."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import cast

from sqlalchemy import Row, select
from sqlalchemy.ext.asyncio import AsyncConnection

from core.store.columns import Json
from core.store.lanes import POLICIES, Kind, Lane, State
from core.store.queue_tables import outbox
from core.store.rows import insert_or_nothing

# A message without a time of its own has been due for ever: so those keep the order in which they were enqueued.
AT_ONCE = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)

# What a method may be; a slip of the pen would be answered like a wrong token, and hold up everybody.
METHODS = frozenset(
    {
        "sendMessage", "sendPhoto", "sendDocument", "sendMediaGroup", "sendVenue", "sendLocation", "sendPoll",
        "editMessageText", "editMessageCaption", "editMessageReplyMarkup", "editMessageMedia", "deleteMessage",
        "pinChatMessage", "unpinChatMessage", "leaveChat", "setMyCommands", "setChatMenuButton", "copyMessage",
        "forwardMessage", "setMessageReaction", "sendChatAction",
    }
)  # fmt: skip

MAX_KEY = 255


@dataclass(frozen=True, slots=True, kw_only=True)
class Outgoing:
    """One call to the Bot API, to be made once.

    :param key: what it means, e.g. ``prompt/ASK/REVISION``: the same key is never enqueued twice.
    :param method: of the Bot API, as it spells it.
    :param payload: the method's parameters but for ``chat_id``; under ``files`` a mapping from parameter to
        ``{"name": ..., "content": BASE64}``.
    :param not_before: None: at once.
    :param expires_at: None: as the kind has it.
    :param person: whom it is about, as people are identified; for erasing.
    """

    key: str
    chat_id: int
    kind: Kind
    method: str
    payload: Mapping[str, Json]
    not_before: dt.datetime | None = None
    expires_at: dt.datetime | None = None
    person: str | None = None

    def __post_init__(self) -> None:
        if not 0 < len(self.key) <= MAX_KEY:
            raise ValueError(f"a key has 1 to {MAX_KEY} characters")
        if self.method not in METHODS:
            raise ValueError(f"{self.method} is not among the methods that are sent")


@dataclass(frozen=True, slots=True, kw_only=True)
class Queued:
    """A row of the outbox."""

    id: int
    key: str
    chat_id: int
    person: str | None
    kind: Kind
    lane: Lane
    method: str
    payload: Mapping[str, Json]
    state: State
    attempts: int
    not_before: dt.datetime
    expires_at: dt.datetime | None
    enqueued_at: dt.datetime
    ended_at: dt.datetime | None
    message_id: int | None
    lease: str | None = field(repr=False)
    lease_until: dt.datetime | None = field(repr=False)
    error: str | None


FIELDS = tuple(outbox.c[name] for name in Queued.__dataclass_fields__)


def as_queued(row: Row[tuple[object, ...]]) -> Queued:
    values = dict(row._mapping)  # noqa: SLF001 - SQLAlchemy's public name for it
    values["kind"] = Kind(cast("str", values["kind"]))
    values["lane"] = Lane(cast("int", values["lane"]))
    values["state"] = State(cast("str", values["state"]))
    values["payload"] = values["payload"] or {}
    return Queued(**values)


async def enqueue(tx: AsyncConnection, outgoing: Outgoing, *, at: dt.datetime) -> bool:
    """Whether it was new: False where the key exists already, whatever became of it."""
    policy = POLICIES[outgoing.kind]
    expires_at = outgoing.expires_at
    if expires_at is None and policy.expires_after is not None:
        expires_at = (outgoing.not_before or at) + policy.expires_after
    row = {
        "key": outgoing.key,
        "chat_id": outgoing.chat_id,
        "person": outgoing.person,
        "kind": outgoing.kind.value,
        "lane": policy.lane.value,
        "method": outgoing.method,
        "payload": dict(outgoing.payload),
        "state": State.WAITING.value,
        "not_before": outgoing.not_before or AT_ONCE,
        "expires_at": expires_at,
        "enqueued_at": at,
    }
    return await insert_or_nothing(tx, outbox, row, unique=[outbox.c.key])


async def find_sent(tx: AsyncConnection, chat_id: int, message_id: int) -> Queued | None:
    """What we sent there as this message, if we did: a button or a reply belongs to it. Edits do not count."""
    statement = (
        select(*FIELDS)
        .where(
            outbox.c.chat_id == chat_id, outbox.c.message_id == message_id, outbox.c.kind != Kind.EDIT.value
        )
        .order_by(outbox.c.id)
        .limit(1)
    )
    row = (await tx.execute(statement)).first()
    return None if row is None else as_queued(row)
