"""What the page needs of whoever runs a rehearsal: the people, the clock, and the ways to move it."""

import datetime as dt
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

from bot.clock import ManualClock
from bot.rehearsal.botapi.world import World

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


class QuietStage:
    """A stage on which nothing happens by itself: a clock that is moved by hand, and the phones."""

    def __init__(self, world: World, clock: ManualClock) -> None:
        self._world = world
        self._clock = clock
        self._people: list[Someone] = []
        self._zones: dict[int, str] = {}
        self._playing = False

    def add(self, name: str, role: Role, zone: str, *, note: str = "") -> Someone:
        first, _, last = name.partition(" ")
        person = self._world.add_person(first, last_name=last)
        someone = Someone(chat=person.id, name=name, role=role, note=note)
        self._people.append(someone)
        self._zones[person.id] = zone
        return someone

    def now(self) -> dt.datetime:
        return self._clock.now()

    def playing(self) -> bool:
        return self._playing

    def zone_of(self, chat: int) -> str:
        return self._zones.get(chat, "UTC")

    def people(self) -> Sequence[Someone]:
        return sorted(self._people, key=lambda someone: someone.role != "coach")

    def look_at(self, chats: Collection[int]) -> None:
        pass

    async def next_event(self) -> str:
        return "Nothing is waiting to happen."

    async def advance(self, by: dt.timedelta) -> str:
        self._clock.advance(by)
        return "Nothing happened meanwhile."

    def play(self, on: bool) -> None:
        self._playing = on

    def story(self) -> str:
        return "Nothing happens by itself here." if self._playing else ""

    def welcome(self, name: str, zone: str) -> Someone:
        return self.add(name, "client", zone, note="new here")
