"""Inbox row -> the house -> handled: one transaction, in order within a chat, different chats side by side."""

import asyncio
import datetime as dt
import logging
import random
from collections.abc import Awaitable, Callable, Mapping

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.backoff import backoff
from bot.bell import Bell
from bot.clock import Clock
from core.store import inbox
from core.store.columns import Json
from core.store.engine import Store
from core.store.inbox import Claimed

log = logging.getLogger(__name__)

Handle = Callable[[AsyncConnection, Mapping[str, Json], dt.datetime], Awaitable[None]]
Apologise = Callable[[AsyncConnection, Claimed, dt.datetime], Awaitable[None]]

MAX_ATTEMPTS = 5
LEASE = dt.timedelta(seconds=30)
IDLE_S = 1.0


class Dispatcher:
    """Hands each update to the house.

    :param handle: changes the state and enqueues what is to be said, in the transaction that it is given; no network.
    :param apologise: enqueues one sentence to the chat of an update that was set aside.
    :param done: rung after every update that was handled: there may be something to send.
    """

    def __init__(
        self,
        store: Store,
        handle: Handle,
        apologise: Apologise,
        *,
        clock: Clock,
        machine: Clock,
        chance: random.Random,
        bell: Bell,
        done: Bell,
    ) -> None:
        self._store = store
        self._handle = handle
        self._apologise = apologise
        self._clock = clock
        self._machine = machine
        self._chance = chance
        self._bell = bell
        self._done = done
        self.handled = self.failed = self.dead = 0

    async def handle_next(self) -> bool:
        """Handle one update; False where none can be handled now."""
        claimed = await self._claim()
        if claimed is None:
            return False
        try:
            await self._handle_claimed(claimed)
        except Exception as error:  # noqa: BLE001 - whatever is wrong with one update, the others go on
            await self._set_back(claimed, error)
        self._done.ring()
        return True

    async def forever(self, stopping: asyncio.Event) -> None:
        while not stopping.is_set():
            if not await self.handle_next():
                await self._bell.wait(await self._pause_s())

    async def _claim(self) -> Claimed | None:
        now = self._machine.now()
        async with self._store.begin() as tx:
            return await inbox.claim(
                tx, lease=f"{self._chance.getrandbits(64):016x}", machine_now=now, lease_until=now + LEASE
            )

    async def _handle_claimed(self, claimed: Claimed) -> None:
        at = self._clock.now()
        async with self._store.begin() as tx:
            update = await inbox.open_claimed(tx, claimed)
            if update is None:  # our lease ran out, and another worker has it
                return
            await self._handle(tx, update, at)
            await inbox.mark_handled(tx, claimed, at=at)
        self.handled += 1

    async def _set_back(self, claimed: Claimed, error: Exception) -> None:
        what = type(error).__name__
        if claimed.attempts < MAX_ATTEMPTS:
            log.warning("update %s failed (attempt %s)", claimed.id, claimed.attempts, exc_info=error)
            wait = backoff(claimed.attempts, self._chance)
            async with self._store.begin() as tx:
                await inbox.mark_failed(tx, claimed, what, try_after=self._machine.now() + wait)
            self.failed += 1
            return
        log.error("update %s is set aside after %s attempts", claimed.id, claimed.attempts, exc_info=error)
        async with self._store.begin() as tx:
            await inbox.mark_dead(tx, claimed, what, at=self._clock.now())
        self.dead += 1
        await self._say_sorry(claimed)

    async def _say_sorry(self, claimed: Claimed) -> None:
        try:
            async with self._store.begin() as tx:
                await self._apologise(tx, claimed, self._clock.now())
        except Exception:
            log.exception("no apology for update %s", claimed.id)

    async def _pause_s(self) -> float:
        async with self._store.reading() as tx:
            again = await inbox.next_try(tx)
        if again is None:
            return IDLE_S
        return min(IDLE_S, max((again - self._machine.now()).total_seconds(), 0.01))
