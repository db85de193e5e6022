"""Faults on demand: what a network and a busy server can do to a call."""

import enum
from dataclasses import dataclass

from bot.rehearsal.botapi.errors import ApiError


class Kind(enum.StrEnum):
    """Each says whether the call took effect first."""

    ERROR = "error"  # not done; an answer of one's choosing
    SERVER_ERROR = "server error"  # not done; 502
    SERVER_ERROR_AFTER = "server error after"  # done; 502 nevertheless
    DEAF = "deaf"  # not done; no answer ever
    SILENCE = "silence"  # done; no answer ever
    CUT = "cut"  # not done; the connection is dropped
    DROPPED = "dropped"  # done; the connection is dropped
    JUNK = "junk"  # done; the answer is no JSON

    @property
    def takes_effect(self) -> bool:
        return self in (Kind.SERVER_ERROR_AFTER, Kind.SILENCE, Kind.DROPPED, Kind.JUNK)


@dataclass(slots=True)
class Fault:
    kind: Kind
    method: str = ""  # empty: any
    times: int = 1
    error: ApiError | None = None


class Trouble:
    """Planned faults, used up in the order in which they were planned."""

    def __init__(self) -> None:
        self._planned: list[Fault] = []

    def plan(self, kind: Kind, *, method: str = "", times: int = 1, error: ApiError | None = None) -> None:
        """Let the next so many calls (of this method, if one is named) go wrong."""
        self._planned.append(Fault(kind, method.lower(), times, error))

    def clear(self) -> None:
        self._planned.clear()

    def take(self, method: str) -> Fault | None:
        """What goes wrong with this call."""
        for fault in self._planned:
            if fault.method in ("", method.lower()):
                fault.times -= 1
                self._planned = [left for left in self._planned if left.times > 0]
                return fault
        return None
