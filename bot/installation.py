"""The installation of this environment, for commands that look into it: opened, checked, and closed again."""

import os
import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.opening import be_sure_of, open_installation
from bot.settings import Settings, read_settings
from core.errors import Fault, Refused
from core.people.model import Client
from core.programme.sheets.cells import LARGEST, too_large
from core.store import house
from core.store import house_tables as t
from core.store.engine import Store, normalised, sqlite_file

_NUMBER = re.compile(r"#(\d{1,18})", re.ASCII)  # no larger than a number of ours can be


@asynccontextmanager
async def opened() -> AsyncIterator[Store]:
    """The store of the environment; a Fault unless schema and key fit."""
    settings = read_settings()
    be_sure_it_is_there(settings)
    store = open_installation(settings)
    try:
        await be_sure_of(store)
        yield store
    finally:
        await store.close()


def be_sure_it_is_there(settings: Settings) -> None:
    """A Fault where the file of the database is missing: whoever only looks makes no new one at a mistyped address."""
    address = normalised(settings.database)
    file = sqlite_file(address) if address.get_backend_name() == "sqlite" else None
    if file is not None and not file.exists():
        raise Fault(
            f"There is no database {file}. Is KEPTWORD_DATABASE_URL right? 'keptword migrate' makes a new one."
        )


async def clients_named(tx: AsyncConnection, name: str) -> list[Client]:
    """The clients of this name, or the one of this number ('#3'); a Fault that names who there is where there is none."""
    number = _NUMBER.fullmatch(name)
    if number is not None:
        found = await house.clients.list(tx, t.client.c.id == int(number[1]))
    else:
        found = await house.person_by_name(tx, name)
    if not found:
        known = (
            ", ".join(c.name for c in await house.clients.list(tx, order=[t.client.c.name])) or "nobody yet"
        )
        raise Fault(f"There is no client called {name}. There are: {known}.")
    return found


def write_file(file: Path, content: bytes) -> None:
    """Write a file that only its owner may read: what is in it is personal."""
    try:
        with os.fdopen(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as out:
            if file.is_file():
                file.chmod(0o600)  # it may have been there, and open to others
            out.write(content)
    except OSError as error:
        raise Fault(f"{file} cannot be written ({error.strerror}): name another place.") from error


def read_spreadsheet(file: Path) -> bytes:
    """A spreadsheet that is to be taken in; refused before it is opened where it is too large to be read."""
    try:
        size = file.stat().st_size
        if size > LARGEST:
            raise Refused(too_large(size))
        return file.read_bytes()
    except OSError as error:
        raise Fault(f"{file} cannot be read: {(error.strerror or 'unknown reason').lower()}.") from error
