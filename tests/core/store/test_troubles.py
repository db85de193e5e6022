"""What a database's own errors are told as."""

import contextlib
import sqlite3
from pathlib import Path

import asyncpg
import pytest
from sqlalchemy import make_url, text

from core.store import engine
from core.store.cipher import Cipher
from core.store.engine import open_store
from core.store.troubles import what_to_do


async def told(url: str, cipher: Cipher) -> str | None:
    """What is said of the error that one query of this database raises."""
    store = open_store(url, cipher)
    try:
        async with store.begin() as tx:
            await tx.execute(text("CREATE TABLE one (two INTEGER)"))
    except Exception as error:  # noqa: BLE001 - whatever it is, it is to be told
        return what_to_do(error)
    finally:
        await store.close()
    return "nothing was wrong"


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "BUSY_TIMEOUT_S", 0)


async def test_a_file_that_is_no_database(tmp_path: Path, cipher: Cipher) -> None:
    (tmp_path / "k.db").write_bytes(b"no database at all. " * 400)
    assert "is damaged, or is none" in str(await told(f"sqlite:///{tmp_path / 'k.db'}", cipher))


@pytest.mark.usefixtures("impatient")
async def test_a_database_that_somebody_else_holds(sqlite_url: str, cipher: Cipher) -> None:
    with contextlib.closing(sqlite3.connect(str(make_url(sqlite_url).database))) as other:
        other.execute("BEGIN IMMEDIATE")
        assert "another process is writing to it" in str(await told(sqlite_url, cipher))


@pytest.mark.parametrize(
    ("part", "to", "said"),
    [
        ("database", "not_there", "no database of that name"),
        ("port", 1, "does not answer"),
        ("host", "nowhere.invalid", "does not answer"),
    ],
)
async def test_a_server_that_is_not_there_or_has_another_name(
    postgresql_url: str, cipher: Cipher, part: str, to: str | int, said: str
) -> None:
    address = make_url(postgresql_url)
    if part != "database":  # over the network, not by the socket of this test
        address = address.set(query={}, host="127.0.0.1")
    changed = address.set(**{part: to})  # type: ignore[arg-type]
    assert said in str(await told(changed.render_as_string(hide_password=False), cipher))


@pytest.mark.parametrize(
    "error", [asyncpg.InvalidPasswordError("x"), asyncpg.CannotConnectNowError("x"), TimeoutError()]
)
def test_what_the_driver_raises_as_it_is(error: Exception) -> None:
    assert (what_to_do(error) or "").endswith((".", "?"))


@pytest.mark.parametrize("error", [ValueError("locked"), KeyError("full"), FileNotFoundError("x")])
def test_any_other_error_is_not_the_databases(error: Exception) -> None:
    assert what_to_do(error) is None
