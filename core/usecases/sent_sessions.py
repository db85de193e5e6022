"""Sessions as they were sent: kept for an ask or for now, read back as messages, and what was done with them."""

import datetime as dt
from dataclasses import replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.people.model import Client, Role
from core.people.records import RemoteSession
from core.store import house
from core.store import house_tables as t
from core.terms import Room
from core.usecases import own, sessions, sparing
from core.week.model import Ask

_A_DAY = dt.timedelta(days=1)


async def session_for_ask(
    tx: AsyncConnection, client: Client, ask: Ask, *, at: dt.datetime, minutes: int | None = None
) -> RemoteSession:
    """The session of an ask: the one that was built for it at this length, or a new one.

    One that has not begun is made anew where the client is elsewhere by now, or something began to hurt.
    """
    wanted = minutes or ask.minutes
    key = f"ask:{ask.id}:{ask.revision}:session:{wanted}"
    known = await house.sessions.find(tx, t.remote_session.c.key == key)
    if known is not None and (known.begun_at is not None or known.done_at is not None):
        return known
    if known is not None:
        request, _ = await sessions.request_for(tx, client, at=at, minutes=wanted, ask=ask)
        if not sparing.is_out_of_date(known.body, request, await own.library_of(tx, client.coach_id)):
            return known
    drafted = await sessions.draft(tx, client, at=at, minutes=wanted, ask=ask)
    if known is None:
        return await keep(tx, client, drafted, by=Role.CLIENT, key=key, at=at, ask=ask, minutes=wanted)
    changed = replace(known, title=str(drafted["title"]), body=drafted, room=_room_of(drafted))
    return await house.sessions.save(tx, changed)


async def session_now(
    tx: AsyncConnection, client: Client, *, at: dt.datetime, minutes: int, by: Role, key: str
) -> RemoteSession:
    """A session that belongs to no ask."""
    drafted = await sessions.draft(tx, client, at=at, minutes=minutes)
    return await keep(tx, client, drafted, by=by, key=key, at=at, minutes=minutes)


async def keep(
    tx: AsyncConnection,
    client: Client,
    drafted: sessions.Drafted,
    *,
    by: Role,
    key: str,
    at: dt.datetime,
    ask: Ask | None = None,
    minutes: int | None = None,
) -> RemoteSession:
    """Keep a session as it will be read."""
    return await house.sessions.add(
        tx,
        RemoteSession(
            id=0,
            client_id=client.id,
            key=key,
            by=by,
            title=str(drafted["title"]),
            body=drafted,
            made_at=at,
            ask_id=ask.id if ask is not None else None,
            minutes=minutes or drafted.get("minutes"),
            room=_room_of(drafted),
        ),
    )


def _room_of(drafted: sessions.Drafted) -> Room | None:
    return Room(drafted["room"]) if drafted.get("room") else None


def messages_of(sent: RemoteSession) -> list[str]:
    """The session as plain messages, at least one."""
    return [str(m) for m in sent.body.get("messages", [])] or [sent.title]


def steps_of(sent: RemoteSession) -> list[str]:
    """The session one exercise after another; empty where it has no parts (a line of the coach's own)."""
    return [str(s) for s in sent.body.get("steps", [])]


def keys_at(sent: RemoteSession, step: int) -> list[str]:
    """The exercises of one step."""
    keys = sent.body.get("step_keys", [])
    return [str(key) for key in keys[step]] if step < len(keys) else []


async def mark_done(tx: AsyncConnection, client: Client, ask: Ask, at: dt.datetime) -> RemoteSession | None:
    """The session that was done with an ask: its own that was looked at last, else one that was pushed and opened lately."""
    columns = t.remote_session.c
    latest = [columns.opened_at.desc(), columns.id.desc()]
    opened = (columns.client_id == client.id, columns.opened_at.is_not(None), columns.done_at.is_(None))
    own_ones = await house.sessions.list(tx, *opened, columns.ask_id == ask.id, order=latest, limit=1)
    pushed = await house.sessions.list(
        tx, *opened, columns.ask_id.is_(None), columns.opened_at > at - _A_DAY, order=latest, limit=1
    )
    found = [*own_ones, *pushed][:1]
    if not found:
        return None
    return await house.sessions.save(tx, replace(found[0], done_at=at, ask_id=ask.id))


async def session_done_with(tx: AsyncConnection, ask: Ask) -> RemoteSession | None:
    """The session that was done with an ask, if one was sent."""
    columns = t.remote_session.c
    return await house.sessions.find(tx, columns.ask_id == ask.id, columns.done_at.is_not(None))


async def unmark_done(tx: AsyncConnection, ask_id: int) -> None:
    """An answer was taken back: what was done with it is not done."""
    columns = t.remote_session.c
    for sent in await house.sessions.list(tx, columns.ask_id == ask_id, columns.done_at.is_not(None)):
        built_for_it = sent.key.startswith("ask:")
        await house.sessions.save(tx, replace(sent, done_at=None, ask_id=ask_id if built_for_it else None))
