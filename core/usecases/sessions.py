"""Sessions for a client: built to fit where they are, how long they have and what hurts; kept as they were sent."""

import datetime as dt
from collections.abc import Sequence
from typing import Any

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Role
from core.people.records import RemoteSession
from core.programme.build import build_session
from core.programme.movements import our_library
from core.programme.session import LONGEST, SHORTEST, Session, SessionRequest
from core.programme.words import session_cards, session_words
from core.store import house
from core.store import house_tables as t
from core.terms import Block, Pattern, Place, Room
from core.usecases import care
from core.week.model import Ask
from core.wellbeing.sleep import Night, two_short_nights

Drafted = dict[
    str, Any
]  # {"title", "messages", "steps", "minutes", "patterns", "keys", "session"}, the last ones only if built
USUAL_BLOCK = Block.HYPERTROPHY
LOOK_BACK = 2  # sessions that the next one should differ from
AVOIDED = frozenset(list(Place)[:9])  # the places that exercises are chosen by
PAIN_HOLDS_WEEKS = 3


async def draft(
    tx: AsyncConnection, client: Client, *, at: dt.datetime, minutes: int, room: Room | None = None
) -> Drafted:
    """Build a session for where the client is now: room, minutes, level, away from what hurts, the most overdue first."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    hurts = await care.pains_of(tx, client, since=IsoWeek.of(today).plus(-PAIN_HOLDS_WEEKS))
    recent = await recent_bodies(tx, client)
    request = SessionRequest(
        block=USUAL_BLOCK,
        minutes=min(max(minutes, SHORTEST), LONGEST),
        room=room or life.where.stay_at(at).room or client.room,
        level=client.level,
        complaints=hurts & AVOIDED,
        patterns=most_overdue_first([body.get("patterns", []) for body in recent]),
        recent=tuple(frozenset(body.get("keys", [])) for body in recent[:LOOK_BACK]),
        short_sleep=await slept_short_twice(tx, client, today),
    )
    return drafted_from(build_session(request, our_library()))


def drafted_from(session: Session) -> Drafted:
    """A session as it is read and kept: whole, in steps, and what it was made of."""
    return {
        "title": f"{session.minutes} minutes, {session.room}",
        "minutes": session.minutes,
        "messages": [session_words(session)],
        "steps": session_cards(session, our_library()),
        "patterns": [str(p) for p in session.patterns],
        "keys": sorted(session.keys),
        "session": session.to_json(),
    }


def most_overdue_first(trained: Sequence[Sequence[str]]) -> tuple[Pattern, ...]:
    """Order the patterns by how long ago they were trained; `trained` lists those of each session, the newest first."""

    def sessions_ago(pattern: Pattern) -> int:
        return next((ago for ago, patterns in enumerate(trained) if pattern in patterns), len(trained))

    return tuple(sorted(Pattern, key=lambda p: (-sessions_ago(p), list(Pattern).index(p))))


async def recent_bodies(tx: AsyncConnection, client: Client) -> list[Drafted]:
    """The last sessions that this client did, the newest first: for variety, and for what is overdue."""
    sent = await house.sessions.list(
        tx,
        t.remote_session.c.client_id == client.id,
        t.remote_session.c.done_at.is_not(None),
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
