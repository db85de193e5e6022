"""``keptword programme-out NAME FILE``: the coming weeks of a client as a spreadsheet."""

import argparse
import asyncio
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.programme.sheets.programme import ProgrammeRow

HELP = "write the coming weeks of a client's programme as a spreadsheet"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("client", metavar="NAME", help="whose")
    parser.add_argument("file", metavar="FILE", type=Path, help="where to write it: .xlsx or .csv")


def run(args: argparse.Namespace) -> int:
    from bot.installation import write_file
    from core.errors import Refused
    from core.programme.sheets.programme import programme_csv, programme_xlsx

    writers = {".xlsx": programme_xlsx, ".csv": programme_csv}
    writer = writers.get(args.file.suffix.casefold())
    if writer is None:
        raise Refused(
            f"{args.file.name}: a programme is written as .xlsx or .csv; end the name with one of them."
        )
    rows = asyncio.run(_rows(args.client))
    write_file(args.file, writer(rows))
    print(f"{len(rows)} rows in {args.file}")
    return 0


async def _rows(name: str) -> "list[ProgrammeRow]":
    from bot.clock import SystemClock
    from bot.installation import clients_named, opened
    from core.usecases.sheets import coming_programme

    async with opened() as store, store.reading() as tx:
        client, *_ = await clients_named(tx, name)
        return await coming_programme(tx, client, SystemClock().now())
