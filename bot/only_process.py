"""One process a SQLite database: its file is locked while the bot serves it."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from core.errors import Fault

if sys.platform != "win32":
    import fcntl


@contextmanager
def only_process(database: Path) -> Iterator[None]:
    """A Fault where another process has it. The lock ends with the process, however it ends."""
    if sys.platform == "win32":  # which has no such lock
        yield
        return
    with database.with_suffix(".lock").open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            raise Fault(
                f"Another Keptword is using the database {database}. Stop it first ('systemctl stop keptword'), or move to "
                "PostgreSQL, where several may work at once."
            ) from error
        yield
