"""``keptword programme-in FILE --client NAME``: a programme that a coach wrote, kept for a client whole or not at all."""

import argparse
import asyncio
from pathlib import Path

HELP = "keep a programme from a spreadsheet for a client"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help=".xlsx or .csv")
    parser.add_argument("--client", metavar="NAME", required=True, help="for whom")


def run(args: argparse.Namespace) -> int:
    from bot.installation import read_spreadsheet

    count = asyncio.run(_take_in(read_spreadsheet(args.file), args.file.name, args.client))
    print(f"{count} sessions kept for {args.client}; they come before built ones, wherever they fit.")
    return 0


async def _take_in(content: bytes, name: str, client_name: str) -> int:
    from bot.clock import SystemClock
    from bot.installation import clients_named, opened
    from core.programme.sheets.programme import read_programme
    from core.usecases import own
    from core.usecases.sheets import take_in

    async with opened() as store, store.begin() as tx:
        client, *_ = await clients_named(tx, client_name)
        library = await own.library_of(tx, client.coach_id)
        return len(await take_in(tx, client, read_programme(content, name, library), SystemClock().now()))
