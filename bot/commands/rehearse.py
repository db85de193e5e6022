"""``keptword rehearse``: the whole system on this machine alone, on a clock that can be moved."""

import argparse
import asyncio
import sys
from pathlib import Path

HELP = "try everything on this machine alone: an invented group, two phones on a page, and a clock that you can move"
PORT = 8808


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--port", type=int, default=PORT, help=f"of the page (default {PORT}; 0 takes any free one)"
    )
    parser.add_argument("--keep", action="store_true", help="go on next time where this one ended")


def run(args: argparse.Namespace) -> int:
    import tempfile

    with tempfile.TemporaryDirectory(prefix="keptword-rehearsal-") as folder:
        asyncio.run(_on_the_page(Path(folder), args.port))
    return 0


async def _on_the_page(folder: Path, port: int) -> None:
    from bot.rehearsal.setting import on_the_page

    async with on_the_page(folder=folder, port=port, tell=tell) as (_, url):
        print(f"\nOpen {url} in a browser. Stop with Ctrl-C.", flush=True)  # noqa: T201 - what the command is for
        await asyncio.Event().wait()


def tell(line: str) -> None:
    print(line, file=sys.stderr, flush=True)  # noqa: T201 - progress
