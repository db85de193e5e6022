"""A store that is nothing but dictionaries: it reads the statements of the house and answers them without a database.

It is for simulations by the thousand. It knows one table a statement, plain comparisons, and no way back from a transaction; what
it does not know it refuses. That it answers as SQLite does is tested beside it.
"""

import functools
import itertools
import operator
from collections import Counter
from collections.abc import AsyncIterator, Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import asynccontextmanager
from types import SimpleNamespace
from typing import Any, cast

from sqlalchemy import Table
from sqlalchemy.sql import operators
from sqlalchemy.sql.dml import Delete, Insert, Update
from sqlalchemy.sql.elements import BindParameter, BooleanClauseList, False_, Null, True_
from sqlalchemy.sql.functions import Function
from sqlalchemy.sql.selectable import CompoundSelect, Select

from core.people.records import Dialogue
from core.store.engine import Store

MADE = "the value made of it"  # kept beside the columns of a row, for as long as it stays as it is
Row = dict[str, Any]
Test = Callable[[Row], bool]


class Answer:
    """What a statement gives back, in the shapes in which the house asks for it."""

    def __init__(self, rows: Sequence[Row] = (), rowcount: int = 0) -> None:
        self.rows = rows
        self.rowcount = rowcount

    def mappings(self) -> "Answer":
        return self

    def __iter__(self) -> Iterator[Row]:
        return iter(self.rows)

    def all(self) -> Sequence[Row]:
        return self.rows

    def first(self) -> Any:
        return self.rows[0] if self.rows else None

    def scalars(self) -> list[Any]:
        return [next(iter(row.values())) for row in self.rows]

    def scalar_one(self) -> Any:
        (only,) = self.scalars()
        return only

    def scalar_one_or_none(self) -> Any:
        return next(iter(self.scalars()), None)


