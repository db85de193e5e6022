"""``keptword migrate``: the schema brought up to date."""

import argparse
import asyncio

HELP = "bring the database's tables up to date"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.epilog = (
        "Everything happens in one transaction: it is done whole or not at all. Make a backup before."
    )


def run(args: argparse.Namespace) -> int:  # noqa: ARG001 - every command takes them
    from bot.opening import migrate
    from bot.settings import read_settings

    told = asyncio.run(migrate(read_settings()))
    print("\n".join(told) if told else "The database was up to date.")
    return 0
