"""Updates that wait for the bot: kept until confirmed, at most a day, served to one poller or one webhook."""

import asyncio
import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass

from bot.clock import Clock
from bot.rehearsal.botapi.errors import conflict
from bot.rehearsal.botapi.models import Json

KEPT_FOR = dt.timedelta(hours=24)
ONLY_IF_NAMED = frozenset({"chat_member", "message_reaction", "message_reaction_count"})
OTHER_POLLER = "terminated by other getUpdates request; make sure that only one bot instance is running"
WEBHOOK_SET = "terminated by setWebhook request"


@dataclass(frozen=True, slots=True)
class _Waiting:
    update: Json
    since: dt.datetime

    @property
    def id(self) -> int:
        return int(self.update["update_id"])


class Updates:
    """The queue of one bot.

    ``allowed`` is remembered from call to call and applied when an update arises, so what was left out is lost, as on Telegram.
    """

    def __init__(self, clock: Clock, *, first_id: int = 700_000_001) -> None:
        self.allowed: frozenset[str] = frozenset()
        self._clock = clock
        self.next_id = first_id
        self._waiting: list[_Waiting] = []
        self._poller: asyncio.Future[None] | None = None
        self._arrived = asyncio.Event()

    def put(self, kind: str, content: Json) -> int | None:
        """Queue an update and return its id, or None where the bot does not want its kind."""
        if (self.allowed and kind not in self.allowed) or (not self.allowed and kind in ONLY_IF_NAMED):
            return None
        number = self.next_id
        self.next_id += 1
        update: Json = {"update_id": number, kind: content}
        self._waiting.append(_Waiting(update, self._clock.now()))
        self.wake()
        return number

    def allow(self, kinds: Collection[str] | None) -> None:
        """Take over which kinds the bot wants; None leaves it as it was, nothing named means the usual ones."""
        if kinds is not None:
            self.allowed = frozenset(kinds)

    def batch(self, limit: int) -> list[Json]:
        """The oldest updates not yet confirmed."""
        horizon = self._clock.now() - KEPT_FOR
        self._waiting = [waiting for waiting in self._waiting if waiting.since >= horizon]
        return [waiting.update for waiting in self._waiting[:limit]]

    def confirm_before(self, offset: int) -> None:
        """Forget what is older than the offset; a negative one keeps so many from the end."""
        if offset < 0:
            self._waiting = self._waiting[offset:]
            return
        self._waiting = [waiting for waiting in self._waiting if waiting.id >= offset]

    def clear(self) -> None:
        self._waiting.clear()

    @property
    def count(self) -> int:
        return len(self._waiting)

    async def poll(self, *, limit: int, seconds: float) -> list[Json]:
        """A batch at once where there is one, else as soon as something arrives, else nothing after so many seconds."""
        self.interrupt(OTHER_POLLER)
        if not self.batch(limit) and seconds > 0:
            await self._wait(seconds)
        return self.batch(limit)

    async def arrived(self) -> None:
        """Wait until there is something (for a webhook)."""
        while not self.batch(1):
            self._arrived.clear()
            await self._arrived.wait()

    def interrupt(self, why: str) -> None:
        """End a poll that is under way with 409."""
        if self._poller is not None and not self._poller.done():
            self._poller.set_exception(conflict(why))

    def wake(self) -> None:
        """Let whoever waits look again."""
        self._arrived.set()
        if self._poller is not None and not self._poller.done():
            self._poller.set_result(None)

    async def _wait(self, seconds: float) -> None:
        poller: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        self._poller = poller
        try:
            async with asyncio.timeout(seconds):
                await poller
        except TimeoutError:
            pass
        finally:
            if self._poller is poller:
                self._poller = None
