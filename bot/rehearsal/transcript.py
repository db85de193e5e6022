"""What was said on every phone, line by line."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

Author = Literal["bot", "person"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing that happened in a chat; ``number`` is that of the message it is about.

    ``what``: message, photo, document, video, voice, sticker, location, edit, buttons, press, notice, delete, blocked, ...
    """

    at: dt.datetime
    chat: int
    author: Author
    what: str
    text: str
    number: int = 0

    def json(self) -> dict[str, Any]:
        return {
            "utc": self.at.strftime("%Y-%m-%dT%H:%M:%SZ"),
            "chat": self.chat,
            "from": self.author,
            "kind": self.what,
            "text": self.text,
            "message": self.number,
        }


class Transcript:
    """All lines in order; ``listen`` is told each as it is written."""

    def __init__(self) -> None:
        self.lines: list[Line] = []
        self._listeners: list[Callable[[Line], None]] = []

    def write(self, line: Line) -> None:
        self.lines.append(line)
        for listener in self._listeners:
            listener(line)

    def listen(self, listener: Callable[[Line], None]) -> None:
        self._listeners.append(listener)
