"""Opening this installation's store, for every command that needs it."""

from bot.keys import cipher_for
from bot.settings import Settings
from core.errors import Fault
from core.store import schema, witness
from core.store.engine import Store, open_store


def open_installation(settings: Settings, *, for_migration: bool = False) -> Store:
    """The store of the environment, with its key; nothing is connected to yet."""
    cipher = cipher_for(settings)
    return open_store(settings.database, cipher, foreign_keys=not for_migration)


async def be_sure_of(store: Store) -> None:
    """A Fault unless the schema is the newest and the key fits."""
    found, newest = await schema.current(store), schema.newest()
    if found != newest:
        raise Fault(
            f"The database is at revision {found or 'none'}, this Keptword needs {newest}. "
            "Make a backup ('keptword backup FILE'), then run 'keptword migrate'."
        )
    async with store.begin() as tx:
        await witness.check(tx)


async def is_new(settings: Settings) -> bool:
    """Whether there is nothing in the database yet: then there is nothing that a migration could harm."""
    store = open_installation(settings)
    try:
        return await schema.current(store) is None
    finally:
        await store.close()


async def migrate(settings: Settings) -> list[str]:
    """Bring the schema up to date; a line a revision that was applied."""
    store = open_installation(settings, for_migration=True)
    try:
        return list(await schema.upgrade(store))
    finally:
        await store.close()
