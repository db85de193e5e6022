"""Migrations: up, down, from every revision with rows in it; and what they make is what the code declares."""

import datetime as dt
from collections.abc import AsyncIterator, Mapping
from typing import Any

import pytest
from alembic.script import ScriptDirectory
from sqlalchemy import (
    Boolean,
    Column,
    Connection,
    Date,
    Float,
    Integer,
    String,
    Table,
    Time,
    delete,
    func,
    insert,
    inspect,
    select,
    text,
)

from core.calendar.weeks import IsoWeek
from core.store.cipher import Cipher
from core.store.columns import SealedJson, SealedText, UTCDateTime
from core.store.engine import Store, open_store
from core.store.house_tables import SealedWords, Spelled, Week, Weekdays
from core.store.schema import all_tables, current, downgrade, migrations_folder, newest, revisions, upgrade

AT = dt.datetime(2026, 11, 25, 7, tzinfo=dt.UTC)

REVISIONS = [
    script.revision for script in reversed(list(ScriptDirectory(str(migrations_folder())).walk_revisions()))
]


@pytest.fixture
async def bare(store_url: str, cipher: Cipher) -> AsyncIterator[Store]:
    """A store on an empty database, opened as migrations open it."""
    store = open_store(store_url, cipher, foreign_keys=False)
    await downgrade(store, "base")
    yield store
    await store.close()


ONE_OF_EACH: Mapping[str, Mapping[str, object]] = {
    "inbox": {"epoch": "e", "update_id": 1, "chat_id": 7, "body": {}, "state": "waiting", "received_at": AT},
    "outbox": {
        "key": "k",
        "chat_id": 7,
        "kind": "prompt",
        "lane": 1,
        "method": "sendMessage",
        "payload": {},
        "state": "waiting",
        "not_before": AT,
        "enqueued_at": AT,
    },
    "budget": {"chat_id": 7, "free_at": AT},
    "lease": {"name": "receiver", "holder": "one", "until": AT},
    "witness": {"id": 1, "word": "kept"},
}


def _fill(connection: Connection) -> Mapping[str, int]:
    """One row in every table that this revision has, and how many rows each of them holds."""
    here = set(inspect(connection).get_table_names())
    for table in all_tables().sorted_tables:
        if table.name in here:
            columns = {c["name"] for c in inspect(connection).get_columns(table.name)}
            row = ONE_OF_EACH.get(table.name) or _any_row(table, columns)
            connection.execute(insert(table).values(row))
    counts = _counts(connection)
    assert set(counts.values()) == {1}
    return counts


def _any_row(table: Table, columns: set[str]) -> dict[str, object]:
    """A row with something in every column that this revision has; every reference is to the row with the id 1."""
    return {c.name: _any_value(c) for c in table.columns if c.name in columns}


def _any_value(column: Column[Any]) -> object:
    kind = column.type
    if isinstance(kind, Spelled):
        return next(iter(kind.kind))
    fitting: list[tuple[type, object]] = [
        (Week, IsoWeek(2026, 48)),
        (Weekdays, (1, 3)),
        (SealedWords, ("knee",)),
        (SealedJson, {"hours": 6.5}),
        (SealedText, "words"),
        (UTCDateTime, AT),
        (Boolean, False),
        (Float, 0.8),
        (Integer, 1),
        (Date, AT.date()),
        (Time, AT.time()),
        (String, "x"),
    ]
    return next(value for type_, value in fitting if isinstance(kind, type_))


def _counts(connection: Connection) -> dict[str, int]:
    tables = set(inspect(connection).get_table_names()) - {"alembic_version"}
    return {
        name: connection.execute(select(func.count()).select_from(text(name))).scalar_one()
        for name in sorted(tables)
    }


async def test_up_down_and_up_again(bare: Store) -> None:
    told = await upgrade(bare)
    assert [line.split(":")[0] for line in told] == REVISIONS
    assert await current(bare) == newest() == REVISIONS[-1]
    assert revisions() == REVISIONS
    await downgrade(bare, "base")
    assert await current(bare) is None
    async with bare.begin() as tx:
        left = await tx.run_sync(lambda c: inspect(c).get_table_names())
    assert left == ["alembic_version"]
    assert len(await upgrade(bare)) == len(REVISIONS)


async def test_upgrading_what_is_up_to_date_does_nothing(bare: Store) -> None:
    await upgrade(bare)
    assert await upgrade(bare) == []


