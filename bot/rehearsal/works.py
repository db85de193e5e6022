"""The bot of a rehearsal, put together as in production: receiver, dispatcher, house, sender and the store between them.

Only what is outside of it is different: the server is the local one, and the house's clock is moved by hand. There is no
limit of one message a second here, since a week passes in seconds.
"""

import asyncio
import contextlib
import datetime as dt
import random
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass
from pathlib import Path

import httpx
from sqlalchemy import bindparam, func, select
from sqlalchemy.ext.asyncio import AsyncConnection
from typing_extensions import override

from bot.bell import Bell
from bot.bot_api import BotApi
from bot.chats.buttons import Signer
from bot.chats.turn import Desk
from bot.clock import Clock, ManualClock
from bot.dispatcher import Dispatcher
from bot.fetcher import Fetcher
from bot.house import House
from bot.receiver import Receiver, epoch_of
from bot.recorder import Hooks
from bot.rehearsal.at_once import without_a_thread
from bot.rehearsal.botapi.world import World
from bot.sender import Sender
from core.store import schema
from core.store.cipher import Cipher
from core.store.columns import UTCDateTime
from core.store.engine import Store, open_store
from core.store.lanes import State
from core.store.outbox import Queued
from core.store.pace import Pace
from core.store.queue_tables import inbox, outbox

HASTE = Pace(every=dt.timedelta(), chat_every=dt.timedelta(), group_every=dt.timedelta())
SECRET = b"of this rehearsal; it opens nothing else"

_TO_HANDLE = select(inbox.c.id).where(inbox.c.state == "waiting").limit(1)
_TO_SEND = (
    select(outbox.c.id)
    .where(outbox.c.state == State.WAITING.value, outbox.c.not_before <= bindparam("now", type_=UTCDateTime))
    .limit(1)
)
_NEXT_TO_SEND = select(func.min(outbox.c.not_before)).where(outbox.c.state == State.WAITING.value)


class Seeded:
    """Random bytes that are the same for the same seed."""

    def __init__(self, seed: int) -> None:
        self._chance = random.Random(seed)  # noqa: S311 - nothing is kept secret with them

    def __call__(self, count: int) -> bytes:
        return self._chance.randbytes(count)


@dataclass(frozen=True, slots=True)
class Overheard(Hooks):
    """The house, with somebody beside it who hears what was sent."""

    house: House
    tell: Callable[[Queued], None]

    @override
    async def still_true(self, tx: AsyncConnection, row: Queued) -> bool:
        return await self.house.still_true(tx, row)

    @override
    async def ended(self, tx: AsyncConnection, row: Queued, state: State) -> None:
        if state is State.SENT:
            self.tell(row)
        await self.house.ended(tx, row, state)


