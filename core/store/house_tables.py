"""The tables of people, weeks and words. One column a field of the values they hold; no rule lives here.

Words, sleep and health are sealed. Outcomes, days and numbers are not: they are what the due query and the count read.
"""

import enum
from typing import Any

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    Date,
    Dialect,
    Float,
    ForeignKey,
    Index,
    Integer,
    String,
    Table,
    Time,
    TypeDecorator,
    UniqueConstraint,
)
from typing_extensions import override

from core.calendar.weeks import IsoWeek
from core.people.model import Role, SleepAsked, Stage
from core.store.columns import SealedJson, SealedText, UTCDateTime
from core.store.metadata import metadata
from core.store.queue_tables import RowId
from core.terms import Level, Outcome, Room
from core.week.model import Hand


class Spelled(TypeDecorator[Any]):
    """An enumeration, stored as the word that it is."""

    impl = String(32)
    cache_ok = True

    def __init__(self, kind: type[enum.StrEnum]) -> None:
        super().__init__()
        self.kind = kind

    @override
    def process_bind_param(self, value: Any, dialect: Dialect) -> str | None:
        return None if value is None else str(self.kind(value))

    @override
    def process_result_value(self, value: Any, dialect: Dialect) -> Any:
        return None if value is None else self.kind(value)


class Week(TypeDecorator[IsoWeek]):
    """An ISO week, stored as '2026-W48': it sorts as it runs."""

    impl = String(8)
    cache_ok = True

    @override
    def process_bind_param(self, value: IsoWeek | None, dialect: Dialect) -> str | None:
        return None if value is None else str(value)

    @override
    def process_result_value(self, value: str | None, dialect: Dialect) -> IsoWeek | None:
        return None if value is None else IsoWeek.parse(value)


class Weekdays(TypeDecorator[Any]):
    """ISO weekdays in the order in which they are preferred, stored as '1,3,5'."""

    impl = String(16)
    cache_ok = True

    @override
    def process_bind_param(self, value: Any, dialect: Dialect) -> str:
        return ",".join(str(day) for day in value or ())

    @override
    def process_result_value(self, value: str | None, dialect: Dialect) -> tuple[int, ...]:
        return tuple(int(day) for day in value.split(",")) if value else ()


class SealedWords(TypeDecorator[Any]):
    """A few words, sealed together."""

    impl = SealedJson
    cache_ok = True

    @override
    def process_bind_param(self, value: Any, dialect: Dialect) -> list[str]:
        return list(value or ())

    @override
    def process_result_value(self, value: Any, dialect: Dialect) -> tuple[str, ...]:
        return tuple(value or ())


def _key() -> Column[int]:
    return Column("id", RowId, primary_key=True, autoincrement=True)


def _of(table: str, *, nullable: bool = False, index: bool = True) -> Column[int]:
    """A row that goes when the row it belongs to goes."""
    return Column(
        f"{table}_id",
        BigInteger,
        ForeignKey(f"{table}.id", ondelete="CASCADE"),
        nullable=nullable,
        index=index,
    )


def _flag(name: str) -> Column[bool]:
    return Column(name, Boolean, nullable=False, default=False)


coach = Table(
    "coach",
    metadata,
    _key(),
    Column("name", String(120), nullable=False),
    Column("telegram_id", BigInteger, unique=True),
    Column("zone", String(64), nullable=False),
    Column("digest_at", Time, nullable=False),
    Column("stage", Spelled(Stage), nullable=False),
    _flag("raise_without_me"),
    Column("next_due_at", UTCDateTime, index=True),
    Column("last_digest", Week),
    Column("last_short_list", Week),
    _flag("unreachable"),
    sqlite_autoincrement=True,
)

