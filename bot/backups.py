"""Backups: every row of the installation in one SQLite file, whichever database it came from.

So a backup of SQLite can be restored into PostgreSQL, and back. What is sensitive stays sealed in it; the data key is *not* in it.
"""

import itertools
import os
import shutil
import tempfile
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager, closing, suppress
from pathlib import Path
from sqlite3 import DatabaseError, connect

from sqlalchemy import URL

from bot.disk import to_disk
from bot.keys import cipher_for
from bot.only_process import only_process
from bot.opening import what_is_wrong_with
from bot.settings import Settings
from core.errors import Fault
from core.store import schema, witness
from core.store.cipher import Cipher
from core.store.copying import copy_rows, count_rows, tables_of
from core.store.engine import Store, normalised, open_store, sqlite_file


async def make_backup(settings: Settings, file: Path) -> Mapping[str, int]:
    """Write ``file`` while the bot goes on; how many rows, by table. It appears whole, checked, or not at all."""
    _overwrite_nothing(file)
    cipher = cipher_for(settings, may_make=False)
    unfinished = file.with_name(f"{file.name}.unfinished")
    try:
        unfinished.unlink(missing_ok=True)
        async with _opened(settings.database, cipher) as source:
            revision = await _known_revision(source)
            async with _laid_out(unfinished, cipher, revision) as target:
                async with source.reading() as rows, target.begin() as tx:
                    copied = await copy_rows(rows, tx, await tables_of(tx))
                async with target.reading() as tx:
                    whole = await count_rows(tx, await tables_of(tx)) == copied
                if not whole:
                    raise Fault(
                        "The backup does not hold what was written to it: the disk may be failing. It was thrown away."
                    )
        _one_file(unfinished)
        check_file(unfinished)
        unfinished.rename(file)
        to_disk(file.parent)
    except OSError as error:
        raise Fault(
            f"{file} cannot be written ({error.strerror}): name a place with room, and the right to write."
        ) from error
    finally:
        _clear(unfinished)
    return copied


async def _known_revision(source: Store) -> str:
    """An older one too: it is before a migration that a backup is wanted. A Fault where there is nothing, or the key is lost."""
    found = await schema.current(source)
    if found is None or found not in schema.revisions():
        raise Fault(what_is_wrong_with(found) or "")
    async with source.begin() as tx:
        await witness.check(tx)
    return found


async def restore_backup(settings: Settings, file: Path) -> tuple[Mapping[str, int], Path | None]:
    """Put the rows of ``file`` in the place of what is there: all of them, or nothing is changed.

    Returns how many, by table, and where what was there before is kept. The bot must not be running.
    """
    check_file(file)
    cipher = cipher_for(settings, may_make=False)
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "backup.db"
        try:
            shutil.copyfile(file, copy)
        except OSError as error:
            raise Fault(
                f"{file} cannot be looked at in {folder} ({error.strerror}): is there room?"
            ) from error
        async with _opened(_address(copy), cipher, foreign_keys=False) as source:
            await _make_current(source, file)
            async with source.begin() as tx:
                await witness.check(tx)  # before anything is replaced: does the key open it?
            if normalised(settings.database).get_backend_name() == "sqlite":
                return await _into_file(source, sqlite_file(normalised(settings.database)), cipher)
            return await _into_server(source, settings, cipher, file)


async def _into_file(source: Store, target: Path, cipher: Cipher) -> tuple[Mapping[str, int], Path | None]:
    """A new file is written whole, and only then takes the place of the old one, which is kept however damaged it may be."""
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    fresh = target.with_name(f"{target.name}.unfinished")
    try:
        with only_process(target):
            fresh.unlink(missing_ok=True)
            async with _laid_out(fresh, cipher) as store, source.reading() as rows, store.begin() as tx:
                copied = await copy_rows(rows, tx)
            _one_file(fresh)
            kept = _keep_what_is_there(target)
            fresh.replace(target)
            to_disk(target.parent)
    except OSError as error:
        raise Fault(
            f"{target} cannot be written ({error.strerror}): is there room, and the right to write?"
        ) from error
    finally:
        _clear(fresh)
    return copied, kept


