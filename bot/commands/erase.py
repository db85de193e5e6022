"""``keptword erase --client NAME``: everything held about a client, gone for good."""

import argparse
import asyncio

HELP = "remove everything held about a client, for good"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--client", metavar="NAME", required=True, help="who is to be removed")
    parser.epilog = (
        "Copies in backups are gone when the backups are: delete those made before, or let them expire."
    )


def run(args: argparse.Namespace) -> int:
    print(asyncio.run(_erase(args.client)))
    return 0


async def _erase(name: str) -> str:
    from sqlite3 import OperationalError

    from bot.installation import clients_named, opened
    from core.errors import Fault
    from core.usecases.keeping import erase

    async with opened() as store:
        async with store.begin() as tx:
            found = await clients_named(tx, name)
            if len(found) > 1:
                raise Fault(
                    f"There are {len(found)} clients called {name}: {', '.join(f'#{c.id}' for c in found)}. "
                    "Name one by its number, for example --client '#3'."
                )
            await erase(tx, found[0])
        try:
            await store.compact()
        except OperationalError:  # a bot that is busy; it empties the journal within the hour
            return f"Everything held about {name} is gone; the last of it leaves the disk within the hour."
    return f"Everything held about {name} is gone."
