"""The tables of the programme: what is the coach's own, the results of lifts, the laid-out year.

Whatever somebody wrote is sealed; the keys of exercises, rooms, minutes and days are what the builder looks for.
"""

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    Column,
    Date,
    ForeignKey,
    Integer,
    String,
    Table,
    UniqueConstraint,
)

from core.store.columns import SealedJson, SealedText, UTCDateTime
from core.store.house_tables import Spelled
from core.store.metadata import metadata
from core.store.queue_tables import RowId
from core.terms import Pattern, Room


def _key() -> Column[int]:
    return Column("id", RowId, primary_key=True, autoincrement=True)


def _of(table: str, *, index: bool = True, nullable: bool = False) -> Column[int]:
    """A row that goes when the row it belongs to goes."""
    owner = ForeignKey(f"{table}.id", ondelete="CASCADE")
    return Column(f"{table}_id", BigInteger, owner, nullable=nullable, index=index)


own_exercise = Table(
    "own_exercise",
    metadata,
    _key(),
    _of("coach"),
    Column("name", SealedText, nullable=False),
    Column("pattern", Spelled(Pattern), nullable=False),
    Column("room", Spelled(Room), nullable=False),
    Column("load", String(16), nullable=False),
    Column("cues", SealedJson, nullable=False),
    Column("made_at", UTCDateTime, nullable=False),
    sqlite_autoincrement=True,
)

own_session = Table(
    "own_session",
    metadata,
    _key(),
    _of("coach"),
    _of("client", nullable=True),
    Column("title", SealedText, nullable=False),
    Column("words", SealedText, nullable=False),
    Column("room", Spelled(Room), nullable=False),
    Column("minutes", Integer, nullable=False),
    Column("made_at", UTCDateTime, nullable=False),
    CheckConstraint("minutes > 0", name="minutes_positive"),
    sqlite_autoincrement=True,
)

media_note = Table(
    "media_note",
    metadata,
    _key(),
    _of("coach", index=False),
    Column("exercise", String(80), nullable=False),
    Column("media", String(16), nullable=False),
    Column("chat_id", BigInteger, nullable=False),
    Column("message_id", BigInteger, nullable=False),
    Column("made_at", UTCDateTime, nullable=False),
    UniqueConstraint("coach_id", "exercise"),
    sqlite_autoincrement=True,
)

lift_result = Table(
    "lift_result",
    metadata,
    _key(),
    _of("client"),
    Column("session_id", BigInteger, index=True),
    Column("exercise", String(80), nullable=False),
    Column("day", Date, nullable=False),
    Column("done", SealedJson, nullable=False),
    Column("said_at", UTCDateTime, nullable=False),
    sqlite_autoincrement=True,
)

year_plan = Table(
    "year_plan",
    metadata,
    _key(),
    _of("client", index=False),
    Column("start", Date, nullable=False),
    Column("weeks", Integer, nullable=False),
    Column("events", SealedJson, nullable=False),
    Column("blocks", SealedJson, nullable=False),
    Column("accepted_at", UTCDateTime, nullable=False),
    UniqueConstraint("client_id"),
    sqlite_autoincrement=True,
)
