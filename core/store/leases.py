"""What only one process does at a time."""

import datetime as dt

from sqlalchemy import or_, update
from sqlalchemy.ext.asyncio import AsyncConnection

from core.store.queue_tables import lease
from core.store.rows import insert_or_nothing


async def hold(
    tx: AsyncConnection, name: str, holder: str, *, now: dt.datetime, lasting: dt.timedelta
) -> bool:
    """Whether ``holder`` has it from now on: it was free, had run out, or was theirs already.

    :param now: by the machine's clock.
    """
    row = {"name": name, "holder": holder, "until": now + lasting}
    if await insert_or_nothing(tx, lease, row, unique=[lease.c.name]):
        return True
    mine_or_over = or_(lease.c.holder == holder, lease.c.until <= now)
    statement = update(lease).where(lease.c.name == name, mine_or_over)
    return bool((await tx.execute(statement.values(holder=holder, until=now + lasting))).rowcount)


async def release(tx: AsyncConnection, name: str, holder: str, *, now: dt.datetime) -> None:
    await tx.execute(update(lease).where(lease.c.name == name, lease.c.holder == holder).values(until=now))


async def release_all(tx: AsyncConnection, *, now: dt.datetime) -> None:
    """Where there is only one process, whatever is held at its start was left by one that died."""
    await tx.execute(update(lease).where(lease.c.until > now).values(until=now))