@pytest.mark.parametrize("revision", REVISIONS)
async def test_no_row_is_lost_from_any_revision_up(bare: Store, revision: str) -> None:
    await upgrade(bare, revision)
    async with bare.begin() as tx:
        before = await tx.run_sync(_fill)
    await upgrade(bare)
    async with bare.begin() as tx:
        after = await tx.run_sync(_counts)
    assert sum(before.values()) > 0
    assert {name: after[name] for name in before} == before


def _declared(connection: Connection) -> Mapping[str, object]:
    """The shape of everything that is in this database, as the database itself tells it."""
    inspector = inspect(connection)
    tables = sorted(set(inspector.get_table_names()) - {"alembic_version"})
    return {name: _shape(inspector, name) for name in tables}


def _shape(inspector: Any, name: str) -> Mapping[str, object]:
    def where(index: Mapping[str, Any]) -> str:
        options = index.get("dialect_options", {})
        return str(options.get("sqlite_where", options.get("postgresql_where", "")))

    return {
        "columns": [
            (c["name"], str(c["type"]), c["nullable"], c["default"]) for c in inspector.get_columns(name)
        ],
        "primary key": inspector.get_pk_constraint(name),
        "unique": sorted((u["name"], u["column_names"]) for u in inspector.get_unique_constraints(name)),
        "foreign keys": sorted(
            (f["name"], f["constrained_columns"], f["referred_table"], f["referred_columns"], f["options"])
            for f in inspector.get_foreign_keys(name)
        ),
        "checks": sorted((c["name"], c["sqltext"]) for c in inspector.get_check_constraints(name)),
        "indexes": sorted(
            (i["name"], i["column_names"], bool(i["unique"]), where(i)) for i in inspector.get_indexes(name)
        ),
    }


async def test_migrations_make_exactly_what_the_code_declares(bare: Store) -> None:
    """Constraints and indexes too, which Alembic's own comparison passes over."""
    await upgrade(bare)
    async with bare.begin() as tx:
        migrated = await tx.run_sync(_declared)
    await downgrade(bare, "base")
    async with bare.begin() as tx:
        await tx.run_sync(all_tables().create_all)
        created = await tx.run_sync(_declared)
    assert migrated == created
    assert {"inbox", "outbox", "budget", "lease", "witness"} <= set(created)


async def test_every_constraint_has_a_name() -> None:
    nameless = [
        f"{table.name}: {constraint}"
        for table in all_tables().sorted_tables
        for constraint in table.constraints
        if constraint.name is None
    ]
    assert nameless == []


async def test_a_migration_that_fails_leaves_nothing_behind(bare: Store) -> None:
    """Half a migration would be worse than none: the whole walk is one transaction."""
    async with bare.begin() as tx:
        await tx.execute(text("CREATE TABLE outbox (id INTEGER)"))
    with pytest.raises(Exception, match="outbox"):
        await upgrade(bare)
    async with bare.begin() as tx:
        left = await tx.run_sync(lambda c: inspect(c).get_table_names())
    assert sorted(left) == ["alembic_version", "outbox"]


def test_tables_of_the_queues_are_among_all_tables() -> None:
    assert isinstance(all_tables().tables["outbox"], Table)


@pytest.mark.parametrize("revision", REVISIONS)
async def test_a_number_that_was_given_is_never_given_again(
    sqlite_url: str, cipher: Cipher, revision: str
) -> None:
    """An old button, a key, a programme that was brought: all of them name a row by its number, and mean that row."""
    store = open_store(sqlite_url, cipher, foreign_keys=False)  # on PostgreSQL a sequence sees to it
    await downgrade(store, revision)
    async with store.begin() as tx:
        filled = await tx.run_sync(_fill)
    await upgrade(store)
    async with store.begin() as tx:
        given = await tx.run_sync(_numbers_after_all_were_deleted)
    await store.close()
    assert given
    assert {table: number for table, number in given.items() if table in filled and number < 2} == {}


def _numbers_after_all_were_deleted(connection: Connection) -> dict[str, int]:
    """Each row goes and another comes: the number of the new one, of the tables that number their rows themselves."""
    given = {}
    for table in all_tables().sorted_tables:
        if "id" not in table.c or table.name == "witness":
            continue
        row = ONE_OF_EACH.get(table.name) or _any_row(table, {c.name for c in table.columns} - {"id"})
        connection.execute(delete(table))
        added = connection.execute(insert(table).values(row).returning(table.c.id))
        given[table.name] = added.scalar_one()
    return given
