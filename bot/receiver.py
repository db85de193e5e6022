"""Telegram -> inbox. An update is committed before Telegram is told that we have it."""

import asyncio
import datetime as dt
import hashlib
import logging
import random
from collections.abc import Coroutine, Sequence
from typing import Any, cast

from telegram.error import Conflict, InvalidToken, RetryAfter, TelegramError

from bot.backoff import backoff
from bot.bell import Bell
from bot.bot_api import BotApi
from bot.clock import Clock
from core.store import inbox
from core.store.columns import Json
from core.store.engine import Store
from core.store.leases import hold

log = logging.getLogger(__name__)

# Said on every call: left out, the server would keep whatever was asked for last.
ALLOWED_UPDATES = ("message", "edited_message", "callback_query", "my_chat_member")

POLL_S = 25
POLL_MARGIN_S = 15
BATCH = 100
LEASE = dt.timedelta(seconds=POLL_S + POLL_MARGIN_S + 20)
ANSWER_S = 5.0


def epoch_of(url: str, token: str) -> str:
    """Who counts update_id: this server, for this bot. Names no secret."""
    return hashlib.sha256(f"{url.rstrip('/')} {token.partition(':')[0]}".encode()).hexdigest()[:16]


class Receiver:
    """Polls, or takes what a webhook brings.

    :param arrived: rung when there is something new to handle.
    :param holder: this process; of several only one polls.
    """

    def __init__(
        self,
        store: Store,
        api: BotApi,
        *,
        epoch: str,
        holder: str,
        clock: Clock,
        machine: Clock,
        chance: random.Random,
        arrived: Bell,
    ) -> None:
        self._store = store
        self._api = api
        self._epoch = epoch
        self._holder = holder
        self._clock = clock
        self._machine = machine
        self._chance = chance
        self._arrived = arrived
        # The server remembers what is confirmed; ours may be of another epoch.
        self._offset: int | None = None
        self._troubles = 0
        self._answers: set[asyncio.Task[None]] = set()
        self.received = 0
        self.troubled_since: dt.datetime | None = None  # by the machine's clock
        self.answered_at: dt.datetime | None = None  # by the machine's clock

    async def poll_once(self, timeout_s: float = POLL_S) -> int:
        """Ask once, waiting up to ``timeout_s`` for news; how many updates were new. TelegramError as it comes."""
        parameters = {
            "offset": self._offset,
            "timeout": int(timeout_s),
            "limit": BATCH,
            "allowed_updates": ALLOWED_UPDATES,
        }
        updates = await self._api.call("getUpdates", parameters, read_timeout_s=timeout_s + POLL_MARGIN_S)
        self.answered_at = self._machine.now()
        if not isinstance(updates, list) or not updates:
            return 0
        new = await self.take(updates)
        numbers = [number for number in map(inbox.update_id_of, updates) if number is not None]
        if numbers:
            self._offset = numbers[-1] + 1  # of this batch: ids are not monotone for ever
        return new

    async def take(self, updates: Sequence[Json]) -> int:
        """Keep updates, however they came; how many were new. Committed when it returns."""
        async with self._store.begin() as tx:
            new = await inbox.store(tx, self._epoch, updates, at=self._clock.now())
        self.received += new
        if new:
            self._arrived.ring()
        self._answer_buttons(updates)
        return new

    async def forever(self, stopping: asyncio.Event) -> None:
        while not stopping.is_set():
            pause_s = await self._poll_and_judge(stopping)
            if pause_s:
                await _unless(stopping, asyncio.sleep(pause_s))
        await self.finish()

    async def finish(self) -> None:
        """Let the last answers to buttons go out."""
        if self._answers:
            await asyncio.wait(self._answers, timeout=ANSWER_S)

    async def _poll_and_judge(self, stopping: asyncio.Event) -> float:
        """Poll if it is our turn; how long to wait before the next time."""
        if not await self._is_our_turn():
            self._troubles, self.troubled_since = 0, None  # they are another's now
            return 5.0
        try:
            await _unless(stopping, self.poll_once())
        except TelegramError as error:
            self._troubles += 1
            self.troubled_since = self.troubled_since or self._machine.now()
            return self._seconds_after(error)
        self._troubles, self.troubled_since = 0, None
        return 0.0

    async def _is_our_turn(self) -> bool:
        async with self._store.begin() as tx:
            return await hold(tx, "receiver", self._holder, now=self._machine.now(), lasting=LEASE)

    def _seconds_after(self, error: TelegramError) -> float:
        match error:
            case RetryAfter():
                return cast("dt.timedelta", error.retry_after).total_seconds()
            case Conflict():
                log.error(
                    "Another program polls with this bot's token (409): each takes updates from the other. "
                    "Stop the other one, or give this one a bot of its own."
                )
                longest = dt.timedelta(minutes=1)
            case InvalidToken():
                log.error(
                    "The server does not know this bot's token (401 or 404): check KEPTWORD_BOT_TOKEN and "
                    "KEPTWORD_BOT_API_URL with 'keptword doctor'. Nothing is received until then."
                )
                longest = dt.timedelta(minutes=1)
            case _:
                log.warning("polling failed (%s), for the %s. time", type(error).__name__, self._troubles)
                longest = dt.timedelta(seconds=30)
        first = dt.timedelta(seconds=1)
        return backoff(self._troubles, self._chance, first=first, longest=longest).total_seconds()

    def _answer_buttons(self, updates: Sequence[Json]) -> None:
        """Take the waiting mark off a pressed button: at once, and as well as we can. Nothing depends on it."""
        for update in updates:
            query = update.get("callback_query") if isinstance(update, dict) else None
            number = query.get("id") if isinstance(query, dict) else None
            if isinstance(number, str):
                task = asyncio.create_task(self._answer(number))
                self._answers.add(task)
                task.add_done_callback(self._answers.discard)

    async def _answer(self, query_id: str) -> None:
        try:
            async with asyncio.timeout(ANSWER_S):
                await self._api.call("answerCallbackQuery", {"callback_query_id": query_id})
        except (TelegramError, TimeoutError) as error:
            log.debug("a button was not answered (%s)", type(error).__name__)


async def _unless(stopping: asyncio.Event, work: Coroutine[Any, Any, object]) -> None:
    """Do the work, but drop it when we are to stop. Errors of the work are raised."""
    doing = asyncio.create_task(work)
    waiting = asyncio.create_task(stopping.wait())
    await asyncio.wait({doing, waiting}, return_when=asyncio.FIRST_COMPLETED)
    waiting.cancel()
    if doing.done():
        doing.result()
    else:
        doing.cancel()
        await asyncio.wait({doing})
