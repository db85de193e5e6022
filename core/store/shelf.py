"""Values in, values out: a table whose columns are the fields of one frozen dataclass.

Nothing outside `core.store` sees a row. `add` fills in the id, `save` writes a changed value back.
"""

import dataclasses
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Generic, TypeVar, cast

from sqlalchemy import ColumnElement, Table, bindparam, delete, insert, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from core.errors import Fault

T = TypeVar("T")
_KEY = "key of the row"


class Missing(Fault):
    """A row that should be there is not: it was erased meanwhile."""


class Shelf(Generic[T]):
    """All values of one kind. The methods take the transaction they belong to."""

    def __init__(self, table: Table, kind: type[T]) -> None:
        self.table = table
        self.kind = kind
        self._fields = [field.name for field in dataclasses.fields(cast("Any", kind))]
        self._columns = [table.c[name] for name in self._fields]
        values: dict[str, Any] = {name: bindparam(name) for name in self._fields if name != "id"}
        # Built once: building a statement of thirty columns takes longer than running it.
        self._select = select(*self._columns)
        self._insert = insert(table).values(values).returning(table.c.id)
        self._update = update(table).where(table.c.id == bindparam(_KEY)).values(values)

    async def list(
        self,
        tx: AsyncConnection,
        *where: ColumnElement[bool],
        order: Sequence[ColumnElement[Any]] = (),
        limit: int | None = None,
        locked: bool = False,
    ) -> list[T]:
        """All values that meet every condition, in the order given, else of their making; ``locked`` as by `lock`."""
        query = self._select.where(*where).order_by(*(order or (self.table.c.id,))).limit(limit)
        if locked:
            query = query.with_for_update()
        return [self._value(row) for row in (await tx.execute(query)).mappings()]

    async def find(self, tx: AsyncConnection, *where: ColumnElement[bool], locked: bool = False) -> T | None:
        found = await self.list(tx, *where, limit=1, locked=locked)
        return found[0] if found else None

    async def get(self, tx: AsyncConnection, key: int) -> T:
        """The value with this id; `Missing` where there is none."""
        found = await self.find(tx, self.table.c.id == key)
        if found is None:
            raise Missing(f"The {self.table.name.replace('_', ' ')} {key} is no longer there.")
        return found

    async def lock(self, tx: AsyncConnection, key: int) -> T:
        """The value with this id, kept from every other transaction until this one ends."""
        query = self._select.where(self.table.c.id == key).with_for_update()
        row = (await tx.execute(query)).mappings().first()
        if row is None:
            raise Missing(f"The {self.table.name.replace('_', ' ')} {key} is no longer there.")
        return self._value(row)

    async def add(self, tx: AsyncConnection, value: T) -> T:
        fields = {name: getattr(value, name) for name in self._fields if name != "id"}
        key = (await tx.execute(self._insert, fields)).scalar_one()
        return cast("T", replace(cast("Any", value), id=key))

    async def add_all(self, tx: AsyncConnection, values: Sequence[T]) -> None:
        """Many at once, where nobody needs their ids."""
        names = [name for name in self._fields if name != "id"]
        if values:
            rows = [{name: getattr(value, name) for name in names} for value in values]
            await tx.execute(insert(self.table), rows)

    async def save(self, tx: AsyncConnection, value: T) -> T:
        fields = {name: getattr(value, name) for name in self._fields if name != "id"}
        await tx.execute(self._update, {**fields, _KEY: cast("Any", value).id})
        return value

    async def remove(self, tx: AsyncConnection, *where: ColumnElement[bool]) -> int:
        return (await tx.execute(delete(self.table).where(*where))).rowcount

    def _value(self, row: Any) -> T:  # noqa: ANN401 - a row mapping
        return self.kind(**{name: row[name] for name in self._fields})
