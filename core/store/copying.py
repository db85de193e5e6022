"""All rows from one database to another, whatever either is. What is sealed is copied sealed: no key is needed for it."""

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Column, Integer, MetaData, Table, column, delete, func, insert, select, table, text
from sqlalchemy.ext.asyncio import AsyncConnection
from sqlalchemy.sql import TableClause
from sqlalchemy.types import TypeDecorator, TypeEngine

from core.store.columns import UTCDateTime
from core.store.schema import all_tables

BATCH = 1_000  # rows in memory at a time


async def tables_of(tx: AsyncConnection) -> Sequence[Table]:
    """The tables of a database as it declares them itself, of whichever revision it is; owners before what belongs to them."""
    found = MetaData()
    await tx.run_sync(found.reflect)
    return [each for each in found.sorted_tables if each.name != "alembic_version"]


async def copy_rows(
    source: AsyncConnection, target: AsyncConnection, tables: Sequence[Table] | None = None
) -> Mapping[str, int]:
    """Replace everything in ``target`` by what is in ``source``; both have the same schema. How many rows, by table.

    :param tables: of that schema; None: it is the newest.
    """
    tables = all_tables().sorted_tables if tables is None else tables
    for each in reversed(tables):
        await target.execute(delete(each))
    copied = {each.name: await _copy(source, target, each) for each in tables}
    for each in tables:
        await _go_on_counting(target, each)
    return copied


async def count_rows(tx: AsyncConnection, tables: Sequence[Table] | None = None) -> Mapping[str, int]:
    return {
        each.name: (await tx.execute(select(func.count()).select_from(each))).scalar_one()
        for each in (all_tables().sorted_tables if tables is None else tables)
    }


async def _copy(source: AsyncConnection, target: AsyncConnection, each: Table) -> int:
    as_stored = _as_stored(each)
    copied = 0
    # By hand rather than by a stream: the key is what both engines order alike.
    rows = (await source.execute(select(*as_stored.c).order_by(*each.primary_key))).mappings()
    while batch := rows.fetchmany(BATCH):
        await target.execute(insert(as_stored), [dict(row) for row in batch])
        copied += len(batch)
    return copied


def _as_stored(each: Table) -> TableClause:
    """The same table with its sealed columns as the text that they are on the disk."""
    return table(each.name, *(column(c.name, _stored_type(c)) for c in each.c))


def _stored_type(of: Column[Any]) -> TypeEngine[Any]:
    """Below our own types; but instants keep theirs, since the engines store them differently."""
    stored = of.type
    while isinstance(stored, TypeDecorator) and not isinstance(stored, UTCDateTime):
        stored = stored.impl_instance
    return stored


async def _go_on_counting(target: AsyncConnection, each: Table) -> None:
    """PostgreSQL numbers rows by a sequence of its own, which has not seen the copied ones."""
    number = each.c.get("id")
    if target.dialect.name != "postgresql" or number is None or not isinstance(number.type, Integer):
        return
    sequence = (
        await target.execute(text("SELECT pg_get_serial_sequence(:name, 'id')"), {"name": each.name})
    ).scalar()
    if sequence is None:
        return
    highest = (await target.execute(select(func.max(number)))).scalar()
    if highest is not None:
        await target.execute(text("SELECT setval(CAST(:s AS regclass), :n)"), {"s": sequence, "n": highest})
