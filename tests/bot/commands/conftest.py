from pathlib import Path

import pytest

from tests.bot.commands.installation import Installation, install


@pytest.fixture
async def installed(tmp_path: Path) -> Installation:
    """A database with one coach and one client, and the environment that leads to it."""
    return await install(tmp_path)
