"""A stage with a coach, for the rounds."""

from typing import Any

import pytest

from core.store.engine import Store
from tests.playhouse import Play


@pytest.fixture
async def play(sqlite_url: str, cipher: Any) -> Any:
    """A coach, and nothing else yet; the rules are the same on both engines."""
    from core.store.engine import open_store

    store: Store = open_store(sqlite_url, cipher)
    stage = Play(store)
    await stage.coach()
    yield stage
    await store.close()
