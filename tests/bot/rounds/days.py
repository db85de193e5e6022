"""A client's days on a stage of 2026: instants by a short word, and what became of the asks of a week."""

import datetime as dt

from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.store import house
from core.week.model import Ask, Promise
from tests.playhouse import CLIENT_ID, Message, Play

WEEK = IsoWeek(2026, 49)  # Monday 30 November
SUNDAY = dt.datetime(2026, 11, 29, 18, 5, tzinfo=dt.UTC)


def at(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(f"2026-{text}+00:00")


async def mara(play: Play) -> Client:
    async with play.store.reading() as tx:
        found = await house.client_by_telegram(tx, CLIENT_ID)
    assert found is not None
    return found


async def week_of(play: Play, week: IsoWeek = WEEK) -> list[Ask]:
    async with play.store.reading() as tx:
        return await house.asks_of_week(tx, (await mara(play)).id, week)


async def outcomes(play: Play, week: IsoWeek = WEEK) -> list[str]:
    asks = await week_of(play, week)
    return [f"{a.day:%a} {'withdrawn' if a.withdrawn else a.outcome or 'open'}" for a in asks]


async def promise_of(play: Play, week: IsoWeek = WEEK) -> Promise:
    async with play.store.reading() as tx:
        found = await house.promise_for(tx, (await mara(play)).id, week)
    assert found is not None
    return found


def kinds(messages: list[Message], chat: int = CLIENT_ID) -> list[str]:
    return [m.kind for m in messages if m.chat_id == chat]


async def outage(play: Play, until: dt.datetime) -> list[Message]:
    """The machine stops, and looks again only then."""
    play.at = until
    return await play.until(until)
