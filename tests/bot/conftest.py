from collections.abc import AsyncIterator

import pytest

from core.store.engine import Store
from tests.bot.queues import Queues, queues_on


@pytest.fixture
async def queues(store: Store) -> AsyncIterator[Queues]:
    """Both queues, on SQLite and on PostgreSQL."""
    async with queues_on(store) as everything:
        yield everything
