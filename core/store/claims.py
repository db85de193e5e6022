"""The sender's side of the outbox: take the next message, and record what became of it.

Every function works inside the caller's short transaction. Claims of all workers queue up behind one row, the budget of
everything (`hold_budget`), so that they share one budget and cannot take the same message.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Select,
    and_,
    bindparam,
    case,
    exists,
    func,
    literal,
    or_,
    select,
    union_all,
    update,
)
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.ext.asyncio import AsyncConnection

from core.store.columns import UTCDateTime
from core.store.lanes import Lane, State
from core.store.outbox import FIELDS, Queued, as_queued
from core.store.pace import EVERYTHING
from core.store.queue_tables import budget, outbox

LONG_AGO = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)

_is_waiting = outbox.c.state == State.WAITING.value
_is_sending = outbox.c.state == State.SENDING.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """When there could be something to send.

    :param due_at: by the house's clock: the next message that is not due yet.
    :param ready_at: by the machine's clock: the first moment at which one that is due may start.
    """

    due_at: dt.datetime | None
    ready_at: dt.datetime | None


async def hold_budget(tx: AsyncConnection) -> dt.datetime:
    """When the budget of everything is free; nobody else claims until this transaction ends."""
    statement = select(budget.c.free_at).where(budget.c.chat_id == EVERYTHING).with_for_update()
    free_at: dt.datetime | None = (await tx.execute(statement)).scalar()
    if free_at is None:
        await set_budgets(tx, {EVERYTHING: LONG_AGO})
        free_at = (await tx.execute(statement)).scalar_one()
    return free_at


async def set_budgets(
    tx: AsyncConnection, free_at: Mapping[int, dt.datetime], *, refused_at: dt.datetime | None = None
) -> None:
    """Budgets by chat. None is ever set back: a pause that the server asked for outlives whatever else ends meanwhile."""
    insert = sqlite.insert if tx.dialect.name == "sqlite" else postgresql.insert
    rows = [{"chat_id": c, "free_at": at, "refused_at": refused_at} for c, at in sorted(free_at.items())]
    statement = insert(budget).values(rows)
    new = statement.excluded
    await tx.execute(
        statement.on_conflict_do_update(
            index_elements=[budget.c.chat_id],
            set_={
                "free_at": case((budget.c.free_at < new.free_at, new.free_at), else_=budget.c.free_at),
                "refused_at": func.coalesce(new.refused_at, budget.c.refused_at),
            },
        )
    )


async def refused_chats(tx: AsyncConnection, since: dt.datetime) -> int:
    """How many chats the server refused since then."""
    statement = select(func.count()).where(budget.c.chat_id != EVERYTHING, budget.c.refused_at >= since)
    return (await tx.execute(statement)).scalar_one()


async def stale(tx: AsyncConnection, now: dt.datetime, *, limit: int = 20) -> list[Queued]:
    """Messages that wait although their time is over."""
    return await _some(tx, and_(_is_waiting, outbox.c.expires_at <= now), limit)


async def orphans(tx: AsyncConnection, machine_now: dt.datetime, *, limit: int = 20) -> list[Queued]:
    """Messages whose sender died: they may have gone out."""
    return await _some(tx, and_(_is_sending, outbox.c.lease_until <= machine_now), limit)


async def _some(tx: AsyncConnection, which: ColumnElement[bool], limit: int) -> list[Queued]:
    statement = select(*FIELDS).where(which).order_by(outbox.c.id).limit(limit)
    return [as_queued(row) for row in await tx.execute(statement.with_for_update(skip_locked=True))]


# The instants of a statement that is built once: building it costs more than running it.
_NOW = bindparam("now", type_=UTCDateTime)
_MACHINE_NOW = bindparam("machine_now", type_=UTCDateTime)


def _behind_another() -> ColumnElement[bool]:
    """One message of the chat is under way, or one that goes first is still waiting (perhaps backing off)."""
    other = outbox.alias("other")
    same_chat = other.c.chat_id == outbox.c.chat_id
    under_way = exists().where(same_chat, other.c.state == State.SENDING.value)
    goes_first = or_(
        other.c.lane < outbox.c.lane,
        and_(other.c.lane == outbox.c.lane, other.c.not_before < outbox.c.not_before),
        and_(
            other.c.lane == outbox.c.lane,
            other.c.not_before == outbox.c.not_before,
            other.c.id < outbox.c.id,
        ),
    )
    waiting = exists().where(
        same_chat, other.c.state == State.WAITING.value, other.c.not_before <= _NOW, goes_first
    )
    return or_(under_way, waiting)


def _first_of(lane: Lane) -> Select[Any]:
    """Lane by lane, so that the index finds it without passing over what is not due."""
    first = (
        select(*FIELDS)
        .where(
            _is_waiting,
            outbox.c.lane == lane.value,
            outbox.c.not_before <= _NOW,
            or_(outbox.c.expires_at.is_(None), outbox.c.expires_at > _NOW),
            or_(outbox.c.try_after.is_(None), outbox.c.try_after <= _MACHINE_NOW),
            ~_behind_another(),
            ~exists().where(budget.c.chat_id == outbox.c.chat_id, budget.c.free_at > _MACHINE_NOW),
        )
        .order_by(outbox.c.not_before, outbox.c.id)
        .limit(1)
    )
    return select(first.subquery())


_FIRSTS = union_all(*map(_first_of, Lane))


async def next_to_send(tx: AsyncConnection, now: dt.datetime, machine_now: dt.datetime) -> Queued | None:
    """The first due message of the first lane, of a chat that is free.

    The caller holds the budget, so nobody else claims meanwhile; whoever erases it is noticed by `start`.
    """
    found = await tx.execute(_FIRSTS, {"now": now, "machine_now": machine_now})
    return min(map(as_queued, found), key=lambda row: row.lane, default=None)


async def start(tx: AsyncConnection, row: Queued, *, lease: str, lease_until: dt.datetime) -> bool:
    """Mark it before the call: whatever happens next, we know that it may have gone out. False: it waits no more."""
    statement = (
        update(outbox)
        .where(outbox.c.id == row.id, _is_waiting)
        .values(
            state=State.SENDING.value, attempts=outbox.c.attempts + 1, lease=lease, lease_until=lease_until
        )
    )
    return bool((await tx.execute(statement)).rowcount)


async def end(
    tx: AsyncConnection,
    row: Queued,
    state: State,
    *,
    at: dt.datetime,
    message_id: int | None = None,
    error: str | None = None,
) -> bool:
    """Whether it was still ours to end (another worker may have found our lease run out)."""
    values: dict[str, Any] = {
        "state": state.value,
        "ended_at": at,
        "error": error,
        "lease": None,
        "lease_until": None,
    }
    if message_id is not None:
        values["message_id"] = message_id
    return await _write(tx, row, values)


async def put_back(tx: AsyncConnection, row: Queued, **values: object) -> bool:
    """Let it wait again, with these values of its own changed."""
    return await _write(tx, row, {"state": State.WAITING.value, "lease": None, "lease_until": None} | values)


async def _write(tx: AsyncConnection, row: Queued, values: dict[str, Any]) -> bool:
    fence = outbox.c.lease.is_(None) if row.lease is None else outbox.c.lease == row.lease
    statement = update(outbox).where(outbox.c.id == row.id, outbox.c.state == row.state.value, fence)
    return bool((await tx.execute(statement.values(**values))).rowcount)


async def readdress(tx: AsyncConnection, chat_id: int, to: int) -> None:
    """A group became a supergroup: what waits for it goes to its new id."""
    await tx.execute(update(outbox).where(outbox.c.chat_id == chat_id, _is_waiting).values(chat_id=to))


def _ready_at() -> Select[Any]:
    chat_free = func.coalesce(budget.c.free_at, literal(LONG_AGO, UTCDateTime))
    own = func.coalesce(outbox.c.try_after, literal(LONG_AGO, UTCDateTime))
    return (
        select(func.min(case((own > chat_free, own), else_=chat_free), type_=UTCDateTime))
        .select_from(outbox.outerjoin(budget, budget.c.chat_id == outbox.c.chat_id))
        .where(_is_waiting, outbox.c.not_before <= _NOW, ~_behind_another())
    )


_READY_AT = _ready_at()
_LEFT_BEHIND = select(func.min(outbox.c.lease_until)).where(_is_sending)
_DUE_AT = select(func.min(outbox.c.not_before)).where(_is_waiting, outbox.c.not_before > _NOW)


async def outlook(tx: AsyncConnection, now: dt.datetime, machine_now: dt.datetime) -> Outlook:
    """When to look again, with the budget of everything left out."""
    instants = [
        (await tx.execute(statement, given)).scalar_one()
        for statement, given in ((_READY_AT, {"now": now}), (_LEFT_BEHIND, {}))
    ]
    return Outlook(
        due_at=(await tx.execute(_DUE_AT, {"now": now})).scalar_one(),
        ready_at=min((max(i, machine_now) for i in instants if i is not None), default=None),
    )


async def abandon_leases(tx: AsyncConnection, machine_now: dt.datetime) -> None:
    """Where there is only one process, whatever is leased at its start was left by one that died."""
    await tx.execute(update(outbox).where(_is_sending).values(lease_until=machine_now))
