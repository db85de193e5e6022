"""All rows from one database to another, whatever either is. What is sealed is copied sealed: no key is needed for it."""

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Column, MetaData, Table, column, delete, func, insert, select, table
from sqlalchemy.ext.asyncio import AsyncConnection
from sqlalchemy.sql import TableClause
from sqlalchemy.types import TypeDecorator, TypeEngine

from core.store.columns import UTCDateTime
from core.store.numbering import gives_numbers, go_on_after, last_number
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
    for each in filter(gives_numbers, tables):
        await go_on_after(target, each, await last_number(source, each))
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
