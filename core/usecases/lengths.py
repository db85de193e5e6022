"""How long the sessions of a week are planned to take: the client's own word, within what a session can be."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import date

from sqlalchemy.ext.asyncio import AsyncConnection

from core.programme.session import LONGEST, SHORTEST
from core.store import house
from core.week.count import still_open
from core.week.model import Ask, Promise


def is_a_length(minutes: int) -> bool:
    return SHORTEST <= minutes <= LONGEST


async def plan_minutes(
    tx: AsyncConnection, promise: Promise, minutes: int, *, days: Collection[date] | None = None
) -> Sequence[Ask]:
    """Let the open sessions of a promise take so long: those of some days, else all of them, and the promise with them.

    Returns those that took another time before, as they were.
    """
    asks = [
        a for a in still_open(await house.asks_of_week(tx, promise.client_id, promise.week)) if not a.weekly
    ]
    named = [a for a in asks if days is None or a.day in days]
    for ask in named:
        await house.asks.save(tx, replace(ask, minutes=minutes))
    if len(named) == len(asks):
        await house.promises.save(tx, replace(promise, minutes=minutes))
    return [ask for ask in named if ask.minutes != minutes]
