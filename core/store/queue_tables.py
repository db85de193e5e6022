"""The tables of the two queues, of what paces them, and of what several processes must agree on.

Two kinds of instants: those that mean something to people (``received_at``, ``not_before``, ``expires_at`` ...) come from the
house's clock, which a rehearsal may move; leases, back-offs and budgets come from the machine's.
"""

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    Column,
    Index,
    Integer,
    SmallInteger,
    String,
    Table,
    Text,
    UniqueConstraint,
    text,
)

from core.store.columns import SealedJson, SealedText, UTCDateTime
from core.store.metadata import metadata

# SQLite numbers rows by itself only where the key is an INTEGER.
RowId = BigInteger().with_variant(Integer, "sqlite")

_WAITING = text("state = 'waiting'")
_SENDING = text("state = 'sending'")

inbox = Table(
    "inbox",
    metadata,
    Column("id", RowId, primary_key=True, autoincrement=True),
    Column("epoch", String(64), nullable=False),  # which server and bot counted update_id
    Column("update_id", BigInteger),  # NULL: what came had none, and is set aside
    Column("chat_id", BigInteger, nullable=False),
    Column("body", SealedJson),  # the update as it came; blanked some days after it was handled
    Column("state", String(16), nullable=False),
    Column("attempts", Integer, nullable=False, server_default="0"),
    Column("received_at", UTCDateTime, nullable=False),
    Column("handled_at", UTCDateTime),
    Column("try_after", UTCDateTime),  # machine
    Column("lease", String(32)),
    Column("lease_until", UTCDateTime),  # machine
    Column("error", Text),  # the name of what went wrong, never words of a person
    UniqueConstraint("epoch", "update_id"),
    CheckConstraint("state IN ('waiting', 'handled', 'dead')", name="state"),
    Index("ix_inbox_waiting", "chat_id", "id", sqlite_where=_WAITING, postgresql_where=_WAITING),
    Index("ix_inbox_handled_at", "handled_at"),
    sqlite_autoincrement=True,
)

outbox = Table(
    "outbox",
    metadata,
    Column("id", RowId, primary_key=True, autoincrement=True),
    Column("key", String(255), nullable=False, unique=True),
    Column("chat_id", BigInteger, nullable=False),
    Column("person", String(64)),
    Column("kind", String(16), nullable=False),
    Column("lane", SmallInteger, nullable=False),
    Column("method", String(64), nullable=False),
    Column("payload", SealedJson),  # blanked some days after it ended
    Column("state", String(16), nullable=False),
    Column("attempts", Integer, nullable=False, server_default="0"),
    Column("not_before", UTCDateTime, nullable=False),
    Column("expires_at", UTCDateTime),
    Column("enqueued_at", UTCDateTime, nullable=False),
    Column("ended_at", UTCDateTime),
    Column("try_after", UTCDateTime),  # machine
    Column("lease", String(32)),
    Column("lease_until", UTCDateTime),  # machine
    Column("message_id", BigInteger),
    Column("error", Text),  # what the server said of it, never words of a person
    CheckConstraint(
        "state IN ('waiting', 'sending', 'sent', 'uncertain', 'expired', 'cancelled', 'dead', 'unreachable')",
        name="state",
    ),
    Index("ix_outbox_waiting", "lane", "not_before", "id", sqlite_where=_WAITING, postgresql_where=_WAITING),
    Index("ix_outbox_expiring", "expires_at", sqlite_where=_WAITING, postgresql_where=_WAITING),
    Index("ix_outbox_chat", "chat_id", "state", "lane", "not_before"),
    # A belt to the braces of the claim: two messages of one chat are never under way at once.
    Index("uq_outbox_sending", "chat_id", unique=True, sqlite_where=_SENDING, postgresql_where=_SENDING),
    Index("ix_outbox_message", "chat_id", "message_id"),
    Index("ix_outbox_ended_at", "ended_at"),
    Index("ix_outbox_person", "person"),
    sqlite_autoincrement=True,
)

# The budget of a chat, and of everything together (chat 0, which nobody has).
budget = Table(
    "budget",
    metadata,
    Column("chat_id", BigInteger, primary_key=True, autoincrement=False),
    Column("free_at", UTCDateTime, nullable=False),  # machine: the next message may start then
    Column("refused_at", UTCDateTime),  # machine: when the server last asked us to wait
)

# What only one process does at a time: polling, the night's work.
lease = Table(
    "lease",
    metadata,
    Column("name", String(64), primary_key=True),
    Column("holder", String(64), nullable=False),
    Column("until", UTCDateTime, nullable=False),  # machine
)

# One sealed word that every key in use must open: a lost key is noticed at the start, not at the first reply.
witness = Table(
    "witness",
    metadata,
    Column("id", Integer, primary_key=True, autoincrement=False),
    Column("word", SealedText, nullable=False),
)
