"""Bringing a database to the newest schema, and knowing which one it has."""

import importlib
import pkgutil
from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import Connection, MetaData, inspect, text

import core.store
from core.errors import Fault
from core.store.engine import Store
from core.store.metadata import metadata

NEWEST = "head"


def all_tables() -> MetaData:
    """Every table of the house: each module of this package whose name ends in '_tables' declares some."""
    for module in pkgutil.iter_modules(core.store.__path__):
        if module.name.endswith("_tables"):
            importlib.import_module(f"core.store.{module.name}")
    return metadata


def migrations_folder() -> Path:
    """Inside the package where Keptword was installed from a wheel, at the top of the project in a checkout."""
    inside = Path(__file__).parent / "migrations"
    return inside if inside.is_dir() else Path(__file__).parents[2] / "migrations"


def revisions() -> list[str]:
    """Oldest first. They are numbered, one behind the other; read from the names, for Alembic is not needed to serve."""
    return sorted(
        file.name.partition("_")[0] for file in (migrations_folder() / "versions").glob("[0-9]*_*.py")
    )


def newest() -> str:
    return revisions()[-1]


async def current(store: Store) -> str | None:
    """The revision of this database; None where it has no tables yet."""
    async with store.reading() as tx:
        return await tx.run_sync(_current)


async def upgrade(store: Store, to: str = NEWEST) -> Sequence[str]:
    """Everything or nothing up to the revision ``to``: one line a revision that was applied.

    The store must have been opened with ``foreign_keys=False``.
    """
    return await _walk(store, to, up=True)


async def downgrade(store: Store, to: str) -> Sequence[str]:
    return await _walk(store, to, up=False)


async def _walk(store: Store, to: str, *, up: bool) -> Sequence[str]:
    async with store.begin() as tx:
        return await tx.run_sync(_move, to, up)


def _current(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    found: str | None = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return found


def _move(connection: Connection, to: str, up: bool) -> Sequence[str]:
    from alembic import command
    from alembic.config import Config

    told: list[str] = []
    config = Config()
    config.set_main_option("script_location", str(migrations_folder()).replace("%", "%%"))
    config.attributes["connection"] = connection
    config.attributes["told"] = told
    if (
        connection.dialect.name == "postgresql"
    ):  # two workers that start at once: one migrates, the other finds it done
        connection.exec_driver_sql("SELECT pg_advisory_xact_lock(7205759403792793)")
    (command.upgrade if up else command.downgrade)(config, to)
    _check_references(connection)
    return told


def _check_references(connection: Connection) -> None:
    if connection.dialect.name != "sqlite":
        return
    orphans = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    if orphans:
        tables = ", ".join(sorted({str(row[0]) for row in orphans}))
        raise Fault(
            f"The migration would leave rows that refer to nothing in: {tables}. Nothing was changed."
        )