async def _into_server(
    source: Store, settings: Settings, cipher: Cipher, file: Path
) -> tuple[Mapping[str, int], Path | None]:
    """One transaction; what is there is backed up first, beside the backup."""
    async with _opened(settings.database, cipher, foreign_keys=False) as target:
        await schema.upgrade(target)
    async with _opened(settings.database, cipher) as target:
        async with target.reading() as tx:
            is_empty = not sum((await count_rows(tx)).values())
        kept = None if is_empty else _unused(file.with_name(f"{file.name}.before-restore"))
        if kept is not None:
            await make_backup(settings, kept)
        async with source.reading() as rows, target.begin() as tx:
            return await copy_rows(rows, tx), kept


def _keep_what_is_there(target: Path) -> Path | None:
    """Under a second name, with what its side files hold; the first name goes on until the restored file takes it.

    So a cut at any moment leaves a database where one is looked for: the old or the restored one, never none.
    """
    if not target.exists() or not target.stat().st_size:
        return None
    kept = _unused(target.with_suffix(".before-restore"))
    with suppress(DatabaseError), closing(connect(target)) as old:  # damaged: it is kept as it is
        old.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    for side in ("-wal", "-shm"):  # none may be left for the new file
        with suppress(FileNotFoundError):
            target.with_name(f"{target.name}{side}").rename(kept.with_name(f"{kept.name}{side}"))
    try:
        os.link(target, kept)
    except OSError:  # a file system without second names
        shutil.copy(target, kept)
    return kept


def _unused(wanted: Path) -> Path:
    """``wanted``, or with the first number behind it that is free: what an earlier restore kept is kept on."""
    numbered = (wanted.with_name(f"{wanted.name}-{n}") for n in itertools.count(2))
    return next(place for place in itertools.chain([wanted], numbered) if not place.exists())


def _clear(unfinished: Path) -> None:
    for left in unfinished.parent.glob(f"{unfinished.name}*"):
        left.unlink(missing_ok=True)


def _overwrite_nothing(file: Path) -> None:
    if file.exists():
        raise Fault(f"{file} exists already, and a backup overwrites nothing: name another file.")
    if not file.absolute().parent.is_dir():
        raise Fault(f"There is no folder {file.absolute().parent}: make it, or name another file.")


def check_file(file: Path) -> None:
    """A Fault unless this is a whole, undamaged backup."""
    if not file.is_file():
        raise Fault(f"There is no file {file}.")
    try:
        with closing(connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)) as opened:
            (verdict,) = opened.execute("PRAGMA integrity_check").fetchone()
            tables = {
                name for (name,) in opened.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            }
            orphans = opened.execute("PRAGMA foreign_key_check").fetchall()
    except DatabaseError as error:
        raise Fault(f"{file} is not a backup of Keptword, or it is damaged: use another one.") from error
    if verdict != "ok" or orphans or "alembic_version" not in tables:
        raise Fault(f"{file} is not a backup of Keptword, or it is damaged: use another one.")


async def _make_current(source: Store, file: Path) -> None:
    """A backup of an older Keptword is brought up to date first; one of a newer Keptword cannot be."""
    found = await schema.current(source)
    if found not in schema.revisions():
        raise Fault(
            f"{file} was made by a newer Keptword (revision {found}): install that one, then restore."
        )
    await schema.upgrade(source)


def _address(file: Path) -> URL:
    """Of a file whose name may hold what means something in an address: '?' and '%'."""
    return URL.create("sqlite", database=str(file))


@asynccontextmanager
async def _opened(url: str | URL, cipher: Cipher, *, foreign_keys: bool = True) -> AsyncIterator[Store]:
    store = open_store(url, cipher, foreign_keys=foreign_keys)
    try:
        yield store
    finally:
        await store.close()


@asynccontextmanager
async def _laid_out(file: Path, cipher: Cipher, revision: str = schema.NEWEST) -> AsyncIterator[Store]:
    """A new SQLite database with every table of a revision and no row."""
    async with _opened(_address(file), cipher, foreign_keys=False) as store:
        await schema.upgrade(store, revision)
        yield store


def _one_file(database: Path) -> None:
    """Take what is in SQLite's side files into the file itself, and see it to the disk."""
    with closing(connect(database)) as opened:
        opened.execute("PRAGMA journal_mode=DELETE")
    to_disk(database)
