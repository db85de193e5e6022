"""SQLite without a thread: each statement is done at once, in the loop itself.

A rehearsal is one process with one person before it, or none: the hand-over to another thread and back, twice a statement,
is most of what it would wait for.
"""

import asyncio
import sqlite3
from collections.abc import Callable, Generator
from functools import partial
from typing import Any

import aiosqlite
from sqlalchemy import event
from typing_extensions import override

from core.store.engine import Store

Job = tuple[asyncio.Future[Any] | None, Callable[[], Any]]


class _Desk:
    """Takes what is meant for the thread, and does it."""

    @staticmethod
    def put_nowait(job: Job) -> None:
        future, function = job
        try:
            result = function()
        except BaseException as error:  # noqa: BLE001 - handed on, whatever it is
            if future is not None:
                future.set_exception(error)
            return
        if future is not None:
            future.set_result(result)


class _Connection(aiosqlite.Connection):
    """A connection whose work is done by whoever asks for it."""

    def __init__(self, connector: Callable[[], sqlite3.Connection]) -> None:
        super().__init__(connector, iter_chunk_size=64)
        self._tx = _Desk()  # type: ignore[assignment]

    @override
    def __await__(self) -> Generator[Any, None, aiosqlite.Connection]:
        return self._connect().__await__()


def _connect(file: str, **options: Any) -> _Connection:  # noqa: ANN401 - as sqlite3 takes them
    return _Connection(partial(sqlite3.connect, file, **options))


def without_a_thread(store: Store, *, careful: bool) -> None:
    """Let this store work so. Not ``careful``: it is thrown away if the power goes, so nothing waits for the disk."""
    engine = store.engine.sync_engine

    @event.listens_for(engine, "do_connect")
    def connect(_dialect: object, _record: object, _args: object, options: dict[str, Any]) -> None:
        options["async_creator_fn"] = _connect

    @event.listens_for(engine, "connect")
    def prepare(connection: Any, _record: object) -> None:  # noqa: ANN401 - a driver's connection
        if not careful:
            cursor = connection.cursor()
            cursor.execute("PRAGMA synchronous=OFF")
            cursor.close()
