"""The history of this installation, in the rows that the forecast and a coach's spreadsheet read."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.adherence.history import HistoryRow
from core.calendar.trips import Whereabouts
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.store import house
from core.store import house_tables as t
from core.store.unread import left_out
from core.terms import Outcome
from core.week.model import Ask, Promise


async def rows_of(tx: AsyncConnection, client: Client, *, called: str | None = None) -> list[HistoryRow]:
    """Every ask and extra of a client that is evidence or plan; withdrawn ones have no row."""
    life = await house.circumstances(tx, client)
    asks = await house.asks_of(tx, client.id)
    promises = {p.week: p for p in await house.promises_of(tx, client.id)}
    slept = {n.day: n.hours for n in await house.nights_of(tx, client.id)}
    rows = [
        row_of(ask, promises.get(ask.week), life.where, slept, called or client.name)
        for ask in asks
        if has_row(ask, promises)
    ]
    return sorted(fitted(rows), key=lambda row: row.date)


def has_row(ask: Ask, promises: Mapping[IsoWeek, Promise]) -> bool:
    """Whether an ask belongs in the history: not withdrawn, and of a week that has a number."""
    promise = promises.get(ask.week)
    return not ask.withdrawn and (ask.extra or (promise is not None and bool(promise.number)))


def row_of(
    ask: Ask, promise: Promise | None, where: Whereabouts, slept: Mapping[dt.date, float | None], called: str
) -> HistoryRow:
    return HistoryRow(
        client=called,
        date=ask.day,
        promised=(promise.number or 0) if promise is not None else 0,
        outcome=ask.outcome,
        minutes=ask.minutes,
        away=where.away_on(ask.day),
        slept_h=slept.get(ask.day),
        lowered=promise.lowered if promise is not None else False,
    )


def fitted(rows: Iterable[HistoryRow]) -> list[HistoryRow]:
    """Keep the file's own rule, no more asks than promised: what a lower number left over is an extra if it was done."""
    kept: list[HistoryRow] = []
    asked: Counter[dt.date] = Counter()
    for row in sorted(rows, key=lambda r: r.date):
        if row.is_ask and asked[row.monday] >= row.promised:
            if row.outcome in {Outcome.DONE, Outcome.SHORT}:
                kept.append(replace(row, outcome=Outcome.EXTRA))
            continue
        asked[row.monday] += row.is_ask
        kept.append(row)
    return kept


def as_of(asks: Sequence[Ask], today: dt.date) -> dt.date:
    """The last day known in full: today, or the eve of the first ask that still waits for its answer."""
    waiting = [a.day for a in asks if a.is_open and not a.extra and a.day <= today]
    return min(waiting) - dt.timedelta(days=1) if waiting else today


async def cohort(tx: AsyncConnection) -> dict[str, list[HistoryRow]]:
    """Every client's rows, by the client's id: what the population is learnt from. Of who cannot be read nothing is."""
    found = dict[str, list[HistoryRow]]()
    for client_id, _ in await house.names_of(tx):
        with left_out(f"client {client_id}"):
            client = await house.clients.get(tx, client_id)
            found[str(client_id)] = await rows_of(tx, client, called=str(client_id))
    return found


async def named_rows(tx: AsyncConnection, clients: Sequence[Client] | None = None) -> list[HistoryRow]:
    """The rows of all clients under their names; two of one name are told apart by a number."""
    everybody = (
        clients
        if clients is not None
        else await house.clients.list(tx, order=[t.client.c.name, t.client.c.id])
    )
    rows: list[HistoryRow] = []
    for client, called in called_by(everybody):
        rows.extend(await rows_of(tx, client, called=called))
    return rows


def called_by(clients: Sequence[Client]) -> list[tuple[Client, str]]:
    """Clients with the names under which they stand in a history: two of one name are told apart by a number."""
    seen: Counter[str] = Counter()
    called = []
    for client in clients:
        seen[client.name] += 1
        number = seen[client.name]
        called.append((client, client.name if number == 1 else f"{client.name} ({number})"))
    return called
