"""Fixtures that every test may use."""

import datetime as dt
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager

import freezegun
import pytest

pytest_plugins = ["tests.stores"]


@contextmanager
def _frozen(at: dt.datetime) -> Iterator[None]:
    with freezegun.freeze_time(at, real_asyncio=True):  # noqa: TID251 - the one fixture that may
        yield


@pytest.fixture
def frozen() -> Callable[[dt.datetime], AbstractContextManager[None]]:
    """Freeze the date of the process, and leave the clock of the event loop alone."""
    return _frozen


@pytest.fixture(autouse=True)
def _nobody_stumbles(request: pytest.FixtureRequest, caplog: pytest.LogCaptureFixture) -> Iterator[None]:
    """The tick goes on when it fails over one person, and only says so: a test must not pass over that."""
    yield
    if request.node.get_closest_marker("stumbles") is None:
        said = [
            each.getMessage()
            for each in caplog.get_records("call")
            if each.name in {"bot.house", "bot.rounds.coach_round", "core.store.unread"}
        ]
        assert said == []
