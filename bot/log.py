"""The log: what happened, never what was said or by whom, and no secret."""

import logging
import re
import sys
import traceback
from types import TracebackType
from typing import TextIO

from typing_extensions import override

# A bot's token, wherever it stands: in an address, in a message of a library.
_TOKEN = re.compile(r"\d{3,}(?::|%3A)[\w-]{10,}", re.IGNORECASE)

# Libraries that say too much: addresses with the token in them, whole updates, parameters of statements.
SILENCED = ("telegram", "httpx", "httpcore", "aiosqlite", "uvicorn.access")
QUIET = ("apscheduler", "uvicorn", "alembic", "asyncio", "sqlalchemy")


def redacted(words: str) -> str:
    return _TOKEN.sub("[token]", words)


class Discreet(logging.Formatter):
    """An exception is told by its kind and where it happened: its message may be a person's words."""

    def __init__(self) -> None:
        super().__init__("%(asctime)s %(levelname)-7s %(name)s: %(message)s")

    @override
    def format(self, record: logging.LogRecord) -> str:
        return redacted(super().format(record))

    @override
    def formatException(
        self,
        ei: tuple[type[BaseException], BaseException, TracebackType | None] | tuple[None, None, None],
    ) -> str:
        kind, _, trace = ei
        if kind is None:
            return ""
        frames = traceback.extract_tb(trace)
        places = [f"  {frame.filename}:{frame.lineno} in {frame.name}" for frame in frames]
        return "\n".join([f"{kind.__module__}.{kind.__qualname__}, at", *places])


def configure_log(level: int = logging.INFO, stream: TextIO | None = None) -> logging.Handler:
    """Everything to standard error, discreetly. Returns the handler, for whoever wants to take it off again."""
    handler = logging.StreamHandler(stream or sys.stderr)
    handler.setFormatter(Discreet())
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(level)
    for name in SILENCED:
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)
    for name in QUIET:
        logging.getLogger(name).setLevel(logging.WARNING)
    return handler
