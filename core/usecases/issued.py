"""How the forecasts that were issued came true: the promises as agreed, at the odds frozen at the time."""

from collections import defaultdict
from collections.abc import Sequence

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.digest.facts import Audit
from core.store import house
from core.store import house_tables as t
from core.store.unread import left_out
from core.week import count
from core.week.model import Ask, Promise

BAND = 0.1  # odds this far below the usual confidence and above are told together
ABOUT = 0.8


async def audit_of(tx: AsyncConnection, coach_id: int) -> tuple[Audit, ...]:
    """The footnote of the digest: of the promises given at about eight in ten, so many were kept."""
    outcomes = list[tuple[float, bool]]()
    for client_id, _ in await house.names_of(tx, t.client.c.coach_id == coach_id):
        with left_out(f"client {client_id}"):
            outcomes += await _of_client(tx, client_id)
    near = [(odds, kept) for odds, kept in outcomes if abs(odds - ABOUT) <= BAND]
    if not near:
        return ()
    said = sum(odds for odds, _ in near) / len(near)
    return (Audit(said=said, kept=sum(kept for _, kept in near), given=len(near)),)


async def _of_client(tx: AsyncConnection, client_id: int) -> list[tuple[float, bool]]:
    weeks: defaultdict[IsoWeek, list[Ask]] = defaultdict(list)
    for ask in await house.asks_of(tx, client_id):
        weeks[ask.week].append(ask)
    pairs = [_pair(promise, weeks[promise.week]) for promise in await house.promises_of(tx, client_id)]
    return [pair for pair in pairs if pair is not None]


def _pair(promise: Promise, asks: Sequence[Ask]) -> tuple[float, bool] | None:
    """The odds issued for the number agreed, and whether it was kept; None where the week does not count for the audit."""
    odds = promise.odds.get(str(promise.agreed))
    if (
        odds is None
        or promise.lowered
        or count.excused(asks)
        or count.still_open(asks)
        or count.is_neutral(asks)
    ):
        return None
    return odds, count.is_kept(asks)
