"""Inbox row -> the house -> handled: one transaction, in order within a chat, different chats side by side.

A message is first looked at. Where the house wants a file that came with it, or something reckoned that takes long, that is had
beside the queue, and then the message is handled like any other. Its chat waits meanwhile, as behind anything that is under way;
the other chats do not.
"""

import asyncio
import datetime as dt
import logging
import random
from collections.abc import Awaitable, Callable, Mapping
from typing import cast

from sqlalchemy.ext.asyncio import AsyncConnection
from telegram.error import RetryAfter, TelegramError

from bot.backoff import backoff
from bot.bell import Bell
from bot.chats.beforehand import Granted, Wish
from bot.chats.files import Brought
from bot.chats.phrases.files import not_fetched
from bot.clock import Clock
from bot.fetcher import LONGEST_S, Fetcher
from core.store import inbox
from core.store.columns import Json
from core.store.engine import Store
from core.store.inbox import Claimed

log = logging.getLogger(__name__)

Handle = Callable[[AsyncConnection, Mapping[str, Json], dt.datetime, Granted | None], Awaitable[None]]
Apologise = Callable[[AsyncConnection, Claimed, dt.datetime], Awaitable[None]]

MAX_ATTEMPTS = 5
LEASE = dt.timedelta(seconds=30)
IDLE_S = 1.0
FETCHES = 2  # that are under way at once
FETCH_ATTEMPTS = 4  # then it is said that the file could not be had
FETCH_LEASE = dt.timedelta(seconds=LONGEST_S + 30)
WAIT_FOR_A_FETCH = dt.timedelta(seconds=2)
LEAVE_S = 5.0  # for fetches that are under way when we stop


class Dispatcher:
    """Hands each update to the house.

    :param handle: changes the state and enqueues what is to be said, in the transaction that it is given; no network.
        It is given what was had before, if anything was wanted.
    :param apologise: enqueues one sentence to the chat of an update that was set aside.
    :param done: rung after every update that was handled: there may be something to send.
    :param fetcher: of what the house wants before an update is handled; None where there is nowhere to have it from.
    """

    def __init__(  # noqa: PLR0913 - the parts of a queue, all but three by name
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
        fetcher: Fetcher | None = None,
    ) -> None:
        self._store = store
        self._handle = handle
        self._apologise = apologise
        self._clock = clock
        self._machine = machine
        self._chance = chance
        self._bell = bell
        self._done = done
        self._fetcher = fetcher
        self._fetches: set[asyncio.Task[None]] = set()
        self.handled = self.failed = self.dead = 0

    async def handle_next(self) -> bool:
        """Handle one update, or begin to fetch what it needs; False where none can be handled now."""
        claimed = await self._claim()
        if claimed is None:
            return False
        try:
            wish = await self._look(claimed)
        except Exception as error:  # noqa: BLE001 - whatever is wrong with one update, the others go on
            await self._set_back(claimed, error)
            return True
        if wish is None:
            await self._deal_with(claimed)
        elif len(self._fetches) < FETCHES:
            self._begin_to_fetch(claimed, wish)
        else:
            async with self._store.begin() as tx:
                await inbox.put_back(tx, claimed, try_after=self._machine.now() + WAIT_FOR_A_FETCH)
        return True

    async def forever(self, stopping: asyncio.Event) -> None:
        while not stopping.is_set():
            if not await self.handle_next():
                await self._bell.wait(await self._pause_s())
        await self.finish(LEAVE_S)

    async def finish(self, longest_s: float | None = None) -> None:
        """Let the fetches that are under way come to an end; those that last longer are left to the next process."""
        while self._fetches:
            _, left = await asyncio.wait(self._fetches, timeout=longest_s)
            for fetch in left:
                fetch.cancel()

    async def _look(self, claimed: Claimed) -> Wish | None:
        if self._fetcher is None:
            return None
        async with self._store.reading() as tx:
            update = await inbox.body_of(tx, claimed)
            return await self._fetcher.look(tx, update, self._clock.now())

    def _begin_to_fetch(self, claimed: Claimed, wish: Wish) -> None:
        fetch = asyncio.create_task(self._fetch(claimed, wish), name="fetch")
        self._fetches.add(fetch)
        fetch.add_done_callback(self._end_of_fetch)

    def _end_of_fetch(self, fetch: asyncio.Task[None]) -> None:
        self._fetches.discard(fetch)
        if (
            not fetch.cancelled() and fetch.exception() is not None
        ):  # its lease runs out, and it is tried again
            log.error("a fetch broke off", exc_info=fetch.exception())

    async def _fetch(self, claimed: Claimed, wish: Wish) -> None:
        fetcher = cast("Fetcher", self._fetcher)
        async with self._store.begin() as tx:
            if not await inbox.hold_on(tx, claimed, lease_until=self._machine.now() + FETCH_LEASE):
                return
        try:
            granted = await fetcher.fetch(wish)
        except (TelegramError, TimeoutError) as error:
            if claimed.attempts < FETCH_ATTEMPTS:
                await self._try_again(claimed, error)
                return
            log.warning("the file of update %s could not be fetched (%s)", claimed.id, type(error).__name__)
            granted = Brought(faults=(not_fetched(),))
        except Exception as error:  # noqa: BLE001 - a file that nobody can read is a poison like any other
            await self._set_back(claimed, error)
            return
        await self._deal_with(claimed, granted)
        self._bell.ring()  # what its chat said meanwhile can be handled now

    async def _deal_with(self, claimed: Claimed, granted: Granted | None = None) -> None:
        try:
            await self._handle_claimed(claimed, granted)
        except Exception as error:  # noqa: BLE001 - whatever is wrong with one update, the others go on
            await self._set_back(claimed, error)
        self._done.ring()

    async def _claim(self) -> Claimed | None:
        now = self._machine.now()
        async with self._store.begin() as tx:
            return await inbox.claim(
                tx, lease=f"{self._chance.getrandbits(64):016x}", machine_now=now, lease_until=now + LEASE
            )

    async def _handle_claimed(self, claimed: Claimed, granted: Granted | None = None) -> None:
        at = self._clock.now()
        async with self._store.begin() as tx:
            update = await inbox.open_claimed(tx, claimed)
            if update is None:  # our lease ran out, and another worker has it
                return
            await self._handle(tx, update, at, granted)
            await inbox.mark_handled(tx, claimed, at=at)
        self.handled += 1

    async def _set_back(self, claimed: Claimed, error: Exception) -> None:
        what = type(error).__name__
        if claimed.attempts < MAX_ATTEMPTS:
            log.warning("update %s failed (attempt %s)", claimed.id, claimed.attempts, exc_info=error)
            await self._try_again(claimed, error)
            return
        async with self._store.begin() as tx:
            if not await inbox.mark_dead(tx, claimed, what, at=self._clock.now()):
                return  # our lease ran out, and another worker has it
        log.error("update %s is set aside after %s attempts", claimed.id, claimed.attempts, exc_info=error)
        self.dead += 1
        await self._say_sorry(claimed)

    async def _try_again(self, claimed: Claimed, error: Exception) -> None:
        wait = backoff(claimed.attempts, self._chance)
        if isinstance(error, RetryAfter):
            wait = max(wait, cast("dt.timedelta", error.retry_after))
        async with self._store.begin() as tx:
            await inbox.mark_failed(tx, claimed, type(error).__name__, try_after=self._machine.now() + wait)
        self.failed += 1

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
