"""``keptword export FILE``: everything held, as JSON."""

import argparse
import asyncio
import json
from pathlib import Path
from typing import Any

HELP = "write everything held, of one client or of all, as JSON"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file", metavar="FILE", type=Path, help="where to write it; only you can read the file"
    )
    parser.add_argument("--client", metavar="NAME", help="of one client only")


def run(args: argparse.Namespace) -> int:
    from bot.installation import write_file
    from core.how_many import how_many

    held = asyncio.run(_held(args.client))
    write_file(args.file, json.dumps(held, indent=1, ensure_ascii=False).encode())
    print(f"{how_many(len(held), 'client')} in {args.file}")
    return 0


async def _held(name: str | None) -> list[dict[str, Any]]:
    from bot.installation import clients_named, opened
    from core.store import house
    from core.usecases.keeping import held_about

    async with opened() as store, store.reading() as tx:
        chosen = await house.clients.list(tx) if name is None else await clients_named(tx, name)
        return [await held_about(tx, client) for client in chosen]
