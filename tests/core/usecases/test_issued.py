"""How issued forecasts came true: told from the whole past, at the cost of two questions a client."""

import datetime as dt
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from sqlalchemy import event

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach
from core.store import house
from core.store.engine import Store
from core.terms import Outcome
from core.usecases import issued
from core.week.model import Ask, Hand, Promise

FIRST = IsoWeek(2026, 1)
NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


async def a_past(store: Store, weeks: int) -> Coach:
    """So many weeks of one promised and done at odds of 0.8; of every fourth, missed; of every tenth, excused."""
    async with store.begin() as tx:
        coach = await house.coaches.add(tx, Coach(id=0, name="Ines Prado"))
        client = await house.clients.add(tx, Client(id=0, coach_id=coach.id, name="Mara"))
        for number in range(weeks):
            await house.promises.add(tx, _promise(client, FIRST.plus(number)))
            outcome = (
                Outcome.EXCUSED if number % 10 == 9 else Outcome.MISSED if number % 4 == 3 else Outcome.DONE
            )
            await house.asks.add(tx, _ask(client, FIRST.plus(number), outcome))
    return coach


def _promise(client: Client, week: IsoWeek) -> Promise:
    return Promise(id=0, client_id=client.id, week=week, agreed=1, agreed_by=Hand.CLIENT, odds={"1": 0.8})


def _ask(client: Client, week: IsoWeek, outcome: Outcome) -> Ask:
    return Ask(
        id=0, client_id=client.id, week=week, day=week.monday, at=dt.time(7), minutes=45, outcome=outcome
    )


@contextmanager
def counted(store: Store) -> Iterator[list[str]]:
    """The statements that are executed meanwhile."""
    said: list[str] = []

    def hear(_connection: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        said.append(statement)

    event.listen(store.engine.sync_engine, "before_cursor_execute", hear)
    yield said
    event.remove(store.engine.sync_engine, "before_cursor_execute", hear)


async def test_weeks_that_count_are_counted(store: Store) -> None:
    coach = await a_past(store, 20)
    async with store.reading() as tx:
        (told,) = await issued.audit_of(tx, coach.id)
    assert (told.given, told.kept) == (18, 14)
    assert told.said == pytest.approx(0.8)


async def test_a_long_past_costs_no_more_questions_than_a_short_one(store: Store) -> None:
    coach = await a_past(store, 30)
    async with store.reading() as tx:
        with counted(store) as said:
            await issued.audit_of(tx, coach.id)
    assert len(said) == 3