client = Table(
    "client",
    metadata,
    _key(),
    _of("coach"),
    Column("name", String(120), nullable=False),
    Column("telegram_id", BigInteger, unique=True),
    Column("stage", Spelled(Stage), nullable=False),
    Column("consented_at", UTCDateTime),
    Column("consent_version", String(16)),
    Column("place", String(120), nullable=False, default=""),
    Column("country", String(2), nullable=False, default=""),
    Column("zone", String(64), nullable=False),
    Column("room", Spelled(Room), nullable=False),
    Column("level", Spelled(Level), nullable=False),
    Column("lately", Integer),
    Column("minutes", Integer, nullable=False),
    Column("usual_days", Weekdays, nullable=False),
    Column("usual_time", Time, nullable=False),
    Column("goal", SealedText, nullable=False),
    Column("complaints", SealedWords, nullable=False),
    Column("sleep_need", Float, nullable=False),
    Column("sleep_asked", Spelled(SleepAsked), nullable=False),
    Column("quiet_from", Time, nullable=False),
    Column("quiet_to", Time, nullable=False),
    Column("confidence", Float, nullable=False),
    Column("floor", Integer),
    Column("daily_limit", Integer, nullable=False),
    Column("weekly_limit", Integer, nullable=False),
    Column("first_week", Week),
    Column("heard_at", UTCDateTime),
    Column("silent_since", Date),
    Column("unwell_since", Date),
    Column("paused_until", Date),
    _flag("unreachable"),
    Column("calendar_hash", String(64), index=True),
    Column("next_due_at", UTCDateTime, index=True),
    CheckConstraint("confidence >= 0.6 AND confidence <= 0.95", name="confidence_range"),
    sqlite_autoincrement=True,
)

invitation = Table(
    "invitation",
    metadata,
    _key(),
    Column("role", Spelled(Role), nullable=False),
    Column("person_id", BigInteger, nullable=False, index=True),
    Column("token_hash", String(64), nullable=False, unique=True),
    Column("expires_at", UTCDateTime, nullable=False),
    Column("used_at", UTCDateTime),
    sqlite_autoincrement=True,
)

screening = Table(
    "screening",
    metadata,
    _key(),
    _of("client"),
    Column("answers", SealedJson, nullable=False),
    Column("answered_at", UTCDateTime, nullable=False),
    Column("confirmed_at", UTCDateTime),
    Column("note", SealedText),
    sqlite_autoincrement=True,
)

trip = Table(
    "trip",
    metadata,
    _key(),
    _of("client"),
    Column("place", String(120), nullable=False),
    Column("country", String(2)),
    Column("zone", String(64), nullable=False),
    Column("room", Spelled(Room)),
    Column("minutes", Integer),
    Column("first", Date, nullable=False),
    Column("last", Date),
    Column("in_reach", Boolean, nullable=False, default=True),
    Column("said_by", Spelled(Role), nullable=False),
    Column("cancelled_at", UTCDateTime),
    sqlite_autoincrement=True,
)

promise = Table(
    "promise",
    metadata,
    _key(),
    _of("client", index=False),
    Column("week", Week, nullable=False),
    Column("recommended", Integer),
    Column("recommended_minutes", Integer),
    Column("recommended_if_done", Integer),
    _flag("talk_first"),
    _flag("well"),
    Column("why", SealedText, nullable=False),
    Column("odds", SealedJson, nullable=False),
    Column("expected", SealedJson, nullable=False),
    Column("engaged", Float),
    Column("issued_at", UTCDateTime),
    Column("settle_by", UTCDateTime),
    Column("settled", Integer),
    Column("settled_by", Spelled(Hand)),
    Column("settled_at", UTCDateTime),
    Column("told_at", UTCDateTime),
    Column("tellings", Integer, nullable=False, default=0),
    _flag("both_cases"),
    _flag("needs_yes"),
    Column("agreed", Integer),
    Column("agreed_by", Spelled(Hand)),
    Column("agreed_at", UTCDateTime),
    Column("minutes", Integer, nullable=False),
    _flag("lowered"),
    _flag("extra_offered"),
    UniqueConstraint("client_id", "week"),
    CheckConstraint("settled IS NULL OR (settled >= 0 AND settled <= 7)", name="settled_range"),
    CheckConstraint("agreed IS NULL OR (agreed >= 0 AND agreed <= 7)", name="agreed_range"),
    sqlite_autoincrement=True,
)

