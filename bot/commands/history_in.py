"""``keptword history-in FILE``: past weeks of clients out of a spreadsheet, beside what was recorded here, never over it."""

import argparse
import asyncio
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from core.usecases.history_in import PastOf

HELP = "take in past weeks of clients from a spreadsheet"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file", metavar="FILE", type=Path, help=".xlsx or .csv, as 'keptword history' writes it"
    )
    parser.add_argument("--look", action="store_true", help="only say what would be taken in")


def run(args: argparse.Namespace) -> int:
    import html

    from bot.chats.phrases.sheets import history_lines
    from bot.installation import read_spreadsheet

    past = asyncio.run(_take_in(read_spreadsheet(args.file), args.file.name, look=args.look))
    print("\n".join(html.unescape(line) for line in history_lines(past)))
    if not any(each.rows for each in past):
        print("There is nothing in it that could be added.")
    else:
        print("Nothing was changed: leave out --look to take it in." if args.look else "Taken in.")
    return 0


async def _take_in(content: bytes, name: str, *, look: bool) -> "Sequence[PastOf]":
    from bot.clock import SystemClock
    from bot.installation import opened
    from core.programme.sheets.cells import read_sheets
    from core.programme.sheets.history import history_from
    from core.store import house
    from core.store import house_tables as t
    from core.usecases import history_in
    from core.usecases.history import called_by
    from core.usecases.schedule import reschedule

    at = SystemClock().now()
    async with opened() as store:
        async with store.reading() as tx:
            clients = await house.clients.list(tx, order=[t.client.c.name, t.client.c.id])
        rows = history_from(read_sheets(content, name), name, [called for _, called in called_by(clients)])
        async with store.reading() if look else store.begin() as tx:  # the bot waits while it lasts
            past = await history_in.past_of(tx, clients, rows, at)
            if not look:
                await history_in.take_in(tx, past, at)
                for each in past:
                    await reschedule(tx, each.client.id, at)
        return past
