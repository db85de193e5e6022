"""``keptword doctor``: what is wrong with this installation, and what to do."""

import argparse
import asyncio
import sys

HELP = "say what is wrong with this installation, and what to do"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--new-key", action="store_true", help="only print a fresh data key")


def run(args: argparse.Namespace) -> int:
    if args.new_key:
        from core.store.cipher import new_key

        print(new_key())
        return 0
    return asyncio.run(_examine())


async def _examine() -> int:
    from bot.clock import SystemClock
    from bot.examination import examine
    from bot.settings import read_settings

    wrong = 0
    async for looked_at, fault in examine(read_settings(), SystemClock()):
        if fault is None:
            print(f"{looked_at}: in order")
        else:
            wrong += 1
            print(f"{looked_at}: {fault}", file=sys.stderr)
    return 1 if wrong else 0
