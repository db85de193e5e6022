"""Noticing a lost key at the start, rather than at the first reply."""

from sqlalchemy import insert, select
from sqlalchemy.ext.asyncio import AsyncConnection

from core.store.queue_tables import witness

WORD = "kept"


async def check(tx: AsyncConnection) -> None:
    """LostKey unless the key in use opens what this database was first sealed with. The first time, seal it."""
    if (await tx.execute(select(witness.c.word))).first() is None:
        await tx.execute(insert(witness).values(id=1, word=WORD))
