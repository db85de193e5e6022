"""Posts updates to the bot's own address, one after the other, again and again until they are taken."""

import asyncio
import contextlib
from dataclasses import dataclass, field

import httpx

from bot.clock import Clock
from bot.rehearsal.botapi import shapes
from bot.rehearsal.botapi.models import Json
from bot.rehearsal.botapi.queue import WEBHOOK_SET, Updates

SECRET_HEADER = "X-Telegram-Bot-Api-Secret-Token"  # noqa: S105 - the header's name
PATIENCE = 10.0  # seconds for one answer


@dataclass(slots=True, kw_only=True)
class Hook:
    url: str
    secret: str = ""
    connections: int = 40
    last_error: Json = field(default_factory=dict)


class Webhook:
    """At most one hook at a time. After a refusal it waits ``first_wait`` seconds, then twice as long, up to ``longest_wait``."""

    def __init__(
        self, updates: Updates, clock: Clock, *, first_wait: float = 0.1, longest_wait: float = 5.0
    ) -> None:
        self.hook: Hook | None = None
        self._updates = updates
        self._clock = clock
        self._first_wait, self._longest_wait = first_wait, longest_wait
        self._task: asyncio.Task[None] | None = None

    async def set(self, hook: Hook) -> None:
        await self.remove()
        self._updates.interrupt(WEBHOOK_SET)
        self.hook = hook
        self._task = asyncio.create_task(self._forever(hook), name="webhook")

    async def remove(self) -> None:
        self.hook = None
        task, self._task = self._task, None
        if task is not None:
            task.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await task

    async def _forever(self, hook: Hook) -> None:
        async with httpx.AsyncClient(trust_env=False, timeout=PATIENCE) as client:
            wait = self._first_wait
            while True:
                await self._updates.arrived()
                if await self._deliver(client, hook):
                    wait = self._first_wait
                else:
                    await asyncio.sleep(wait)
                    wait = min(wait * 2, self._longest_wait)

    async def _deliver(self, client: httpx.AsyncClient, hook: Hook) -> bool:
        """Post the oldest update; whether it was taken."""
        update = self._updates.batch(1)[0]
        headers = {SECRET_HEADER: hook.secret} if hook.secret else {}
        try:
            answer = await client.post(hook.url, json=update, headers=headers)
        except httpx.HTTPError as error:
            return self._failed(hook, f"Connection failed: {type(error).__name__}")
        if not answer.is_success:
            return self._failed(
                hook, f"Wrong response from the webhook: {answer.status_code} {answer.reason_phrase}"
            )
        self._updates.confirm_before(int(update["update_id"]) + 1)
        return True

    def _failed(self, hook: Hook, why: str) -> bool:
        hook.last_error = {"last_error_date": shapes.seconds(self._clock.now()), "last_error_message": why}
        return False

    def json(self) -> Json:
        """WebhookInfo."""
        common = {"has_custom_certificate": False, "pending_update_count": self._updates.count}
        if self.hook is None:
            return {"url": ""} | common
        return (
            {"url": self.hook.url, "max_connections": self.hook.connections} | common | self.hook.last_error
        )