ask = Table(
    "ask",
    metadata,
    _key(),
    _of("client", index=False),
    Column("week", Week, nullable=False),
    Column("day", Date, nullable=False),
    Column("at", Time, nullable=False),
    Column("minutes", Integer, nullable=False),
    Column("revision", Integer, nullable=False),
    _flag("extra"),
    _flag("weekly"),
    _flag("withdrawn"),
    Column("outcome", Spelled(Outcome)),
    Column("answered_at", UTCDateTime),
    Column("prompted", Integer),
    Column("prompted_at", UTCDateTime),
    Column("followed_up_at", UTCDateTime),
    Column("said_at", UTCDateTime),
    _flag("missed_once"),
    Column("took_minutes", Integer),
    Column("effort", Float),
    Column("session_id", BigInteger),
    Index("ix_ask_client_week", "client_id", "week"),
    sqlite_autoincrement=True,
)

unasked = Table(
    "unasked",
    metadata,
    _key(),
    _of("client", index=False),
    Column("key", String(80), nullable=False, unique=True),
    Column("kind", String(16), nullable=False),
    Column("day", Date, nullable=False),
    Column("week", Week, nullable=False),
    Column("at", UTCDateTime, nullable=False),
    Index("ix_unasked_client_week", "client_id", "week"),
    sqlite_autoincrement=True,
)

night = Table(
    "night",
    metadata,
    _key(),
    _of("client", index=False),
    Column("day", Date, nullable=False),
    Column("slept", SealedJson, nullable=False),
    Column("said_at", UTCDateTime, nullable=False),
    UniqueConstraint("client_id", "day"),
    sqlite_autoincrement=True,
)

dialogue = Table(
    "dialogue",
    metadata,
    Column("telegram_id", BigInteger, primary_key=True, autoincrement=False),
    Column("topic", String(32), nullable=False),
    Column("state", SealedJson, nullable=False),
    Column("asked", String(16), nullable=False),
    Column("about", BigInteger),
    Column("at", UTCDateTime, nullable=False),
)

red_flag = Table(
    "red_flag",
    metadata,
    _key(),
    _of("client"),
    Column("words", SealedText, nullable=False),
    Column("sure", Boolean, nullable=False),
    Column("raised_at", UTCDateTime, nullable=False),
    Column("told", Integer, nullable=False, default=0),
    Column("told_at", UTCDateTime),
    Column("seen_at", UTCDateTime),
    Column("cleared_at", UTCDateTime),
    Column("note", SealedText),
    sqlite_autoincrement=True,
)

remark = Table(
    "remark",
    metadata,
    _key(),
    _of("client"),
    Column("said_by", Spelled(Role), nullable=False),
    Column("kind", String(16), nullable=False),
    Column("words", SealedText, nullable=False),
    Column("places", SealedWords, nullable=False),
    Column("said_at", UTCDateTime, nullable=False),
    Column("week", Week, nullable=False),
    Column("message_id", BigInteger),
    sqlite_autoincrement=True,
)

remote_session = Table(
    "remote_session",
    metadata,
    _key(),
    _of("client"),
    Column("ask_id", BigInteger),
    Column("by", Spelled(Role), nullable=False),
    Column("title", SealedText, nullable=False),
    Column("body", SealedJson, nullable=False),
    Column("minutes", Integer),
    Column("room", Spelled(Room)),
    Column("made_at", UTCDateTime, nullable=False),
    Column("key", String(80), nullable=False, unique=True),
    Column("sent_at", UTCDateTime),
    Column("opened_at", UTCDateTime),
    Column("begun_at", UTCDateTime),
    Column("done_at", UTCDateTime),
    sqlite_autoincrement=True,
)

stranger = Table(
    "stranger",
    metadata,
    Column("telegram_id", BigInteger, primary_key=True, autoincrement=False),
    Column("told_at", UTCDateTime, nullable=False),
    Column("tries", Integer, nullable=False),
)
