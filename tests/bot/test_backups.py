"""Backup and restore, between both engines, with the bot writing meanwhile."""

import shutil
import stat
from pathlib import Path
from typing import Any

import pytest
from pydantic import SecretStr
from sqlalchemy import select, text

from bot.backups import make_backup, restore_backup
from bot.only_process import only_process
from bot.opening import be_sure_of, migrate
from bot.settings import Settings
from core.errors import Fault
from core.people.model import Coach
from core.store import house, outbox, witness
from core.store.cipher import Cipher, LostKey, new_key
from core.store.engine import open_store
from core.store.lanes import Kind
from core.store.queue_tables import outbox as outbox_table
from core.store.schema import downgrade, revisions
from core.usecases.enrol import enrol_coach
from tests.bot.queues import NOON, outgoing

KEY = new_key()


def _settings(url: str, key: str = KEY) -> Settings:
    return Settings(database_url=url, data_key=SecretStr(key))


async def _fill(url: str, *texts: str) -> None:
    store = open_store(url, Cipher([KEY]))
    async with store.begin() as tx:
        await witness.check(tx)
        for words in texts:
            await outbox.enqueue(tx, outgoing(f"key of {len(words)}", kind=Kind.REPLY, text=words), at=NOON)
    await store.close()


async def _texts(url: str) -> list[str]:
    store = open_store(url, Cipher([KEY]))
    async with store.reading() as tx:
        rows = (await tx.execute(select(outbox_table.c.payload).order_by(outbox_table.c.id))).scalars()
        found: list[Any] = list(rows)
    await store.close()
    return [payload["text"] for payload in found]


@pytest.fixture
def emptied(sqlite_template: Path, tmp_path: Path) -> str:
    shutil.copyfile(sqlite_template, tmp_path / "other.db")
    return f"sqlite:///{tmp_path / 'other.db'}"


async def test_a_backup_of_either_engine_is_restored_whole(
    store_url: str, emptied: str, tmp_path: Path
) -> None:
    await _fill(store_url, "hip", "slept 6", "👋 مرحبا!")
    file = tmp_path / "b.backup"
    copied = await make_backup(_settings(store_url), file)
    assert copied["outbox"] == 3
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert not file.with_name("b.backup.unfinished").exists()
    assert b"hip" not in file.read_bytes()
    restored, _ = await restore_backup(_settings(emptied), file)
    assert restored == copied
    assert await _texts(emptied) == ["hip", "slept 6", "👋 مرحبا!"]


async def test_a_move_from_sqlite_to_postgresql_goes_on_counting(
    sqlite_url: str, postgresql_url: str, tmp_path: Path
) -> None:
    await _fill(sqlite_url, "one", "second")
    await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    await restore_backup(_settings(postgresql_url), tmp_path / "b.backup")
    await _fill(postgresql_url, "a third")
    assert await _texts(postgresql_url) == ["one", "second", "a third"]


async def test_a_backup_holds_one_moment(store_url: str) -> None:
    """The bot goes on writing: what comes after the first look is not in the backup, nor half of it."""
    await _fill(store_url, "before")
    store = open_store(store_url, Cipher([KEY]))
    async with store.reading() as tx:
        assert (await tx.execute(text("SELECT count(*) FROM outbox"))).scalar_one() == 1
        await _fill(store_url, "meanwhile")
        assert (await tx.execute(text("SELECT count(*) FROM outbox"))).scalar_one() == 1
    await store.close()


async def test_what_was_there_is_kept(store_url: str, emptied: str, tmp_path: Path) -> None:
    await _fill(emptied, "from the backup")
    await make_backup(_settings(emptied), tmp_path / "b.backup")
    await _fill(store_url, "precious")
    _, kept = await restore_backup(_settings(store_url), tmp_path / "b.backup")
    assert await _texts(store_url) == ["from the backup"]
    assert kept is not None
    assert kept.name in {"keptword.before-restore", "b.backup.before-restore"}
    assert await _texts(f"sqlite:///{kept}") == ["precious"]
    _, again = await restore_backup(_settings(store_url), tmp_path / "b.backup")
    assert again == kept.with_name(f"{kept.name}-2")
    assert await _texts(f"sqlite:///{kept}") == ["precious"]


