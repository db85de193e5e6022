"""``keptword backup FILE``: a checked copy, made while the bot is running."""

import argparse
from pathlib import Path

HELP = "copy the database, while it is in use, and check the copy"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file", metavar="FILE", type=Path, help="where to; an existing file is never overwritten"
    )
    parser.epilog = "The data key is not in it, and without the key nobody can read what is sealed: keep the key elsewhere."


def run(args: argparse.Namespace) -> int:
    from bot.copies import back_up
    from bot.settings import read_settings

    back_up(read_settings().database, args.file)
    print(f"Copied to {args.file}, and checked. The data key is not in it: keep it elsewhere.")
    return 0
