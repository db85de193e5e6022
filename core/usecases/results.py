"""What was done of each lift: kept as it was told, and what the next session follows from."""

import datetime as dt
from collections.abc import Sequence
from typing import Any

from sqlalchemy.ext.asyncio import AsyncConnection

from core.people.model import Client
from core.people.records import RemoteSession
from core.programme.kept import KeptResult
from core.programme.lifts import Lift, lifts_of
from core.programme.results import Feel, LiftResult
from core.programme.said import read_result
from core.store import house
from core.store import house_tables as t
from core.store import programme as shelves
from core.store import programme_tables as p
from core.terms import Block
from core.usecases import own

# So long after a session its lifts may still be told without naming the day.
COUNTS_FOR = dt.timedelta(days=2)
MOST_RESULTS = 400


async def lasts_of(tx: AsyncConnection, client_id: int) -> tuple[LiftResult, ...]:
    """The results of a client's lifts, the oldest first."""
    kept = await shelves.results_of(tx, client_id)
    return tuple(as_result(each) for each in kept[-MOST_RESULTS:])


def as_result(kept: KeptResult) -> LiftResult:
    done = kept.done
    goal = done.get("goal")
    return LiftResult(
        exercise=kept.exercise,
        sets=tuple(done.get("sets", [])),
        kg=done.get("kg"),
        feel=Feel(done["feel"]) if done.get("feel") else None,
        goal=(goal[0], goal[1]) if goal else None,
        block=Block(done["block"]) if done.get("block") else None,
        on=kept.day,
        led=done.get("led"),
    )


async def session_to_tell(tx: AsyncConnection, client: Client, at: dt.datetime) -> RemoteSession | None:
    """The session whose lifts a client would tell now: the last one done, while it is fresh, if it has any."""
    found = await house.sessions.list(
        tx,
        t.remote_session.c.client_id == client.id,
        t.remote_session.c.done_at > at - COUNTS_FOR,
        order=[t.remote_session.c.done_at.desc(), t.remote_session.c.id.desc()],
        limit=1,
    )
    return found[0] if found and found[0].body.get("lifts") else None


def lifts_in(sent: RemoteSession) -> list[dict[str, Any]]:
    """The lifts of a session as they were prescribed: key, name, goal, sets."""
    return list(sent.body.get("lifts", []))


def lift_named(sent: RemoteSession, words: str) -> dict[str, Any] | None:
    """The lift that the words name, by all of its name or by a word that no other lift of the session has."""
    text = words.casefold()
    lifts = lifts_in(sent)
    whole = [lift for lift in lifts if lift["name"].casefold() in text]
    if whole:
        return max(whole, key=lambda lift: len(lift["name"]))
    said = set(text.replace(",", " ").replace(":", " ").split())
    part = [lift for lift in lifts if said & _own_words(lift, lifts)]
    return part[0] if len(part) == 1 else None


def _own_words(lift: dict[str, Any], lifts: Sequence[dict[str, Any]]) -> set[str]:
    others = {word for other in lifts if other is not lift for word in other["name"].casefold().split()}
    return {word for word in lift["name"].casefold().split() if len(word) > 2} - others


async def keep_result(
    tx: AsyncConnection,
    client: Client,
    sent: RemoteSession,
    lift: dict[str, Any],
    words: str,
    at: dt.datetime,
) -> LiftResult | None:
    """Read what the words say of a lift and keep it; a second word on the same lift of the same session is added to the first."""
    text = words.casefold().replace(str(lift["name"]).casefold(), " ")
    said = read_result(text, lift["key"])
    return None if said is None else await _keep(tx, client, sent, lift, said, at)


async def keep_feel(
    tx: AsyncConnection,
    client: Client,
    sent: RemoteSession,
    lift: dict[str, Any],
    feel: Feel,
    at: dt.datetime,
) -> LiftResult:
    return await _keep(tx, client, sent, lift, LiftResult(exercise=lift["key"], feel=feel), at)


async def _keep(
    tx: AsyncConnection,
    client: Client,
    sent: RemoteSession,
    lift: dict[str, Any],
    said: LiftResult,
    at: dt.datetime,
) -> LiftResult:
    known = await shelves.lift_results.find(
        tx,
        p.lift_result.c.client_id == client.id,
        p.lift_result.c.session_id == sent.id,
        p.lift_result.c.exercise == lift["key"],
    )
    told: dict[str, Any] = {
        "goal": lift.get("goal"),
        "block": (sent.body.get("session") or {}).get("block"),
        "led": lift.get("main"),
    }
    told |= known.done if known is not None else {}
    told |= {"sets": list(said.sets)} if said.sets else {}
    told |= {"kg": said.kg} if said.kg is not None else {}
    told |= {"feel": str(said.feel)} if said.feel is not None else {}
    life = await house.circumstances(tx, client)
    kept = KeptResult(
        id=known.id if known is not None else 0,
        client_id=client.id,
        session_id=sent.id,
        exercise=lift["key"],
        day=life.where.local_day(sent.done_at or at),
        done=told,
        said_at=at,
    )
    await (shelves.lift_results.save if known is not None else shelves.lift_results.add)(tx, kept)
    return as_result(kept)


async def lifts(tx: AsyncConnection, client: Client) -> tuple[Lift, ...]:
    """A client's lifts, those done last first."""
    return lifts_of(await lasts_of(tx, client.id), await own.library_of(tx, client.coach_id), client.level)
