"""A client's own calendar feed: a secret address for their phone's calendar, of which only the hash is kept."""

import datetime as dt
from dataclasses import replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.feed import Entry, write_feed
from core.calendar.weeks import IsoWeek
from core.people.invitations import hash_of
from core.people.model import Client
from core.store import house
from core.store import house_tables as t
from core.week.circumstances import Circumstances
from core.week.model import Ask

LOOK_BACK_WEEKS = 4


async def open_feed(tx: AsyncConnection, client: Client, token: str) -> Client:
    """Give the client a fresh address; the one before stops working."""
    return await house.clients.save(tx, replace(client, calendar_hash=hash_of(token)))


async def feed_of(tx: AsyncConnection, token: str, at: dt.datetime) -> bytes | None:
    """The feed behind an address, or None where there is none."""
    client = await house.clients.find(tx, t.client.c.calendar_hash == hash_of(token))
    if client is None:
        return None
    life = await house.circumstances(tx, client)
    since = IsoWeek.of(life.today(at)).plus(-LOOK_BACK_WEEKS)
    asks = await house.asks_of(tx, client.id, since=since)
    entries = [entry_of(ask, life) for ask in asks if not ask.withdrawn and not ask.weekly]
    return write_feed(entries, name="Training", revised_at=at)


def entry_of(ask: Ask, life: Circumstances) -> Entry:
    """An ask as it stands in a calendar; it says no more than that there is a session, and how it ended."""
    return Entry(
        key=f"ask-{ask.id}",
        revision=ask.revision,
        day=ask.day,
        begins=life.where.resolve(ask.day, ask.at),
        minutes=ask.minutes,
        title="Training" if ask.outcome is None else f"Training ({ask.outcome})",
    )
