"""Sixty clients with half a year behind them: how long their past takes to come in, and whom their digest keeps waiting."""

import asyncio
import datetime as dt
import io
import random
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import pytest

from bot.rounds import coach_round
from core.adherence.history import HistoryRow, write_history
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach, Stage
from core.programme.sheets.cells import read_sheets
from core.programme.sheets.history import history_from
from core.store import house
from core.store.engine import Store
from core.terms import Outcome
from core.usecases import history_in
from core.usecases.history import called_by

CLIENTS, WEEKS = 60, 50
SUNDAY = dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC)
OUTCOMES = (Outcome.DONE, Outcome.DONE, Outcome.MISSED)


async def _a_group(store: Store) -> Coach:
    async with store.begin() as tx:
        coach = await house.coaches.add(
            tx, Coach(id=0, name="Ines Prado", telegram_id=7001, stage=Stage.ACTIVE)
        )
        for number in range(CLIENTS):
            client = Client(
                id=0,
                coach_id=coach.id,
                name=f"Client {number}",
                telegram_id=8000 + number,
                stage=Stage.ACTIVE,
                consented_at=SUNDAY,
                zone="Europe/Lisbon",
                lately=3,
            )
            await house.clients.add(tx, client)
    return coach


def _a_past(chance: random.Random) -> bytes:
    """Three a week of every client, up to the week before this one."""
    text, last = io.StringIO(), dt.date(2026, 11, 16)
    write_history(
        (
            HistoryRow(
                client=f"Client {number}",
                date=last - dt.timedelta(weeks=week) + dt.timedelta(days=day),
                promised=3,
                outcome=chance.choice(OUTCOMES),
                minutes=45,
                slept_h=chance.choice((None, 6.5, 7.5)),
            )
            for number in range(CLIENTS)
            for week in range(WEEKS)
            for day in (0, 2, 4)
        ),
        text,
    )
    return text.getvalue().encode()


@asynccontextmanager
async def _stalls(found: list[float]) -> AsyncIterator[None]:
    """How long the loop was held each time, in seconds."""

    async def beat() -> None:
        last = time.perf_counter()
        while True:
            await asyncio.sleep(0.005)
            found.append(time.perf_counter() - last)
            last += found[-1]

    beating = asyncio.create_task(beat())
    yield
    await asyncio.sleep(0.02)
    beating.cancel()


@pytest.mark.benchmark
async def test_a_past_comes_in_and_a_digest_is_made(store: Store) -> None:
    coach, content, held = await _a_group(store), _a_past(random.Random(7)), list[float]()
    began = time.perf_counter()
    async with store.reading() as tx:
        clients = await house.clients_of(tx, coach.id)
    rows = history_from(
        read_sheets(content, "past.csv"), "past.csv", [called for _, called in called_by(clients)]
    )
    read = time.perf_counter()
    async with store.begin() as tx:
        await history_in.take_in(tx, await history_in.past_of(tx, clients, rows, SUNDAY), SUNDAY)
    taken = time.perf_counter()
    async with _stalls(held):
        await coach_round.gather(store, coach, IsoWeek.of(SUNDAY.date()), SUNDAY)
    print(f"\n{store.engine.dialect.name}: {len(rows)} rows of {CLIENTS} clients")
    print(f"  read              {read - began:6.2f} s")
    print(f"  taken in          {taken - read:6.2f} s, one transaction")
    print(f"  a digest gathered {time.perf_counter() - taken:6.2f} s")
    print(f"  the loop was held {max(held):6.2f} s at the longest meanwhile")
