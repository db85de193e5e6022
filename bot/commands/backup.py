"""``keptword backup FILE``."""

import argparse
import asyncio
from pathlib import Path

HELP = "write everything into one file, while the bot goes on"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a file that does not exist yet")
    parser.epilog = (
        "What is sensitive stays sealed in it. The data key is not in it: keep KEPTWORD_DATA_KEY, or the .key file beside the "
        "database, in another place."
    )


def run(args: argparse.Namespace) -> int:
    from bot.backups import make_backup
    from bot.settings import read_settings

    copied = asyncio.run(make_backup(read_settings(), args.file))
    print(
        f"{args.file}: {sum(copied.values())} rows of {len(copied)} tables, checked. The data key is not in it."
    )
    return 0
