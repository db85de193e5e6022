"""What came in: stored before Telegram is told that we have it, handled once, in order within a chat."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import cast

from sqlalchemy import ColumnElement, exists, or_, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from core.store.columns import Json
from core.store.queue_tables import inbox
from core.store.rows import insert_or_nothing

WAITING, HANDLED, DEAD = "waiting", "handled", "dead"

NO_CHAT = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Claimed:
    """One update that is this worker's to handle.

    :param attempts: with this one.
    """

    id: int
    chat_id: int
    attempts: int
    lease: str


def chat_of(update_: Json) -> int:
    """The chat that an update belongs to, looked up leniently: nothing that arrives may stop the intake."""
    for path in (
        ("message", "chat"),
        ("edited_message", "chat"),
        ("callback_query", "message", "chat"),
        ("callback_query", "from"),
        ("my_chat_member", "chat"),
    ):
        found = _walk(update_, path)
        if isinstance(found, dict) and _is_id(found.get("id")):
            return cast("int", found["id"])
    return NO_CHAT


def _walk(value: Json, path: Sequence[str]) -> Json:
    for step in path:
        value = value.get(step) if isinstance(value, dict) else None
    return value


def _is_id(value: Json) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and abs(value) < 2**63


def update_id_of(update_: Json) -> int | None:
    """None where it has none: then it cannot be told from another, and is set aside."""
    number = update_.get("update_id") if isinstance(update_, dict) else None
    return cast("int", number) if _is_id(number) else None


async def store(tx: AsyncConnection, epoch: str, updates: Sequence[Json], *, at: dt.datetime) -> int:
    """Keep every update as it came; how many were new.

    :param epoch: which server and bot counted update_id: another one starts at another number.
    """
    new = 0
    for update_ in updates:
        number = update_id_of(update_)
        row = {
            "epoch": epoch,
            "update_id": number,
            "chat_id": chat_of(update_),
            "body": update_ if update_ is not None else {},
            "state": DEAD if number is None else WAITING,
            "error": "no update_id" if number is None else None,
            "received_at": at,
            "handled_at": at if number is None else None,
        }
        new += await insert_or_nothing(tx, inbox, row, unique=[inbox.c.epoch, inbox.c.update_id])
    return new


async def claim(
    tx: AsyncConnection, *, lease: str, machine_now: dt.datetime, lease_until: dt.datetime
) -> Claimed | None:
    """The oldest waiting update whose chat is free. The attempt counts from now on, even if handling kills the process.

    A chat is free when its oldest update is: while that one is being handled, or backs off, the others wait behind it.
    """
    earlier = inbox.alias("earlier")
    statement = (
        select(inbox.c.id, inbox.c.chat_id, inbox.c.attempts)
        .where(
            inbox.c.state == WAITING,
            or_(inbox.c.try_after.is_(None), inbox.c.try_after <= machine_now),
            or_(inbox.c.lease_until.is_(None), inbox.c.lease_until <= machine_now),
            ~exists().where(
                earlier.c.chat_id == inbox.c.chat_id, earlier.c.state == WAITING, earlier.c.id < inbox.c.id
            ),
        )
        .order_by(inbox.c.id)
        .limit(1)
        .with_for_update(skip_locked=True, of=inbox)
    )
    row = (await tx.execute(statement)).first()
    if row is None:
        return None
    taken = Claimed(id=row.id, chat_id=row.chat_id, attempts=row.attempts + 1, lease=lease)
    leased = {"attempts": taken.attempts, "lease": lease, "lease_until": lease_until}
    await tx.execute(update(inbox).where(inbox.c.id == taken.id).values(leased))
    return taken


async def body_of(tx: AsyncConnection, claimed: Claimed) -> Json:
    """The update as it came, to be looked at. Apart from the claim: one that cannot be opened must not stop the others."""
    return cast("Json", (await tx.execute(select(inbox.c.body).where(inbox.c.id == claimed.id))).scalar_one())


async def hold_on(tx: AsyncConnection, claimed: Claimed, *, lease_until: dt.datetime) -> bool:
    """Keep a claimed update for longer; False where it is no longer ours."""
    return await _write(tx, claimed, lease_until=lease_until)


async def put_back(tx: AsyncConnection, claimed: Claimed, *, try_after: dt.datetime) -> None:
    """Nothing was tried: somebody has it later, and the attempt does not count."""
    await _write(
        tx, claimed, attempts=claimed.attempts - 1, try_after=try_after, lease=None, lease_until=None
    )


async def open_claimed(tx: AsyncConnection, claimed: Claimed) -> Mapping[str, Json] | None:
    """The update, locked; None where it is no longer ours."""
    row = (await tx.execute(select(inbox.c.body).where(*_ours(claimed)).with_for_update())).first()
    return None if row is None else cast("Mapping[str, Json]", row.body)


async def mark_handled(tx: AsyncConnection, claimed: Claimed, *, at: dt.datetime) -> None:
    await _write(tx, claimed, state=HANDLED, handled_at=at, lease=None, lease_until=None, error=None)


async def mark_failed(tx: AsyncConnection, claimed: Claimed, error: str, *, try_after: dt.datetime) -> None:
    """It will be tried again; until then its chat waits."""
    await _write(tx, claimed, error=error, try_after=try_after, lease=None, lease_until=None)


async def mark_dead(tx: AsyncConnection, claimed: Claimed, error: str, *, at: dt.datetime) -> bool:
    """Set aside: the queue goes on, and the operator can see it. False where it is no longer ours."""
    return await _write(tx, claimed, state=DEAD, error=error, handled_at=at, lease=None, lease_until=None)


async def next_try(tx: AsyncConnection) -> dt.datetime | None:
    """By the machine's clock: when the first update that backs off may be tried again."""
    statement = select(inbox.c.try_after).where(inbox.c.state == WAITING, inbox.c.try_after.is_not(None))
    return (await tx.execute(statement.order_by(inbox.c.try_after).limit(1))).scalar()


async def abandon_leases(tx: AsyncConnection) -> None:
    """Where there is only one process, whatever is leased at its start was left by one that died."""
    await tx.execute(
        update(inbox).where(inbox.c.state == WAITING, inbox.c.lease.is_not(None)).values(lease_until=None)
    )


def _ours(claimed: Claimed) -> Sequence[ColumnElement[bool]]:
    """Until its lease runs out and another worker claims it, or it is handled."""
    return inbox.c.id == claimed.id, inbox.c.lease == claimed.lease, inbox.c.state == WAITING


async def _write(tx: AsyncConnection, claimed: Claimed, **values: object) -> bool:
    statement = update(inbox).where(*_ours(claimed)).values(**values)
    return (await tx.execute(statement)).rowcount > 0
