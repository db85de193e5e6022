"""Short ways through a store in memory, for simulations by the thousand.

Building a statement costs more than answering it from a dictionary: what is asked at every step is looked up directly. That the
same life comes out as on SQLite is tested beside it.
"""

import datetime as dt
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from typing import Any
from unittest import mock

from sqlalchemy import Table

from core.calendar.weeks import IsoWeek
from core.people.records import Dialogue, PlannedTrip, RedFlag
from core.store import house, outbox
from core.store import house_tables as t
from core.store.shelf import Missing, Shelf
from core.week.model import Ask, Promise
from tests.bot.rounds.memory_store import MADE, InMemory, Row, put_in_order


@contextmanager
def short_ways() -> Iterator[None]:
    """Let the shelves and the commonest questions of the house skip the statement. Only a store in memory may be used meanwhile."""
    ways = ((Shelf, _SHELF), (house, _HOUSE), (outbox, {"insert_or_nothing": _insert_or_nothing}))
    with ExitStack() as stack:
        for place, shorter in ways:
            for name, way in shorter.items():
                stack.enter_context(mock.patch.object(place, name, way))
        yield


def _value_of(shelf: Any, row: Row) -> Any:
    """The value of a row, made once for as long as the row stays as it is."""
    made = row.get(MADE)
    if made is None:
        made = row[MADE] = shelf.kind(**{name: row[name] for name in shelf._fields})
    return made


def _own(tx: InMemory, shelf: Any, client_id: int) -> list[Any]:
    return [_value_of(shelf, row) for row in tx.of_client.get((shelf.table.name, client_id), {}).values()]


async def _list(
    shelf: Any,
    tx: InMemory,
    *where: Any,
    order: Sequence[Any] = (),
    limit: int | None = None,
    locked: bool = False,  # noqa: ARG001 - there is nobody else
) -> list[Any]:
    found = list(tx.matching(shelf.table, where, {}))
    put_in_order(found, order)
    return [_value_of(shelf, row) for row in found[:limit]]


async def _get(shelf: Any, tx: InMemory, key: int) -> Any:
    row = tx.rows_of(shelf.table).get(key)
    if row is None:
        raise Missing(f"The {shelf.table.name} {key} is no longer there.")
    return _value_of(shelf, row)


async def _save(shelf: Any, tx: InMemory, value: Any) -> Any:
    row = tx.rows_of(shelf.table).get(value.id)
    if row is not None:
        row.update({name: getattr(value, name) for name in shelf._fields})
        row[MADE] = value
    return value


def _inorder_of(asks: Iterable[Ask]) -> list[Ask]:
    return sorted(asks, key=lambda a: (a.day, a.at, a.id))


async def _trips_of(tx: InMemory, client_id: int) -> list[PlannedTrip]:
    standing = (trip for trip in _own(tx, house.trips, client_id) if trip.cancelled_at is None)
    return sorted(standing, key=lambda trip: (trip.first, trip.id))


async def _asks_of(tx: InMemory, client_id: int, *, since: IsoWeek | None = None) -> list[Ask]:
    return _inorder_of(a for a in _own(tx, house.asks, client_id) if since is None or a.week >= since)


async def _left_open(tx: InMemory, client_id: int, *, before: IsoWeek) -> list[Ask]:
    return _inorder_of(a for a in _own(tx, house.asks, client_id) if a.week < before and a.is_open)


async def _asks_of_week(tx: InMemory, client_id: int, week: IsoWeek) -> list[Ask]:
    return _inorder_of(a for a in _own(tx, house.asks, client_id) if a.week == week)


async def _promises_of(tx: InMemory, client_id: int, *, since: IsoWeek | None = None) -> list[Promise]:
    known = (p for p in _own(tx, house.promises, client_id) if since is None or p.week >= since)
    return sorted(known, key=lambda p: p.week)


async def _promise_for(tx: InMemory, client_id: int, week: IsoWeek) -> Promise | None:
    return next((p for p in _own(tx, house.promises, client_id) if p.week == week), None)


async def _mornings_known(tx: InMemory, client_id: int, since: dt.date) -> frozenset[dt.date]:
    told = {night.day for night in _own(tx, house.nights, client_id)}
    asked = {r["day"] for r in tx.of_client.get(("unasked", client_id), {}).values() if r["kind"] == "sleep"}
    return frozenset(day for day in told | asked if day >= since)


async def _open_red_flag(tx: InMemory, client_id: int) -> RedFlag | None:
    raised = [flag for flag in _own(tx, house.red_flags, client_id) if flag.cleared_at is None]
    return max(raised, key=lambda flag: (flag.sure, flag.id), default=None)


async def _unasked_counts(tx: InMemory, client_id: int, day: dt.date) -> tuple[int, int]:
    week, own = IsoWeek.of(day), tx.of_client.get(("unasked", client_id), {}).values()
    days = [row["day"] for row in own if row["week"] == week and not row["key"].endswith(":dropped")]
    return days.count(day), len(days)


async def _note_unasked(tx: InMemory, client_id: int, **row: Any) -> bool:
    noted = {**row, "client_id": client_id, "week": IsoWeek.of(row["day"]), "kind": row["kind"].value}
    return tx.put(t.unasked, noted) is not None


async def _insert_or_nothing(tx: InMemory, table: Table, row: Row, *, unique: Any) -> bool:
    assert [column.name for column in unique] == ["key"]
    return tx.put(table, dict(row)) is not None


async def _dialogue_of(tx: InMemory, telegram_id: int, at: dt.datetime) -> Dialogue:
    known = tx.dialogues.get(telegram_id)
    return known or Dialogue(telegram_id=telegram_id, at=at)


async def _keep_dialogue(tx: InMemory, dialogue: Dialogue) -> None:
    kept = json.loads(json.dumps(dialogue.state))  # what is not JSON is refused here as it is by a column
    tx.dialogues[dialogue.telegram_id] = replace(dialogue, state=kept)


_SHELF: Mapping[str, Any] = {"list": _list, "get": _get, "lock": _get, "save": _save}
_HOUSE: Mapping[str, Any] = {
    "trips_of": _trips_of,
    "asks_of": _asks_of,
    "left_open": _left_open,
    "asks_of_week": _asks_of_week,
    "promises_of": _promises_of,
    "promise_for": _promise_for,
    "mornings_known": _mornings_known,
    "open_red_flag": _open_red_flag,
    "unasked_counts": _unasked_counts,
    "note_unasked": _note_unasked,
    "dialogue_of": _dialogue_of,
    "keep_dialogue": _keep_dialogue,
}
