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
    wrong = what_is_wrong_with(await schema.current(store))
    if wrong is not None:
        raise Fault(wrong)
    async with store.begin() as tx:
        await witness.check(tx)


def what_is_wrong_with(revision: str | None) -> str | None:
    """What to do about a database of this revision; None where it is the newest."""
    newest = schema.newest()
    if revision == newest:
        return None
    if revision is None:
        return "There are no tables yet: 'keptword migrate' makes them; 'keptword serve' does so by itself."
    if revision not in schema.revisions():
        return (
            f"The database was last used by a newer Keptword (revision {revision}; this one knows {newest}): "
            "install that one again."
        )
    return (
        f"The database is at revision {revision}, this Keptword needs {newest}. "
        "Make a backup ('keptword backup FILE'), then run 'keptword migrate'."
    )


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
        found = await schema.current(store)
        if found is not None and found not in schema.revisions():
            raise Fault(what_is_wrong_with(found) or "")
        return list(await schema.upgrade(store))
    finally:
        await store.close()
