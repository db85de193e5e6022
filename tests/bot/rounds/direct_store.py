"""A store in memory without the hop to another thread at every query: the same SQL, some times as fast, gone at the end.

It is for simulations alone, which are one task on one loop; what the real store promises about crashes is tested elsewhere.
"""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any, cast

from sqlalchemy import Connection, Engine, create_engine
from sqlalchemy.pool import StaticPool

from core.store.cipher import Cipher, new_key
from core.store.columns import bind_cipher
from core.store.engine import Store
from core.store.schema import all_tables


class Directly:
    """What a transaction is to the house: something that awaits statements."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self.dialect = connection.dialect

    async def execute(self, statement: Any, *values: Any) -> Any:
        return self._connection.execute(statement, *values)


class DirectStore:
    """Opened by making it, closed by dropping it."""

    def __init__(self) -> None:
        self.engine: Engine = create_engine(
            "sqlite://", poolclass=StaticPool, connect_args={"check_same_thread": False}
        )
        bind_cipher(self.engine.dialect, Cipher([new_key()]))
        all_tables().create_all(self.engine)

    @asynccontextmanager
    async def begin(self) -> AsyncIterator[Directly]:
        with self.engine.begin() as connection:
            yield Directly(connection)

    @asynccontextmanager
    async def reading(self) -> AsyncIterator[Directly]:
        with self.engine.connect() as connection:
            yield Directly(connection)
            connection.rollback()


def direct_store() -> Store:
    return cast("Store", DirectStore())
