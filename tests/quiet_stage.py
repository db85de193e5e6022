"""A stage for the page and the local Bot API alone."""

import datetime as dt
from collections.abc import Collection, Sequence

from bot.clock import ManualClock
from bot.rehearsal.botapi.world import World
from bot.rehearsal.stage import Role, Someone


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
