"""The stage behind the page: the clock is moved by hand, and the people who are on no phone answer by themselves."""

import asyncio
import contextlib
import datetime as dt
import logging
from collections.abc import Callable, Collection, Sequence

from bot.clock import ManualClock
from bot.rehearsal import story
from bot.rehearsal.botapi.world import World
from bot.rehearsal.play import Atlas, Play
from bot.rehearsal.stage import Role, Someone
from core.errors import Refused

log = logging.getLogger(__name__)

BREATH = 1.6  # seconds of the machine between two events while it plays
FARTHEST = dt.timedelta(days=15)
SPANS = {
    dt.timedelta(hours=1): "In that hour",
    dt.timedelta(days=1): "In that day",
    dt.timedelta(days=7): "In that week",
}


class Rehearsal:
    """Everybody whom the page can show, and the ways to move the clock."""

    def __init__(self, world: World, clock: ManualClock, atlas: Atlas, people: Sequence[Someone]) -> None:
        self._world = world
        self._clock = clock
        self._atlas = atlas
        self._people = list(people)
        self._play: Play | None = None
        self._keep: Callable[[], None] = lambda: None
        self._playing: asyncio.Task[None] | None = None
        self._story = ""
        self._turn = asyncio.Lock()

    def begin(self, play: Play, keep: Callable[[], None]) -> None:
        """The curtain rises. ``keep`` is called whenever the clock stands again."""
        self._play = play
        self._keep = keep
        keep()
        self.look_at(())
        self._world.changes.mark()

    @property
    def under_way(self) -> Play:
        if self._play is None:
            raise Refused("The rehearsal is still being set up: wait a moment.")
        return self._play

    def now(self) -> dt.datetime:
        return self._clock.now()

    def playing(self) -> bool:
        return self._playing is not None and not self._playing.done()

    def zone_of(self, chat: int) -> str:
        return self._atlas.zone_of(chat, self.now())

    def people(self) -> Sequence[Someone]:
        return self._people

    def look_at(self, chats: Collection[int]) -> None:
        """Who is on the page's phones: they are left to whoever sits before it; the coach always is."""
        if self._play is None:
            return
        coaches = {person.chat for person in self._people if person.role == "coach"}
        self.under_way.crowd.take_in_hand({*chats, *coaches})

    async def next_event(self) -> str:
        async with self._turn:
            await self.under_way.settle_down()
            seen = await self.under_way.until_something(self.now() + FARTHEST)
            self._keep()
        return story.one_moment(seen)

    async def advance(self, by: dt.timedelta) -> str:
        async with self._turn:
            await self.under_way.settle_down()
            seen = len(self.under_way.record.entries)
            await self.under_way.until(self.now() + by)
            self._keep()
        return story.a_while(self.under_way.record.entries[seen:], SPANS.get(by, "Meanwhile"))

    def play(self, on: bool) -> None:
        if on and not self.playing():
            self._story = ""
            self._playing = asyncio.create_task(self._run(), name="play")
        elif not on and self._playing is not None:
            self._playing.cancel()

    async def _run(self) -> None:
        """One event after another, with a breath between two, until it is paused."""
        with contextlib.suppress(asyncio.CancelledError):
            while True:
                try:
                    self._story = await asyncio.shield(self.next_event())
                except Exception:
                    log.exception("the play broke off")
                    self._story = "The play broke off: the log says why."
                    return
                finally:
                    self._world.changes.mark()
                await asyncio.sleep(BREATH)

    def story(self) -> str:
        return self._story

    def welcome(self, name: str, zone: str) -> Someone:
        if any(person.name == name for person in self._people):
            raise Refused(f"There is a phone of {name} already: choose it in the list.")
        return self.add(name, "client", zone, note="new here")

    def add(self, name: str, role: Role, zone: str, *, note: str = "") -> Someone:
        first, _, last = name.partition(" ")
        person = self._world.add_person(first, last_name=last)
        someone = Someone(chat=person.id, name=name, role=role, note=note)
        self._atlas.homes[person.id] = zone
        self._people.append(someone)
        return someone

    async def close(self) -> None:
        self.play(on=False)
        if self._playing is not None:
            await asyncio.gather(self._playing, return_exceptions=True)
        self._keep()