@dataclass(frozen=True, slots=True, kw_only=True)
class Works:
    """Everything that runs."""

    store: Store
    world: World
    api: BotApi
    house: House
    clock: ManualClock
    receiver: Receiver
    dispatcher: Dispatcher
    sender: Sender
    written: Bell  # rung when there may be something to send

    async def tick(self, at: dt.datetime) -> int:
        """Let the house deal with what is due, as the metronome would."""
        dealt = await self.house.tick(self.store, at)
        self.written.ring()
        return dealt

    async def calm(self) -> None:
        """Do everything that can be done now, one thing after another: for whoever has no loops running."""
        while True:
            while self.world.updates.count:
                await self.receiver.poll_once(0)
            await self.receiver.finish()
            to_handle, to_send = await self._waiting()
            if not to_handle and not to_send:
                return
            while to_handle and await self.dispatcher.handle_next():
                pass
            await self.dispatcher.finish()
            while await self.sender.send_next():
                pass

    async def _waiting(self) -> tuple[bool, bool]:
        """Whether there is something to handle, and something to send by now: to look is cheaper than to try."""
        async with self.store.reading() as tx:
            handle = (await tx.execute(_TO_HANDLE)).first()
            send = (await tx.execute(_TO_SEND, {"now": self.clock.now()})).first()
        return handle is not None, send is not None

    async def next_to_send(self) -> dt.datetime | None:
        """When the next message is due, once everything is calm."""
        async with self.store.reading() as tx:
            due: dt.datetime | None = (await tx.execute(_NEXT_TO_SEND)).scalar()
        return due

    async def is_calm(self) -> bool:
        """Whether nothing is under way: for whoever has the loops running."""
        if self.world.updates.count:
            return False
        async with self.store.reading() as tx:
            if (await tx.execute(_TO_HANDLE)).first() is not None:
                return False
        return (await self.sender.outlook()).ready_at is None

    async def until_calm(self, *, seconds: float = 30.0) -> None:
        """Wait until the loops have done what there is to do."""
        async with asyncio.timeout(seconds):
            while not await self.is_calm():  # noqa: ASYNC110 - it depends on rows, for which there is no event
                await asyncio.sleep(0.005)

    @contextlib.asynccontextmanager
    async def running(self) -> AsyncIterator[None]:
        """The loops, as in production, for as long as this lasts."""
        stopping = asyncio.Event()
        loops = [
            asyncio.create_task(part.forever(stopping), name=type(part).__name__)
            for part in (self.receiver, self.dispatcher, self.sender)
        ]
        try:
            yield
        finally:
            stopping.set()
            await asyncio.wait(loops, timeout=5)
            for loop in loops:
                loop.cancel()
            await asyncio.gather(*loops, return_exceptions=True)


@contextlib.asynccontextmanager
async def set_up(  # noqa: PLR0913 - the parts of a rehearsal, by name
    *,
    file: Path,
    key: str,
    world: World,
    clock: ManualClock,
    machine: Clock,
    seed: int,
    tell: Callable[[Queued], None],
    url: str = "http://rehearsal",
    transport: httpx.AsyncBaseTransport | None = None,
    careful: bool = False,
) -> AsyncIterator[Works]:
    """Open the store (its schema brought up to date) and put the bot together; close both in the end."""
    cipher = Cipher([key])
    address = f"sqlite:///{file}"
    await _migrate(address, cipher)
    store = open_store(address, cipher)
    without_a_thread(store, careful=careful)
    api = BotApi(world.token, url, transport=transport)
    await api.open()
    try:
        yield _put_together(store, api, world, clock, machine, seed, tell, url)
    finally:
        await api.close_connections()
        await store.close()


async def _migrate(address: str, cipher: Cipher) -> None:
    store = open_store(address, cipher, foreign_keys=False)
    try:
        await schema.upgrade(store)
    finally:
        await store.close()


def _put_together(
    store: Store,
    api: BotApi,
    world: World,
    clock: ManualClock,
    machine: Clock,
    seed: int,
    tell: Callable[[Queued], None],
    url: str,
) -> Works:
    chance = random.Random(seed)  # noqa: S311 - of leases and back-offs
    arrived, written = Bell(), Bell()
    desk = Desk(signer=Signer(SECRET), bot_name=world.bot.username, random_bytes=Seeded(seed))
    house = House(desk=desk, clock=clock)
    clocks = {"clock": clock, "machine": machine}
    return Works(
        store=store,
        world=world,
        api=api,
        house=house,
        clock=clock,
        receiver=Receiver(
            store,
            api,
            epoch=epoch_of(url, world.token),
            holder="rehearsal",
            chance=chance,
            arrived=arrived,
            **clocks,
        ),
        dispatcher=Dispatcher(
            store,
            house.handle,
            house.apologise,
            chance=chance,
            bell=arrived,
            done=written,
            fetcher=Fetcher(store, api, house.wants),
            **clocks,
        ),
        sender=Sender(store, api, Overheard(house, tell), chance=chance, bell=written, pace=HASTE, **clocks),
        written=written,
    )
