"""A rehearsal under way: the works, the people and one clock that stops at everything that happens."""

import datetime as dt
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field

from bot.clock import ManualClock
from bot.rehearsal.people.crowd import Crowd
from bot.rehearsal.record import Entry, Record
from bot.rehearsal.works import Works
from core.calendar.trips import Whereabouts
from core.store import house
from core.store import house_tables as t

FEW = 4
MOST_STEPS_AT_ONCE = 200  # at one instant: more means that something is due for ever


class StuckError(RuntimeError):
    """Something stays due however often it is dealt with."""


@dataclass(slots=True)
class Atlas:
    """Where everybody is: by the house's own knowledge once they are enrolled, else by what they said on arrival."""

    homes: dict[int, str] = field(default_factory=dict)
    lives: dict[int, Whereabouts] = field(default_factory=dict)

    def zone_of(self, chat: int, at: dt.datetime) -> str:
        life = self.lives.get(chat)
        return life.zone_at(at) if life is not None else self.homes.get(chat, "UTC")

    def is_away(self, chat: int, at: dt.datetime) -> bool:
        life = self.lives.get(chat)
        return life is not None and life.away_on(life.local_day(at))


@dataclass(slots=True, kw_only=True)
class Play:
    """``calm``: let the bot do all that it can do now. ``machine``: a clock that is moved along with the house's."""

    works: Works
    crowd: Crowd
    record: Record
    atlas: Atlas
    clock: ManualClock
    calm: Callable[[], Awaitable[None]]
    machine: ManualClock | None = None
    _heard: int = 0
    _due: dt.datetime | None = None  # when the house has something to do next

    async def settle_down(self) -> None:
        """Let the bot finish, then let people read; their plans are for later."""
        await self.calm()
        await self._look_round()
        self._place_everybody()
        self.crowd.read(self.clock.now())
        await self.look_ahead()

    async def look_ahead(self) -> None:
        """See when the house, or its outbox, has something to do next."""
        due = await self.works.house.next_due(self.works.store), await self.works.next_to_send()
        self._due = min((moment for moment in due if moment is not None), default=None)

    def next_at(self) -> dt.datetime | None:
        """When something happens next."""
        return min((m for m in (self._due, self.crowd.next_at()) if m is not None), default=None)

    async def step(self, at: dt.datetime) -> None:
        """Move the clock there and do everything that is due by then."""
        self._move(at)
        for _ in range(MOST_STEPS_AT_ONCE):
            acted = self.crowd.act(self.clock.now())
            dealt = await self._tick()
            if not acted and not dealt:
                return
            await self.settle_down()
        raise StuckError(f"at {at:%Y-%m-%d %H:%M} UTC something stays due")

    async def until(self, goal: dt.datetime) -> None:
        """Let time pass, stopping at everything that happens."""
        while (at := self.next_at()) is not None and at <= goal:
            await self.step(at)
        self._move(goal)

    async def until_something(self, goal: dt.datetime) -> list[Entry]:
        """Let time pass until there is something to see, at most until then; what was seen."""
        seen = len(self.record.entries)
        while (at := self.next_at()) is not None and at <= goal:
            await self.step(at)
            if len(self.record.entries) > seen:
                break
        else:
            self._move(goal)
        return self.record.entries[seen:]

    async def _tick(self) -> int:
        now = self.clock.now()
        if self._due is None or self._due > now:
            return 0
        return await self.works.tick(now) or 1

    def _move(self, at: dt.datetime) -> None:
        self.clock.move_to(at)
        if self.machine is not None:
            self.machine.move_to(at)

    # Where people are

    async def _look_round(self) -> None:
        """Whoever was heard may have told of a trip: look again where they are."""
        fresh, self._heard = self.record.entries[self._heard :], len(self.record.entries)
        heard = frozenset(entry.chat for entry in fresh if entry.author != "bot")
        if heard:
            await self.look_everywhere(heard if len(heard) < FEW else None)

    async def look_everywhere(self, names: frozenset[str] | None = None) -> None:
        """Where everybody is (or those of these names), as the house knows it."""
        people = self.works.world.people
        own = (
            (t.client.c.telegram_id.in_([p.id for p in people.values() if p.name in names]),) if names else ()
        )
        async with self.works.store.reading() as tx:
            for client in await house.clients.list(tx, t.client.c.telegram_id.is_not(None), *own):
                life = await house.circumstances(tx, client)
                self.atlas.lives[client.telegram_id or 0] = life.where

    def _place_everybody(self) -> None:
        """Those who are to read something know where they are: a journey may have begun since they last looked."""
        now = self.clock.now()
        for chat in {chat for chat, _ in self.crowd.unread}:
            person = self.crowd.people[chat]
            person.zone = self.atlas.zone_of(chat, now)
            person.away = self.atlas.is_away(chat, now)
