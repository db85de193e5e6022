"""What the page needs of whoever runs a rehearsal: the people, the clock, and the ways to move it."""

import datetime as dt
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

Role = Literal["coach", "client"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Someone:
    """A person whose phone can be taken in hand. ``note``: a few words on where they are or how they are doing."""

    chat: int
    name: str
    role: Role
    note: str = ""


class Stage(Protocol):
    """Runs a rehearsal. Call ``world.changes.mark()`` whenever something that the page shows has changed."""

    def now(self) -> dt.datetime: ...

    def playing(self) -> bool: ...

    def zone_of(self, chat: int) -> str:
        """The IANA zone in which this person is now."""
        ...

    def people(self) -> Sequence[Someone]:
        """Coaches first."""
        ...

    def look_at(self, chats: Collection[int]) -> None:
        """Somebody sits before the page with these phones: their owners do nothing by themselves."""
        ...

    async def next_event(self) -> str:
        """Move the clock to the next thing that happens and let it; one sentence that says what it was."""
        ...

    async def advance(self, by: dt.timedelta) -> str:
        """Move the clock on, with everything that happens meanwhile; one sentence about it."""
        ...

    def play(self, on: bool) -> None:
        """Let the time run by itself, or hold it."""
        ...

    def story(self) -> str:
        """While it plays: one sentence about what happened last; empty where there is nothing to tell."""
        ...

    def welcome(self, name: str, zone: str) -> Someone:
        """Somebody new with a phone that has never met the bot."""
        ...
