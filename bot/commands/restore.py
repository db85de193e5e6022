"""``keptword restore FILE``: back from a copy."""

import argparse
from pathlib import Path

HELP = "put a backup in the place of the database"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="the backup")
    parser.epilog = "Stop Keptword first. What is there now is kept beside it, as ...before-restore."


def run(args: argparse.Namespace) -> int:
    from bot.copies import restore
    from bot.settings import read_settings

    restore(read_settings().database, args.file)
    print("Restored. 'keptword doctor' looks at it; 'keptword migrate' brings an older one up to date.")
    return 0
