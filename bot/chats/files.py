"""A file that somebody sent, in three steps, since nothing is fetched inside a transaction.

The house is asked first whether it wants the file (:class:`Wanted`); then it is fetched and read beside the queue; then the
message is handled, with what was read (:class:`Brought`). A file that nobody asked for, or that is too large, is never fetched.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any

from bot.chats.incoming import Incoming
from core.errors import Refused

SHEETS = frozenset({".xlsx", ".csv"})
_KINDS = {
    "text/calendar": ".ics",
    "text/csv": ".csv",
    "text/comma-separated-values": ".csv",
    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": ".xlsx",
}


@dataclass(frozen=True, slots=True)
class Wanted:
    """A file to be fetched. ``read`` is called outside of any transaction, in a thread; ``Refused`` says what is wrong with it."""

    file_id: str
    largest: int  # bytes
    read: Callable[[bytes], object]


@dataclass(frozen=True, slots=True)
class Brought:
    """What was read of a file, or a sentence for each fault."""

    content: Any = None
    faults: tuple[str, ...] = ()


def ending(incoming: Incoming) -> str:
    """'.xlsx', '.ics': of the file's name, else by what the sender's phone says that it is; '' where neither tells."""
    return PurePath(incoming.file_name).suffix.casefold() or _KINDS.get(incoming.file_type, "")


def read_file(wanted: Wanted, content: bytes) -> Brought:
    """What is in a file that was fetched, or what is wrong with it."""
    try:
        return Brought(wanted.read(content))
    except Refused as refused:
        return Brought(faults=tuple(refused.lines))
