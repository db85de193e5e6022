"""``keptword preview --client NAME --days N``: every prompt that would be sent."""

import argparse
import asyncio
import json
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.usecases.preview import Previewed

HELP = "list every prompt that a client would be sent"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--client", metavar="NAME", required=True, help="whose prompts")
    parser.add_argument(
        "--days", metavar="N", type=int, default=7, help="for how many days from now on (default: 7)"
    )
    parser.add_argument(
        "--format", choices=("table", "json"), default="table", help="how to print it (default: table)"
    )
    parser.epilog = (
        "As if everything goes by plan and is answered: weeks not yet settled are shown as they would be assumed, follow-ups are "
        "left out."
    )


def run(args: argparse.Namespace) -> int:
    from core.errors import Fault

    if not 1 <= args.days <= 366:
        raise Fault(f"--days is a number from 1 to 366, not {args.days}.")
    prompts = asyncio.run(_preview(args.client, args.days))
    if args.format == "json":
        print(json.dumps([p.to_json() for p in prompts], indent=1))
        return 0
    if not prompts:
        print("Nothing would be sent.")
    for prompt in prompts:
        print(
            f"{prompt.local:%a %d %b %Y %H:%M}  {prompt.zone:<24} {prompt.kind:<8} {prompt.utc:%Y-%m-%d %H:%M}Z"
        )
    return 0


async def _preview(name: str, days: int) -> "list[Previewed]":
    from bot.clock import SystemClock
    from bot.installation import clients_named, opened
    from core.usecases.preview import preview

    async with opened() as store, store.reading() as tx:
        return [
            prompt
            for client in await clients_named(tx, name)
            for prompt in await preview(tx, client, at=SystemClock().now(), days=days)
        ]
