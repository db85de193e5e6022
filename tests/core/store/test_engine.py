import asyncio
import datetime as dt
import gc
import stat
from pathlib import Path

import pytest
from sqlalchemy import Column, Integer, MetaData, Table, insert, select, text, update

from core.errors import Fault
from core.store.cipher import Cipher, LostKey, new_key
from core.store.columns import SealedJson, SealedText
from core.store.engine import Store, normalised, open_store
from core.store.queue_tables import budget, witness

AT = dt.datetime(2026, 11, 25, 7, tzinfo=dt.UTC)


async def test_what_is_written_is_there_after_a_clean_exit(store: Store) -> None:
    async with store.begin() as tx:
        await tx.execute(insert(budget).values(chat_id=7, free_at=AT))
    async with store.reading() as tx:
        assert (await tx.execute(select(budget.c.free_at))).scalar_one() == AT


async def test_closing_waits_for_who_still_reads(store: Store) -> None:
    """Their connection would come back to nobody, and complain when it is swept up: warnings are errors here."""

    async def read_slowly() -> None:
        async with store.reading() as tx:
            await tx.execute(select(budget))
            reading.set()
            await asyncio.sleep(0.05)

    reading = asyncio.Event()
    reader = asyncio.create_task(read_slowly())
    await reading.wait()
    await store.close()
    assert reader.done()
    await reader
    gc.collect()


async def test_an_exception_undoes_everything(store: Store) -> None:
    with pytest.raises(ZeroDivisionError):
        await _write_and_fail(store)
    async with store.reading() as tx:
        assert (await tx.execute(select(budget))).all() == []


async def _write_and_fail(store: Store) -> None:
    async with store.begin() as tx:
        await tx.execute(insert(budget).values(chat_id=7, free_at=AT))
        raise ZeroDivisionError


async def test_sixty_increments_by_four_at_once_are_sixty(store: Store) -> None:
    """Read, modify, write: the driver's own transactions would lose most of them without a word."""
    async with store.begin() as tx:
        await tx.execute(insert(budget).values(chat_id=0, free_at=AT))

    async def add(times: int) -> None:
        for _ in range(times):
            async with store.begin() as tx:
                row = select(budget.c.free_at).where(budget.c.chat_id == 0).with_for_update()
                was = (await tx.execute(row)).scalar_one()
                await asyncio.sleep(0)
                await tx.execute(update(budget).values(free_at=was + dt.timedelta(seconds=1)))

    await asyncio.gather(*(add(15) for _ in range(4)))
    async with store.reading() as tx:
        assert (await tx.execute(select(budget.c.free_at))).scalar_one() == AT + dt.timedelta(minutes=1)


async def test_a_reader_neither_waits_for_a_writer_nor_sees_half_of_it(store: Store) -> None:
    async with store.begin() as writing:
        await writing.execute(insert(budget).values(chat_id=7, free_at=AT))
        async with asyncio.timeout(5), store.reading() as tx:
            assert (await tx.execute(select(budget))).all() == []


async def test_an_instant_keeps_its_moment_whatever_zone_it_is_said_in(store: Store) -> None:
    osaka = dt.timezone(dt.timedelta(hours=9))
    async with store.begin() as tx:
        await tx.execute(
            insert(budget).values(chat_id=7, free_at=dt.datetime(2026, 11, 25, 9, 0, 0, 125, tzinfo=osaka))
        )
        stored = (await tx.execute(select(budget.c.free_at))).scalar_one()
    assert stored.isoformat() == "2026-11-25T00:00:00.000125+00:00"


async def test_an_instant_without_a_zone_is_rejected(store: Store) -> None:
    naive = dt.datetime(2026, 11, 25, 9)  # noqa: DTZ001 - naive is the point
    async with store.begin() as tx:
        with pytest.raises(Exception, match="must say its zone"):
            await tx.execute(insert(budget).values(chat_id=7, free_at=naive))


async def test_sealed_words_are_not_in_the_table(store: Store) -> None:
    async with store.begin() as tx:
        await tx.execute(insert(witness).values(id=1, word="slept badly in Porto"))
        assert (await tx.execute(select(witness.c.word))).scalar_one() == "slept badly in Porto"
        raw = (await tx.execute(text("SELECT word FROM witness"))).scalar_one()
    assert "Porto" not in raw
    assert raw.startswith("gAAAA")  # a Fernet token, version 0x80