class InMemory:
    """Store and transaction in one: whatever is executed is done at once."""

    dialect = SimpleNamespace(name="sqlite")

    def __init__(self) -> None:
        self.tables: dict[str, dict[int, Row]] = {}
        self.of_client: dict[tuple[str, int], dict[int, Row]] = {}
        self.keys: dict[str, set[str]] = {}
        self.dialogues: dict[int, Dialogue] = {}
        self.last: Counter[str] = Counter()

    @asynccontextmanager
    async def begin(self) -> AsyncIterator["InMemory"]:
        yield self

    reading = begin

    async def execute(self, statement: Any, values: Mapping[str, Any] | None = None) -> Answer:
        given = values or {}
        match statement:
            case Select():
                return Answer(self._select(statement))
            case CompoundSelect():
                found = (row for part in statement.selects for row in self._select(cast("Any", part)))
                return Answer(list({tuple(row.values()): row for row in found}.values()))
            case Insert():
                return self._insert(statement, given)
            case Update():
                return self._update(statement, given)
            case Delete():
                return self._delete(statement)
            case _:
                msg = f"not known here: {statement}"
                raise NotImplementedError(msg)

    def rows_of(self, table: Table) -> dict[int, Row]:
        return self.tables.setdefault(table.name, {})

    def _select(self, query: Any) -> list[Row]:
        first = query._raw_columns[0]
        if isinstance(first, Function):
            return [self._extreme(first, query)]
        table = first if isinstance(first, Table) else first.table
        found = list(self.matching(table, query._where_criteria, {}))
        put_in_order(found, query._order_by_clauses)
        if query._limit_clause is not None:
            found = found[: query._limit_clause.value]
        if first is table or len(query._raw_columns) >= len(table.columns):
            return found
        names = [column.name for column in query._raw_columns]
        return [_Row((name, row[name]) for name in names) for row in found]

    def _extreme(self, function: Any, query: Any) -> Row:
        (column,) = function.clauses
        found = {"min": min, "max": max}[function.name]
        known = (row[column.name] for row in self.matching(column.table, query._where_criteria, {}))
        return {function.name: found((value for value in known if value is not None), default=None)}

    def matching(self, table: Table, where: Iterable[Any], given: Mapping[str, Any]) -> Iterator[Row]:
        clauses = list(where)
        tests = [self._test(clause, given) for clause in clauses]
        return (row for row in self._near(table, clauses, given) if all(test(row) for test in tests))

    def _near(self, table: Table, where: Sequence[Any], given: Mapping[str, Any]) -> list[Row]:
        """The rows among which to look: by the key or by the client, where the statement names one."""
        near = list(self.rows_of(table).values())
        for clause in where:
            name = getattr(getattr(clause, "left", None), "name", None)
            if name == "id" and clause.operator is operator.eq:
                row = self.rows_of(table).get(_value(clause.right, given))
                return [] if row is None else [row]
            if name == "id" and clause.operator is operator.gt:
                return _after(near, _value(clause.right, given))
            if name == "client_id" and clause.operator is operator.eq:
                near = list(self.of_client.get((table.name, _value(clause.right, given)), {}).values())
        return near

    def _test(self, clause: Any, given: Mapping[str, Any]) -> Test:
        if isinstance(clause, BooleanClauseList):
            tests = [self._test(each, given) for each in clause.clauses]
            either = any if clause.operator is operators.or_ else all
            return lambda row: either(test(row) for test in tests)
        name, compare = clause.left.name, clause.operator
        inner = getattr(clause.right, "element", None)
        if isinstance(inner, Select):
            among = {next(iter(row.values())) for row in self._select(inner)}
            return lambda row: row[name] in among
        value = _value(clause.right, given)
        match compare:
            case operators.is_:
                return lambda row: row[name] is value or row[name] == value
            case operators.is_not:
                return lambda row: row[name] is not value and row[name] != value
            case operators.in_op:
                return lambda row: row[name] in value
            case operators.not_like_op:
                return lambda row: not row[name].endswith(value.removeprefix("%"))
            case operator.eq | operator.ne | operator.lt | operator.le | operator.gt | operator.ge:
                return lambda row: row[name] is not None and compare(row[name], value)
            case _:
                msg = f"not known here: {clause}"
                raise NotImplementedError(msg)

    def put(self, table: Table, row: Row) -> int | None:
        """Add a row and tell its key; None where its name has been used."""
        full = {**_defaults(table), **row}
        if "key" in full:
            used = self.keys.setdefault(table.name, set())
            if full["key"] in used:
                return None
            used.add(full["key"])
        self.last[table.name] += 1
        number = self.last[table.name]
        if "id" in full:
            full["id"] = number
        self.rows_of(table)[number] = full
        if "client_id" in full:
            self.of_client.setdefault((table.name, full["client_id"]), {})[number] = full
        return number

    def _insert(self, statement: Any, given: Mapping[str, Any]) -> Answer:
        said = {_name(key): _value(value, given) for key, value in (statement._values or {}).items()}
        columns = statement.table.columns
        key = self.put(statement.table, {**said, **{k: v for k, v in given.items() if k in columns}})
        return Answer() if key is None else Answer([{"id": key}], rowcount=1)

    def _update(self, statement: Any, given: Mapping[str, Any]) -> Answer:
        changed = {_name(key): _value(value, given) for key, value in statement._values.items()}
        touched = 0
        for row in self.matching(statement.table, statement._where_criteria, given):
            row.update(changed)
            row.pop(MADE, None)
            touched += 1
        return Answer(rowcount=touched)

    def _delete(self, statement: Any) -> Answer:
        rows = self.rows_of(statement.table)
        gone = {id(row) for row in self.matching(statement.table, statement._where_criteria, {})}
        for key in [key for key, row in rows.items() if id(row) in gone]:
            self.of_client.get((statement.table.name, rows[key].get("client_id", 0)), {}).pop(key, None)
            del rows[key]
        return Answer(rowcount=len(gone))


class _Row(dict[str, Any]):
    """A row of which the columns are attributes too."""

    __getattr__ = dict.__getitem__


def _after(rows: Sequence[Row], key: int) -> list[Row]:
    """The rows of a later key, in their order: those are at the end."""
    later = list(itertools.takewhile(lambda row: row["id"] > key, reversed(rows)))
    return later[::-1]


def _name(key: Any) -> str:
    return key if isinstance(key, str) else str(key.name)


def _value(right: Any, given: Mapping[str, Any]) -> Any:
    match right:
        case BindParameter():
            return given.get(right.key, right.effective_value)
        case Null():
            return None
        case True_():
            return True
        case False_():
            return False
        case _:
            msg = f"not known here: {right}"
            raise NotImplementedError(msg)


@functools.cache
def _defaults(table: Table) -> Row:
    return {column.name: _default(column) for column in table.columns}


def _default(column: Any) -> Any:
    return column.default.arg if column.default is not None and column.default.is_scalar else None


def put_in_order(rows: list[Row], clauses: Sequence[Any]) -> None:
    """Sort as SQLite does: nothing comes first."""
    for clause in reversed(clauses):
        column = getattr(clause, "element", clause)
        rows.sort(
            key=lambda row, name=str(column.name): (row[name] is not None, row[name]),  # type: ignore[misc]
            reverse=getattr(clause, "modifier", None) is operators.desc_op,
        )


def in_memory() -> Store:
    return cast("Store", InMemory())
