"""What both queues do alike: put a row there once, and lock one that nobody else is at."""

from collections.abc import Mapping, Sequence

from sqlalchemy import Column, Table
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.ext.asyncio import AsyncConnection


async def insert_or_nothing(
    tx: AsyncConnection, table: Table, row: Mapping[str, object], *, unique: Sequence[Column[object]]
) -> bool:
    """Whether the row is new. One with the same values in ``unique`` is left as it is."""
    insert = sqlite.insert if tx.dialect.name == "sqlite" else postgresql.insert
    statement = insert(table).values(**row).on_conflict_do_nothing(index_elements=list(unique))
    return bool((await tx.execute(statement.returning(*unique))).first())