async def test_power_cut_at_the_last_step_leaves_the_old_database_in_its_place(
    sqlite_url: str, emptied: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class PowerCut(BaseException):
        pass

    def cut(_self: Path, _target: Path) -> Path:
        raise PowerCut

    await _fill(sqlite_url, "from the backup")
    await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    await _fill(emptied, "precious")
    monkeypatch.setattr(Path, "replace", cut)
    with pytest.raises(PowerCut):
        await restore_backup(_settings(emptied), tmp_path / "b.backup")
    assert await _texts(emptied) == ["precious"]


async def test_a_damaged_database_is_no_hindrance(sqlite_url: str, emptied: str, tmp_path: Path) -> None:
    await _fill(sqlite_url, "hip")
    await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    (tmp_path / "other.db").write_bytes(b"damaged" * 1000)
    _, kept = await restore_backup(_settings(emptied), tmp_path / "b.backup")
    assert await _texts(emptied) == ["hip"]
    assert kept is not None
    assert kept.read_bytes() == b"damaged" * 1000


async def test_a_backup_sealed_with_another_key_changes_nothing(
    sqlite_url: str, emptied: str, tmp_path: Path
) -> None:
    await _fill(sqlite_url, "hip")
    await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    await _fill(emptied, "precious")
    with pytest.raises(LostKey, match="another data key"):
        await restore_backup(_settings(emptied, new_key()), tmp_path / "b.backup")
    assert await _texts(emptied) == ["precious"]


async def test_a_backup_of_an_older_schema_is_brought_up_to_date(
    sqlite_url: str, emptied: str, tmp_path: Path
) -> None:
    await _fill(sqlite_url, "hip")
    await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    old = open_store(f"sqlite:///{tmp_path / 'b.backup'}", Cipher([KEY]), foreign_keys=False)
    await downgrade(old, "0001")
    await old.close()
    before = (tmp_path / "b.backup").read_bytes()
    await restore_backup(_settings(emptied), tmp_path / "b.backup")
    assert await _texts(emptied) == ["hip"]
    assert (tmp_path / "b.backup").read_bytes() == before  # the backup itself is left alone


async def test_a_backup_of_a_newer_keptword_is_refused(sqlite_url: str, emptied: str, tmp_path: Path) -> None:
    await _fill(sqlite_url, "hip")
    await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    newer = open_store(f"sqlite:///{tmp_path / 'b.backup'}", Cipher([KEY]))
    async with newer.begin() as tx:
        await tx.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    await newer.close()
    with pytest.raises(Fault, match="made by a newer Keptword"):
        await restore_backup(_settings(emptied), tmp_path / "b.backup")


@pytest.mark.parametrize("content", [b"", b"hello", b"SQLite format 3\x00" + b"x" * 5000])
async def test_what_is_no_backup_is_refused(emptied: str, tmp_path: Path, content: bytes) -> None:
    (tmp_path / "b.backup").write_bytes(content)
    with pytest.raises(Fault, match="is not a backup of Keptword"):
        await restore_backup(_settings(emptied), tmp_path / "b.backup")


async def test_a_damaged_backup_is_refused(sqlite_url: str, emptied: str, tmp_path: Path) -> None:
    await _fill(sqlite_url, *("x" * n for n in range(1, 201)))
    file = tmp_path / "b.backup"
    await make_backup(_settings(sqlite_url), file)
    whole = file.read_bytes()
    file.write_bytes(whole[: len(whole) // 2])
    with pytest.raises(Fault, match="is not a backup of Keptword, or it is damaged"):
        await restore_backup(_settings(emptied), file)


async def test_a_backup_overwrites_nothing_and_needs_a_place(sqlite_url: str, tmp_path: Path) -> None:
    await _fill(sqlite_url, "hip")
    (tmp_path / "b.backup").write_text("something else")
    with pytest.raises(Fault, match="exists already"):
        await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    with pytest.raises(Fault, match="There is no folder"):
        await make_backup(_settings(sqlite_url), tmp_path / "b.backup" / "deeper")


async def test_nothing_is_restored_under_a_running_bot(sqlite_url: str, emptied: str, tmp_path: Path) -> None:
    await _fill(sqlite_url, "hip")
    await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    with only_process(tmp_path / "other.db"), pytest.raises(Fault, match="Another Keptword is using"):
        await restore_backup(_settings(emptied), tmp_path / "b.backup")


async def test_people_come_along_with_the_queues(sqlite_url: str, emptied: str, tmp_path: Path) -> None:
    await _fill(sqlite_url)
    store = open_store(sqlite_url, Cipher([KEY]))
    async with store.begin() as tx:
        ruth = await enrol_coach(tx, "Ruth", "a token", at=NOON)
    await store.close()
    copied = await make_backup(_settings(sqlite_url), tmp_path / "b.backup")
    assert (copied["coach"], copied["invitation"]) == (1, 1)
    await restore_backup(_settings(emptied), tmp_path / "b.backup")
    store = open_store(emptied, Cipher([KEY]))
    async with store.reading() as tx:
        assert await house.coaches.get(tx, ruth.id) == ruth
    await store.close()


@pytest.mark.parametrize("revision", revisions()[:-1])
async def test_what_is_about_to_be_migrated_can_be_backed_up(
    store_url: str, emptied: str, tmp_path: Path, revision: str
) -> None:
    """'Make a backup, then migrate', says an update: so an older schema is copied as it is, and brought up to date by a restore."""
    await _fill(store_url, "hip", "slept 6")
    store = open_store(store_url, Cipher([KEY]), foreign_keys=False)
    await downgrade(store, revision)
    await store.close()
    copied = await make_backup(_settings(store_url), tmp_path / "b.backup")
    assert copied["outbox"] == 2
    await restore_backup(_settings(emptied), tmp_path / "b.backup")
    assert await _texts(emptied) == ["hip", "slept 6"]


async def test_a_database_of_a_newer_keptword_is_not_to_be_migrated(store_url: str, tmp_path: Path) -> None:
    store = open_store(store_url, Cipher([KEY]))
    async with store.begin() as tx:
        await tx.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    for refused in (
        be_sure_of(store),
        migrate(_settings(store_url)),
        make_backup(_settings(store_url), tmp_path / "b.backup"),
    ):
        with pytest.raises(Fault, match=r"newer Keptword .* install that one again"):
            await refused
    await store.close()


@pytest.mark.parametrize("name", ["what?.db", "50%.db", "a#b.db", "two words.db"])
async def test_a_backup_may_be_called_as_one_likes(
    sqlite_url: str, emptied: str, tmp_path: Path, name: str
) -> None:
    await _fill(sqlite_url, "hip")
    await make_backup(_settings(sqlite_url), tmp_path / name)
    await restore_backup(_settings(emptied), tmp_path / name)
    assert await _texts(emptied) == ["hip"]


async def test_a_folder_that_is_not_there_is_not_made(sqlite_url: str, tmp_path: Path) -> None:
    """It may be the place of a disk that is not mounted: the copy would be on the one that it is to save from."""
    await _fill(sqlite_url, "hip")
    with pytest.raises(Fault, match="There is no folder"):
        await make_backup(_settings(sqlite_url), tmp_path / "not mounted" / "b.backup")
    assert not (tmp_path / "not mounted").exists()


async def test_a_number_that_was_given_is_not_given_again_after_a_restore(
    store_url: str, emptied: str, tmp_path: Path
) -> None:
    """Whoever had it was erased before the backup; a button of theirs may still be there."""
    await _moved_without_its_last_rows(store_url, emptied, tmp_path / "b.backup")


async def test_nor_after_a_move_to_postgresql(sqlite_url: str, postgresql_url: str, tmp_path: Path) -> None:
    await _moved_without_its_last_rows(sqlite_url, postgresql_url, tmp_path / "b.backup")


async def _moved_without_its_last_rows(url: str, to: str, file: Path) -> None:
    given = await _add_coaches(url, 3)
    store = open_store(url, Cipher([KEY]))
    async with store.begin() as tx:
        await witness.check(tx)
        await house.coaches.remove(tx, house.coaches.table.c.id.in_(given[1:]))
    await store.close()
    await make_backup(_settings(url), file)
    await restore_backup(_settings(to), file)
    assert min(await _add_coaches(to, 1)) > max(given)


async def _add_coaches(url: str, number: int) -> list[int]:
    store = open_store(url, Cipher([KEY]))
    async with store.begin() as tx:
        added = [await house.coaches.add(tx, Coach(id=0, name="Ines Prado")) for _ in range(number)]
    await store.close()
    return [coach.id for coach in added]
