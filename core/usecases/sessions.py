"""Sessions for a client: built to fit where they are, how long they have and what hurts; kept as they were sent."""

import datetime as dt
from typing import Any

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Role
from core.people.records import RemoteSession
from core.store import house
from core.store import house_tables as t
from core.terms import Place, Room
from core.usecases import care
from core.week.model import Ask
from core.wellbeing.sleep import Night, two_short_nights

Drafted = dict[str, Any]  # {"title": str, "messages": [str], "steps": [str]}
PAIN_HOLDS_WEEKS = 3


async def draft(
    tx: AsyncConnection, client: Client, *, at: dt.datetime, minutes: int, room: Room | None = None
) -> Drafted:
    """Build a session for where the client is now: room, minutes, level, and away from what hurts."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    where = room or life.where.stay_at(at).room or client.room
    hurts = await care.pains_of(tx, client, since=IsoWeek.of(today).plus(-PAIN_HOLDS_WEEKS))
    short = await slept_short_twice(tx, client, today)
    return plain_session(where, minutes, hurts, lighter=short)


MOVES = {
    "squat": ("squat to a chair", {Place.KNEE, Place.HIP}),
    "hinge": ("hip hinge with a towel, slow", {Place.LOWER_BACK}),
    "push": ("push-up, hands on a table if need be", {Place.SHOULDER, Place.WRIST}),
    "pull": ("row with a towel round a door handle", {Place.ELBOW}),
    "rotation": ("dead bug, slow", {Place.NECK}),
}


def plain_session(room: Room, minutes: int, hurts: frozenset[Place], *, lighter: bool) -> Drafted:
    """A round of the five patterns that needs no room at all, without what hurts, as many rounds as fit."""
    moves = [name for name, avoid in MOVES.values() if not avoid & hurts]
    rounds = max(1, (minutes - 4) // max(1, len(moves))) - lighter
    steps = ["Warm up for three minutes: walk on the spot, circle arms and hips."]
    steps += [
        f"{name}: 8 to 12 slow repetitions, two more would still go. Rest 30 seconds." for name in moves
    ]
    whole = "\n".join([*steps, f"{max(1, rounds)} rounds. Stop if anything hurts."])
    return {"title": f"{minutes} minutes, {room}", "minutes": minutes, "messages": [whole], "steps": steps}


async def recent_bodies(tx: AsyncConnection, client: Client) -> list[Drafted]:
    """The last sessions that this client opened, the newest first: for variety, and for what is overdue."""
    sent = await house.sessions.list(
        tx,
        t.remote_session.c.client_id == client.id,
        t.remote_session.c.opened_at.is_not(None),
        order=[t.remote_session.c.id.desc()],
        limit=8,
    )
    return [s.body for s in sent]


async def slept_short_twice(tx: AsyncConnection, client: Client, today: dt.date) -> bool:
    """Two short nights make the day's session lighter, never longer."""
    told = await house.nights_of(tx, client.id, since=today - dt.timedelta(days=2))
    return two_short_nights([Night(n.day, n.hours) for n in told if n.hours is not None], today)


async def session_for_ask(
    tx: AsyncConnection, client: Client, ask: Ask, *, at: dt.datetime, minutes: int | None = None
) -> RemoteSession:
    """The session of an ask: the one that was built for it at this length, or a new one."""
    wanted = minutes or ask.minutes
    key = f"ask:{ask.id}:{ask.revision}:session:{wanted}"
    known = await house.sessions.find(tx, t.remote_session.c.key == key)
    if known is not None:
        return known
    drafted = await draft(tx, client, at=at, minutes=wanted)
    return await keep(tx, client, drafted, by=Role.CLIENT, key=key, at=at, ask=ask, minutes=wanted)


async def session_now(
    tx: AsyncConnection, client: Client, *, at: dt.datetime, minutes: int, by: Role, key: str
) -> RemoteSession:
    """A session that belongs to no ask."""
    drafted = await draft(tx, client, at=at, minutes=minutes)
    return await keep(tx, client, drafted, by=by, key=key, at=at, minutes=minutes)


async def keep(
    tx: AsyncConnection,
    client: Client,
    drafted: Drafted,
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
        ),
    )


def messages_of(sent: RemoteSession) -> list[str]:
    """The session as plain messages, at least one."""
    return [str(m) for m in sent.body.get("messages", [])] or [sent.title]


def steps_of(sent: RemoteSession) -> list[str]:
    """The session one exercise after another; empty where it has no parts (the coach's own words)."""
    return [str(s) for s in sent.body.get("steps", [])]
