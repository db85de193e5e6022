"""``keptword restore FILE``."""

import argparse
import asyncio
from pathlib import Path

HELP = "put a backup in place of what is there (the bot must be stopped)"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file", metavar="FILE", type=Path, help="what 'keptword backup' wrote, on SQLite or PostgreSQL"
    )
    parser.epilog = (
        "It needs the data key that was in use when the backup was made. All of it is restored, or nothing is changed; what was "
        "there is kept as ...before-restore."
    )


def run(args: argparse.Namespace) -> int:
    from bot.backups import restore_backup
    from bot.settings import read_settings
    from core.how_many import how_many

    copied, kept = asyncio.run(restore_backup(read_settings(), args.file))
    print(f"Restored {how_many(sum(copied.values()), 'row')} of {len(copied)} tables from {args.file}.")
    if kept is not None:
        print(f"What was there before is kept in {kept}.")
    return 0
