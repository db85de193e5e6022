"""The stage on which most conversations begin."""

import pytest

from core.store.engine import Store
from tests.playhouse import Play


@pytest.fixture
async def play(store: Store) -> Play:
    """A coach whom nobody has joined yet, on the Wednesday before."""
    stage = Play(store)
    await stage.coach()
    return stage
