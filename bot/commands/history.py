"""``keptword history FILE``: every ask and extra of this installation, in the format that ``forecast`` reads."""

import argparse
import asyncio
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.adherence.history import HistoryRow

HELP = "write the history of this installation as a spreadsheet"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE.csv", type=Path, help="where to write it")
    parser.add_argument("--client", metavar="NAME", help="of one client only")


def run(args: argparse.Namespace) -> int:
    from bot.installation import write_file
    from core.digest.history_file import history_csv
    from core.how_many import how_many

    rows = asyncio.run(_rows(args.client))
    write_file(args.file, history_csv(rows))
    print(f"{how_many(len(rows), 'row')} in {args.file}")
    return 0


async def _rows(name: str | None) -> "list[HistoryRow]":
    from bot.installation import clients_named, opened
    from core.usecases import history

    async with opened() as store, store.reading() as tx:
        chosen = None if name is None else await clients_named(tx, name)
        return list(await history.named_rows(tx, chosen))