async def test_a_new_key_opens_what_the_old_one_sealed_and_a_lost_one_says_so(store_url: str) -> None:
    old, new = new_key(), new_key()
    sealed = Cipher([old]).seal("hip")
    async with _opened(store_url, [new, old]) as store, store.begin() as tx:
        await tx.execute(text("INSERT INTO witness (id, word) VALUES (1, :word)"), {"word": sealed})
        assert (await tx.execute(select(witness.c.word))).scalar_one() == "hip"
    async with _opened(store_url, [new]) as store, store.begin() as tx:
        with pytest.raises(LostKey, match="Put the old key back"):
            (await tx.execute(select(witness.c.word))).scalar_one()


def test_json_is_sealed_whole_and_comes_back_equal(tmp_path: Path) -> None:
    values = [{"a": [1, 2.5, None, True, "é 👋 مرحبا"]}, [], "", 0, False]
    table = Table("t", MetaData(), Column("id", Integer, primary_key=True), Column("value", SealedJson))

    async def there_and_back() -> list[object]:
        async with _opened(f"sqlite:///{tmp_path / 'j.db'}", [new_key()]) as store, store.begin() as tx:
            await tx.run_sync(table.metadata.create_all)
            await tx.execute(insert(table), [{"value": value} for value in values])
            return list((await tx.execute(select(table.c.value).order_by(table.c.id))).scalars())

    assert asyncio.run(there_and_back()) == values


def test_two_engines_in_one_process_use_their_own_keys(tmp_path: Path) -> None:
    table = Table("t", MetaData(), Column("id", Integer, primary_key=True), Column("words", SealedText))

    async def write(name: str, key: str) -> str:
        async with _opened(f"sqlite:///{tmp_path / name}", [key]) as store, store.begin() as tx:
            await tx.run_sync(table.metadata.create_all)
            await tx.execute(insert(table).values(words=name))
            return str((await tx.execute(text("SELECT words FROM t"))).scalar_one())

    keys = new_key(), new_key()
    first, second = asyncio.run(write("one", keys[0])), asyncio.run(write("two", keys[1]))
    assert Cipher([keys[0]]).open(first) == "one"
    assert Cipher([keys[1]]).open(second) == "two"


def test_a_malformed_key_is_a_fault_that_names_its_place() -> None:
    with pytest.raises(Fault, match="Data key number 2"):
        Cipher([new_key(), "hunter2"])


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        ("sqlite:////var/lib/keptword/keptword.db", "sqlite+aiosqlite:////var/lib/keptword/keptword.db"),
        ("postgres://k@db/keptword", "postgresql+asyncpg://k@db/keptword"),
        ("postgresql://k@db/keptword?sslmode=require", "postgresql+asyncpg://k@db/keptword?ssl=require"),
        ("postgresql+psycopg://k@db:6432/keptword", "postgresql+asyncpg://k@db:6432/keptword"),
    ],
)
def test_urls_are_taken_as_providers_write_them(given: str, meant: str) -> None:
    assert normalised(given).render_as_string(hide_password=False) == meant


@pytest.mark.parametrize("given", ["", "keptword.db", "mysql://k@db/keptword"])
def test_other_databases_are_refused_with_an_example(given: str) -> None:
    with pytest.raises(Fault, match="sqlite:////var/lib"):
        normalised(given)


def test_a_database_in_memory_is_refused(cipher: Cipher) -> None:
    with pytest.raises(Fault, match="only in memory is lost"):
        open_store("sqlite://", cipher)


def test_a_new_database_file_is_its_owners_alone(tmp_path: Path, cipher: Cipher) -> None:
    open_store(f"sqlite:///{tmp_path / 'deeper' / 'k.db'}", cipher)
    assert stat.S_IMODE((tmp_path / "deeper" / "k.db").stat().st_mode) == 0o600


def test_a_file_that_cannot_be_written_is_named(tmp_path: Path, cipher: Cipher) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(Fault, match=r"file/k\.db cannot be written"):
        open_store(f"sqlite:///{tmp_path / 'file' / 'k.db'}", cipher)


async def test_sqlite_keeps_what_it_acknowledged_through_a_power_cut(sqlite_url: str, cipher: Cipher) -> None:
    """synchronous=FULL (2) in WAL mode: sqlite.org/pragma.html#pragma_synchronous."""
    store = open_store(sqlite_url, cipher)
    async with store.begin() as tx:
        found = [
            (await tx.execute(text(f"PRAGMA {pragma}"))).scalar_one()
            for pragma in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        ]
    await store.close()
    assert found == ["wal", 2, 1, 10_000]


class _opened:  # noqa: N801 - reads as a verb
    def __init__(self, url: str, keys: list[str]) -> None:
        self._store = open_store(url, Cipher(keys))

    async def __aenter__(self) -> Store:
        return self._store

    async def __aexit__(self, *_: object) -> None:
        await self._store.close()
