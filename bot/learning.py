"""What is learnt from everybody's weeks: read in one transaction, and reckoned outside of any, since that takes seconds."""

import datetime as dt
from asyncio import to_thread
from collections.abc import Mapping, Sequence

from core.adherence.forecast import Population
from core.adherence.history import HistoryRow
from core.store.engine import Store
from core.usecases import history, recommend


async def learn(store: Store, today: dt.date) -> tuple[Population, Mapping[str, Sequence[HistoryRow]]]:
    """The population, and the rows of each client (by number) that it was learnt from."""
    async with store.reading() as tx:
        cohort = await history.cohort(tx)
    return await to_thread(recommend.learnt_from, cohort, today), cohort
