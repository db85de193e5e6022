"""What a client's next session is to carry: the block of their year, the patterns of the week, and what follows from results."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.people.records import RemoteSession
from core.programme.week import Carried, Trained, extra_session, lead_of, plan_week
from core.programme.year.words import share_of_week
from core.store import house
from core.store import house_tables as t
from core.store import programme as shelves
from core.terms import Block, Outcome, Pattern
from core.week.circumstances import Circumstances
from core.week.count import BROKEN, of_promise
from core.week.model import Ask

USUAL_BLOCK = Block.HYPERTROPHY
RECENT_SESSIONS = 24
_WEEK = dt.timedelta(days=7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """Where a day lies in the client's year."""

    block: Block = USUAL_BLOCK
    deload: bool = False
    share: float | None = None


async def phase_on(tx: AsyncConnection, client: Client, day: dt.date) -> Phase:
    """The block of the laid-out year; the usual one where there is none, or the day lies outside of it."""
    year = await shelves.year_of(tx, client.id)
    for each in year.blocks if year is not None else []:
        first, last = dt.date.fromisoformat(each["from"]), dt.date.fromisoformat(each["to"])
        if first <= day <= last:
            block = Block(each["block"])
            deloads = [dt.date.fromisoformat(monday) for monday in each["deload"]]
            week = (day - first).days // 7 + 1
            return Phase(
                block=block,
                deload=any(monday <= day < monday + _WEEK for monday in deloads),
                share=share_of_week(week) if block is Block.RETURN else None,
            )
    return Phase()


async def done_sessions(tx: AsyncConnection, client: Client) -> list[RemoteSession]:
    """The last sessions that this client did, the newest first."""
    return await house.sessions.list(
        tx,
        t.remote_session.c.client_id == client.id,
        t.remote_session.c.done_at.is_not(None),
        order=[t.remote_session.c.done_at.desc(), t.remote_session.c.id.desc()],
        limit=RECENT_SESSIONS,
    )


async def carried_by(
    tx: AsyncConnection,
    client: Client,
    block: Block,
    *,
    at: dt.datetime,
    ask: Ask | None = None,
) -> Carried:
    """What the session of an ask carries, or one beside them: an extra where the week has no open ask left."""
    life = await house.circumstances(tx, client)
    week = ask.week if ask is not None else IsoWeek.of(life.today(at))
    promise = await house.promise_for(tx, client.id, week)
    asks = of_promise(await house.asks_of_week(tx, client.id, week))
    number = max((promise.number if promise else None) or 0, len(asks))
    before = trained_by_sessions(await done_sessions(tx, client), life)
    walked = walk(asks, before, number, week, block, leaving=ask)
    still = [each for each in asks if each.is_open or (ask is not None and each.id == ask.id)]
    if not still:
        return extra_session(walked.trained, week.monday, block)
    index = next((n for n, each in enumerate(still) if ask is not None and each.id == ask.id), 0)
    return plan_week(
        promise=number,
        left=len(still),
        monday=week.monday,
        block=block,
        trained=walked.trained,
        missed=walked.missed,
    )[index]


@dataclass(frozen=True, slots=True)
class Walked:
    """What a week has come to so far."""

    trained: tuple[Trained, ...]
    missed: tuple[frozenset[Pattern], ...]


def walk(
    asks: Sequence[Ask],
    before: Sequence[Trained],
    number: int,
    week: IsoWeek,
    block: Block,
    *,
    leaving: Ask | None = None,
) -> Walked:
    """Go through the asks of a week in order: what each was to carry is trained where it was done, else it was missed.

    What was really trained goes by the sessions that were sent; an ask that was done without looking at one counts as what it
    was to carry. What was missed and has been trained since is missed no more.
    """
    trained = list(before)
    missed: list[tuple[dt.date, frozenset[Pattern]]] = []
    shown = {each.on for each in before}
    for place, ask in enumerate(asks):
        took_place = ask.outcome in {Outcome.DONE, Outcome.SHORT}
        skipped = leaving is not None and leaving.id == ask.id
        if skipped or (took_place and ask.day in shown) or not (took_place or ask.outcome in BROKEN):
            continue
        known = [each for each in trained if each.on < ask.day]
        carried = plan_week(
            promise=number, left=len(asks) - place, monday=week.monday, block=block, trained=known
        )[0]
        if took_place:
            trained.append(Trained(ask.day, frozenset(carried.patterns), lead_of(carried.patterns)))
        else:
            missed.append((ask.day, frozenset(carried.patterns)))
    return Walked(tuple(trained), tuple(_still_missed(day, patterns, trained) for day, patterns in missed))


def _still_missed(
    day: dt.date, patterns: frozenset[Pattern], trained: Sequence[Trained]
) -> frozenset[Pattern]:
    since = {pattern for each in trained if each.on >= day for pattern in each.patterns}
    return patterns - since


def trained_by_sessions(sessions: Sequence[RemoteSession], life: Circumstances) -> list[Trained]:
    """What the sessions that were sent and done trained, and on which local day."""
    found = [
        (life.where.local_day(sent.done_at), [Pattern(each) for each in sent.body.get("patterns", [])])
        for sent in sessions
        if sent.done_at is not None
    ]
    return [Trained(day, frozenset(patterns), patterns[0] if patterns else None) for day, patterns in found]
