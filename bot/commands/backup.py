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
    from bot.installation import be_sure_it_is_there
    from bot.settings import read_settings
    from core.how_many import how_many

    settings = read_settings()
    be_sure_it_is_there(settings)
    copied = asyncio.run(make_backup(settings, args.file))
    held = how_many(sum(copied.values()), "row")
    print(f"{args.file}: {held} of {len(copied)} tables, checked. The data key is not in it.")
    return 0
