"""Forgetting in time: what was said is blanked some days after it was dealt with, what is left after about a year.

The marks stay longer than the words: a redelivered update must still be recognised (the server keeps them for a day), and a
key of the outbox must still be taken when the same moment is planned again.
"""

import datetime as dt

from sqlalchemy import ColumnElement, Table, delete, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from core.store.inbox import WAITING
from core.store.pace import EVERYTHING
from core.store.queue_tables import budget, inbox, outbox

WORDS_KEPT = dt.timedelta(days=7)
UPDATES_KEPT = dt.timedelta(days=30)
KEYS_KEPT = dt.timedelta(days=400)
BATCH = 500  # rows in one transaction: nobody waits for long


async def tidy(tx: AsyncConnection, *, at: dt.datetime, machine_now: dt.datetime) -> int:
    """Blank and delete what is old, a batch of each; how many rows were changed (0: nothing is left to do)."""
    old, older = at - WORDS_KEPT, at - KEYS_KEPT
    blanked = [
        await _blank(tx, inbox, inbox.c.body, inbox.c.handled_at <= old),
        await _blank(tx, outbox, outbox.c.payload, outbox.c.ended_at <= old),
    ]
    deleted = [
        await _delete(tx, inbox, inbox.c.handled_at <= at - UPDATES_KEPT, inbox.c.state != WAITING),
        await _delete(tx, outbox, outbox.c.ended_at <= older),
    ]
    idle = delete(budget).where(
        budget.c.chat_id != EVERYTHING, budget.c.free_at <= machine_now - dt.timedelta(days=1)
    )
    return sum(blanked) + sum(deleted) + (await tx.execute(idle)).rowcount


async def blank_chat(tx: AsyncConnection, chat_id: int) -> None:
    """Blank at once what was said in a chat and is dealt with."""
    here, there = inbox.c.chat_id == chat_id, outbox.c.chat_id == chat_id
    await tx.execute(update(inbox).where(here, inbox.c.handled_at.is_not(None)).values(body=None))
    await tx.execute(update(outbox).where(there, outbox.c.ended_at.is_not(None)).values(payload=None))


async def _blank(
    tx: AsyncConnection, table: Table, column: ColumnElement[object], which: ColumnElement[bool]
) -> int:
    some = select(table.c.id).where(which, column.is_not(None)).limit(BATCH)
    statement = update(table).where(table.c.id.in_(some)).values({column: None})
    return (await tx.execute(statement)).rowcount


async def _delete(tx: AsyncConnection, table: Table, *which: ColumnElement[bool]) -> int:
    some = select(table.c.id).where(*which).limit(BATCH)
    return (await tx.execute(delete(table).where(table.c.id.in_(some)))).rowcount
