"""A database with one coach and one client, and the commands run on it as an operator runs them: in another process."""

import asyncio
import datetime as dt
import os
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

from core.people.model import Client, Coach, Stage
from core.store import house
from core.store.cipher import Cipher, new_key
from core.store.engine import Store, open_store
from core.store.schema import upgrade
from core.usecases import recommend
from core.usecases.schedule import reschedule

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
ROOT = Path(__file__).parents[3]


@dataclass(frozen=True, slots=True)
class Installation:
    """A database with one coach and one client, and the environment that leads to it."""

    env: dict[str, str]
    folder: Path

    @asynccontextmanager
    async def store(self) -> AsyncIterator[Store]:
        """What the commands have left there."""
        opened = open_store(self.env["KEPTWORD_DATABASE_URL"], Cipher([self.env["KEPTWORD_DATA_KEY"]]))
        yield opened
        await opened.close()

    async def run(self, *args: str) -> tuple[int, str, str]:
        """Run a command as an operator would: its exit code, standard output and standard error."""
        process = await asyncio.create_subprocess_exec(
            sys.executable,
            "-m",
            "bot",
            *args,
            cwd=ROOT,
            env=self.env,
            stdout=asyncio.subprocess.PIPE,
            stderr=asyncio.subprocess.PIPE,
        )
        out, err = await process.communicate()
        return process.returncode or 0, out.decode(), err.decode()


async def install(folder: Path) -> Installation:
    """Ines and her client Mara, in an SQLite file of this folder."""
    url, key = f"sqlite:///{folder / 'keptword.db'}", new_key()
    store = open_store(url, Cipher([key]), foreign_keys=False)
    await upgrade(store)
    await store.close()
    store = open_store(url, Cipher([key]))
    async with store.begin() as tx:
        coach = await house.coaches.add(
            tx, Coach(id=0, name="Ines Prado", telegram_id=7001, zone="Europe/Lisbon", stage=Stage.ACTIVE)
        )
        client = await house.clients.add(
            tx,
            Client(
                id=0,
                coach_id=coach.id,
                name="Mara",
                telegram_id=7101,
                stage=Stage.ACTIVE,
                consented_at=NOW,
                zone="Asia/Singapore",
                country="SG",
                lately=3,
                usual_days=(1, 3, 5),
                usual_time=dt.time(7),
            ),
        )
        learnt, _ = await recommend.population(tx, NOW.date())
        await recommend.first_promise(tx, client, NOW, learnt)
        await reschedule(tx, client.id, NOW)
    await store.close()
    env = {
        "PATH": os.defpath,
        "KEPTWORD_DATABASE_URL": url,
        "KEPTWORD_DATA_KEY": key,
        "PYTHONWARNINGS": "error",
    }
    return Installation(env, folder)


def spoil(database: Path) -> None:
    """As a failing disk leaves a file."""
    database.write_bytes(b"no database at all. " * 400)
