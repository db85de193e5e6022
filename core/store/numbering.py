"""The last number that a table gave to a row, which may be gone since: a copy goes on after it."""

from sqlalchemy import Integer, Table, func, inspect, select, text
from sqlalchemy.ext.asyncio import AsyncConnection

_COUNTS = "sqlite_sequence"  # where SQLite keeps them, once a table counts


def gives_numbers(table: Table) -> bool:
    number = table.c.get("id")
    return number is not None and isinstance(number.type, Integer) and bool(number.autoincrement)


async def last_number(tx: AsyncConnection, table: Table) -> int:
    """0 where none was given yet."""
    if tx.dialect.name == "sqlite":
        return await _last_in_sqlite(tx, table)
    sequence = await _sequence(tx, table)
    if sequence is None:
        return 0
    last, is_given = (await tx.execute(text(f"SELECT last_value, is_called FROM {sequence}"))).one()  # noqa: S608
    return int(last) if is_given else 0


async def go_on_after(tx: AsyncConnection, table: Table, number: int) -> None:
    """Give no number up to this one to a new row."""
    if tx.dialect.name == "sqlite":
        await _go_on_in_sqlite(tx, table, number)
        return
    sequence = await _sequence(tx, table)
    if sequence is not None and number:
        await tx.execute(text("SELECT setval(CAST(:s AS regclass), :n)"), {"s": sequence, "n": number})


async def _sequence(tx: AsyncConnection, table: Table) -> str | None:
    """By the name that the server itself gives, quoted where need be."""
    statement = text("SELECT pg_get_serial_sequence(:name, 'id')")
    found: str | None = (await tx.execute(statement, {"name": table.name})).scalar()
    return found


async def _last_in_sqlite(tx: AsyncConnection, table: Table) -> int:
    if not await _counts(tx):
        return (await tx.execute(select(func.max(table.c.id)))).scalar() or 0
    kept = await tx.execute(text(f"SELECT seq FROM {_COUNTS} WHERE name = :name"), {"name": table.name})  # noqa: S608
    return kept.scalar() or 0


async def _go_on_in_sqlite(tx: AsyncConnection, table: Table, number: int) -> None:
    if not number or not await _counts(tx):
        return
    given = {"name": table.name, "number": number}
    known = await tx.execute(text(f"UPDATE {_COUNTS} SET seq = :number WHERE name = :name"), given)  # noqa: S608
    if not known.rowcount:
        await tx.execute(text(f"INSERT INTO {_COUNTS} (name, seq) VALUES (:name, :number)"), given)  # noqa: S608


async def _counts(tx: AsyncConnection) -> bool:
    """Whether the tables of this database count at all: those of an old revision do not."""
    return await tx.run_sync(lambda connection: inspect(connection).has_table(_COUNTS))
