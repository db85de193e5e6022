"""Copies of the database: made while it is in use, whole or not at all, and checked before they are trusted."""

import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import URL

from bot.only_process import only_process
from core.errors import Fault
from core.store.engine import normalised, sqlite_file

TABLES = frozenset({"inbox", "outbox", "client", "alembic_version"})


def back_up(database: str, file: Path) -> None:
    """Copy the database to a file that only its owner may read. An existing file is never overwritten."""
    if file.exists():
        raise Fault(f"{file} is there already; a backup never overwrites one. Name another file.")
    address = normalised(database)
    with _whole_or_not_at_all(file) as part:
        _copy_out(address, part)
        part.chmod(0o600)


def restore(database: str, file: Path) -> None:
    """Put a backup in the place of the database, which is kept beside it. Keptword must not be running."""
    if not file.exists():
        raise Fault(f"There is no file {file}.")
    address = normalised(database)
    if address.get_backend_name() != "sqlite":
        _postgres(
            "pg_restore",
            "--clean",
            "--if-exists",
            "--single-transaction",
            "--dbname",
            _plain(address),
            str(file),
        )
        return
    check(file)
    target = sqlite_file(address)
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    with only_process(target), _whole_or_not_at_all(target) as part:
        shutil.copyfile(file, part)
        part.chmod(0o600)
        _set_aside(target)


def check(file: Path) -> None:
    """A Fault unless the file is a sound SQLite database of Keptword's."""
    try:
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as copy:
            sound = copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            tables = {row[0] for row in copy.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    except sqlite3.DatabaseError as error:
        raise Fault(
            f"{file} is no database, or a damaged one. Nothing was changed; take another backup."
        ) from error
    if not sound:
        raise Fault(f"{file} is damaged. Nothing was changed; take another backup.")
    if not tables >= TABLES:
        raise Fault(f"{file} is a database, but not one of Keptword's. Nothing was changed.")


def _copy_out(address: URL, part: Path) -> None:
    if address.get_backend_name() != "sqlite":
        _postgres("pg_dump", "--format=custom", "--file", str(part), _plain(address))
        return
    source = sqlite_file(address)
    if not source.exists():
        raise Fault(f"There is no database {source} to back up. Is KEPTWORD_DATABASE_URL right?")
    with closing(sqlite3.connect(source)) as live, closing(sqlite3.connect(part)) as copy:
        live.backup(copy)
    check(part)


def _set_aside(target: Path) -> None:
    """Keep what is there, with its journal folded in, beside the restored one."""
    if not target.exists():
        return
    with closing(sqlite3.connect(target)) as old:
        old.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    target.replace(target.with_suffix(".before-restore"))
    for side in ("-wal", "-shm"):
        Path(f"{target}{side}").unlink(missing_ok=True)


@contextmanager
def _whole_or_not_at_all(file: Path) -> Iterator[Path]:
    part = file.with_name(f".{file.name}.part")
    part.unlink(missing_ok=True)
    try:
        yield part
        part.replace(file)
    except OSError as error:
        raise Fault(f"{file} cannot be written ({error.strerror}): name another place.") from error
    finally:
        part.unlink(missing_ok=True)


def _postgres(program: str, *arguments: str) -> None:
    """Run PostgreSQL's own program, which must be of the server's version or newer."""
    found = shutil.which(program)
    if found is None:
        raise Fault(
            f"With PostgreSQL this needs '{program}': install the client programs of your server's version."
        )
    done = subprocess.run([found, *arguments], capture_output=True, text=True, check=False)  # noqa: S603 - our own arguments
    if done.returncode:
        raise Fault(
            f"{program} failed: {done.stderr.strip().splitlines()[-1] if done.stderr.strip() else done.returncode}"
        )


def _plain(address: URL) -> str:
    return address.set(drivername="postgresql").render_as_string(hide_password=False)
