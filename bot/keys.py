"""The data key: from the environment, or from a file beside the database that is made on the first start."""

import os
import re
import tempfile
from contextlib import suppress
from pathlib import Path

from bot.disk import to_disk
from bot.settings import EXAMPLES, Settings
from core.errors import Fault
from core.store.cipher import Cipher, new_key
from core.store.engine import normalised, sqlite_file

_PUT_BACK = "Put it back from where you keep it, or set KEPTWORD_DATA_KEY to the key that was in it."


def cipher_for(settings: Settings, *, may_make: bool = True) -> Cipher:
    """Seals with the newest key. Makes the key file where there is no database yet, and never afterwards."""
    if settings.data_key is not None:
        return Cipher(_split(settings.data_key.get_secret_value()))
    address = normalised(settings.database)
    if address.get_backend_name() != "sqlite":
        raise Fault(
            "KEPTWORD_DATA_KEY is missing: with PostgreSQL the key is not kept beside the database. "
            + EXAMPLES["data_key"]
        )
    database = sqlite_file(address)
    return Cipher(_from_file(key_file(database), database, may_make=may_make))


def key_file(database: Path) -> Path:
    """Where the key of a SQLite database is kept: keptword.db has keptword.key."""
    return database.with_suffix(".key")


def _split(keys: str) -> list[str]:
    return [key for key in re.split(r"[\s,]+", keys) if key]


def _from_file(file: Path, database: Path, *, may_make: bool) -> list[str]:
    # This is asked first: a key is made before its database.
    stored = _is_there(database) and database.stat().st_size > 0
    if not _is_there(file):
        if stored:
            raise Fault(
                f"The key file {file} is missing, but the database {database} is there. Put the file back from your backup, or "
                "set KEPTWORD_DATA_KEY to the key that was in it. A new key would not open what is stored."
            )
        if not may_make:
            raise Fault(f"The key file {file} is missing. {_PUT_BACK}")
        _make(file)
    try:
        keys = _split(file.read_text("ascii"))
    except (OSError, UnicodeDecodeError) as error:
        raise Fault(
            f"The key file {file} cannot be read ({type(error).__name__}): give it to the user who runs Keptword."
        ) from error
    if not keys:
        raise Fault(f"The key file {file} is empty. Put it back from your backup.")
    return keys


def _is_there(file: Path) -> bool:
    """A Fault where that cannot even be told: a folder of somebody else's, a name that is too long."""
    try:
        return file.exists()
    except OSError as error:
        raise Fault(
            f"{file} cannot be looked for ({error.strerror}). Give its folder to the user who runs Keptword, or name another "
            "database in KEPTWORD_DATABASE_URL."
        ) from error


def _make(file: Path) -> None:
    """All of the key is on the disk before it has its name, and a key that is there is never written over."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        descriptor, name = tempfile.mkstemp(prefix=f".{file.name}.", dir=file.parent)  # mode 0600
    except OSError as error:
        raise _not_made(file, error) from error
    beside = Path(name)
    try:
        with os.fdopen(descriptor, "w") as opened:
            opened.write(new_key() + "\n")
            opened.flush()
            os.fsync(opened.fileno())
        with suppress(FileExistsError):  # another process was first: its key holds
            os.link(beside, file)
        to_disk(file.parent)
    except OSError as error:
        raise _not_made(file, error) from error
    finally:
        beside.unlink(missing_ok=True)


def _not_made(file: Path, error: OSError) -> Fault:
    return Fault(
        f"The key file {file} cannot be made ({error.strerror}). Give the user who runs Keptword a folder of its own, "
        "or name another database in KEPTWORD_DATABASE_URL."
    )
