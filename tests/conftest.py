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
