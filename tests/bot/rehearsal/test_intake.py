"""How updates reach the bot: asked for, or posted."""

import asyncio
import datetime as dt
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from typing import Any

import httpx
import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from telegram import Bot
from telegram.error import BadRequest, Conflict

from bot.clock import ManualClock
from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.phone import Phone
from bot.rehearsal.serve import LocalServer

SECRET = "shown-to-nobody-else"  # noqa: S105 - of this test


def texts(updates: list[dict[str, Any]]) -> list[str]:
    return [update["message"]["text"] for update in updates]


async def ask(raw: httpx.AsyncClient, **wanted: object) -> list[dict[str, Any]]:
    answer = (await raw.post("/getUpdates", json=wanted)).json()
    assert answer["ok"], answer
    result: list[dict[str, Any]] = answer["result"]
    return result


async def test_an_update_stays_until_a_higher_offset_confirms_it(raw: httpx.AsyncClient, ines: Phone) -> None:
    for word in ("one", "two", "three"):
        ines.send(word)
    first = await ask(raw)
    assert texts(first) == ["one", "two", "three"]
    assert texts(await ask(raw, offset=first[0]["update_id"])) == ["one", "two", "three"]
    assert texts(await ask(raw, offset=first[1]["update_id"])) == ["two", "three"]
    assert texts(await ask(raw)) == ["two", "three"]
    assert await ask(raw, offset=first[2]["update_id"] + 1) == []
    assert await ask(raw) == []


async def test_ids_rise_by_one_and_the_limit_holds(raw: httpx.AsyncClient, ines: Phone) -> None:
    for number in range(120):
        ines.send(str(number))
    batch = await ask(raw)
    assert len(batch) == 100
    assert [u["update_id"] - batch[0]["update_id"] for u in batch] == list(range(100))
    assert texts(await ask(raw, limit=2)) == ["0", "1"]
    assert texts(await ask(raw, offset=-1)) == ["119"]
    assert texts(await ask(raw)) == ["119"]


async def test_a_long_poll_ends_with_the_first_word(raw: httpx.AsyncClient, ines: Phone) -> None:
    waiting = asyncio.create_task(ask(raw, timeout=20))
    await raw.post("/getMe")
    assert not waiting.done()
    ines.send("here")
    async with asyncio.timeout(5):
        assert texts(await waiting) == ["here"]


async def test_a_long_poll_ends_empty_after_its_time(raw: httpx.AsyncClient) -> None:
    async with asyncio.timeout(5):
        assert await ask(raw, timeout=0.2) == []


async def test_the_later_of_two_pollers_wins(api: BotApi, raw: httpx.AsyncClient, ines: Phone) -> None:
    first = asyncio.create_task(raw.post("/getUpdates", json={"timeout": 20}))
    while api.world.updates._poller is None:
        await raw.post("/getMe")
    second = asyncio.create_task(ask(raw, timeout=20))
    ended = (await first).json()
    assert ended["error_code"] == 409
    assert ended["description"].startswith("Conflict: terminated by other getUpdates request")
    ines.send("still here")
    assert texts(await second) == ["still here"]


async def test_allowed_updates_are_remembered(raw: httpx.AsyncClient, ines: Phone) -> None:
    await ask(raw, allowed_updates=["message"])
    ines.block()
    ines.unblock()
    ines.send("kept")
    assert [min(u) for u in await ask(raw)] == ["message"]
    await ask(raw, allowed_updates=["my_chat_member"])
    ines.send("left out")
    ines.block()
    assert [set(u) - {"update_id"} for u in await ask(raw)] == [{"message"}, {"my_chat_member"}]


async def test_updates_are_kept_for_a_day(raw: httpx.AsyncClient, ines: Phone, clock: ManualClock) -> None:
    ines.send("yesterday")
    clock.advance(dt.timedelta(hours=23))
    ines.send("today")
    clock.advance(dt.timedelta(hours=2))
    assert texts(await ask(raw)) == ["today"]


# The webhook


@dataclass
class Receiver:
    """A bot's own address, which answers as it is told."""

    answers: list[int] = field(default_factory=list)
    got: list[tuple[str, str | None]] = field(default_factory=list)
    arrived: asyncio.Event = field(default_factory=asyncio.Event)

    async def take(self, request: Request) -> Response:
        update = await request.json()
        self.got.append((update["message"]["text"], request.headers.get("x-telegram-bot-api-secret-token")))
        self.arrived.set()
        return Response(status_code=self.answers.pop(0) if self.answers else 200)

    async def wait(self, count: int) -> None:
        async with asyncio.timeout(5):
            while len(self.got) < count:
                self.arrived.clear()
                await self.arrived.wait()


@asynccontextmanager
async def receiving(receiver: Receiver) -> AsyncIterator[str]:
    async with LocalServer(Starlette(routes=[Route("/hook", receiver.take, methods=["POST"])])) as server:
        yield f"{server.url}/hook"


async def test_a_webhook_is_posted_to_with_the_secret_until_it_takes(
    bot: Bot, api: BotApi, ines: Phone
) -> None:
    receiver = Receiver(answers=[500, 503])
    async with receiving(receiver) as url:
        assert await bot.set_webhook(url, secret_token=SECRET, allowed_updates=["message"])
        ines.send("one")
        ines.send("two")
        await receiver.wait(4)
        assert receiver.got == [("one", SECRET)] * 3 + [("two", SECRET)]
        info = await bot.get_webhook_info()
        assert (info.url, info.max_connections) == (url, 40)
        assert info.last_error_message == "Wrong response from the webhook: 503 Service Unavailable"
        await bot.delete_webhook()
    assert (await bot.get_webhook_info()).url == ""
    assert api.world.updates.count == 0


async def test_a_webhook_that_is_away_gets_it_all_later(bot: Bot, ines: Phone) -> None:
    await bot.set_webhook("http://127.0.0.1:9/hook")
    ines.send("kept")
    receiver = Receiver()
    async with receiving(receiver) as url:
        await bot.set_webhook(url)
        await receiver.wait(1)
        await bot.delete_webhook()
    assert receiver.got == [("kept", None)]


async def test_asking_is_refused_while_a_webhook_is_set(bot: Bot) -> None:
    await bot.set_webhook("http://127.0.0.1:9/hook")
    with pytest.raises(Conflict, match="can't use getUpdates method while webhook is active"):
        await bot.get_updates()
    await bot.delete_webhook(drop_pending_updates=True)
    assert await bot.get_updates() == ()


async def test_setting_a_webhook_ends_a_poll(api: BotApi, raw: httpx.AsyncClient) -> None:
    waiting = asyncio.create_task(raw.post("/getUpdates", json={"timeout": 20}))
    while api.world.updates._poller is None:
        await raw.post("/getMe")
    await raw.post("/setWebhook", json={"url": "http://127.0.0.1:9/hook"})
    assert (await waiting).json()["description"] == "Conflict: terminated by setWebhook request"


async def test_bad_webhooks_are_refused(bot: Bot) -> None:
    with pytest.raises(BadRequest, match=r"(?i)an https url must be provided"):
        await bot.set_webhook("http://example.org/hook")
    with pytest.raises(BadRequest, match="Secret token contains unallowed characters"):
        await bot.set_webhook("https://example.org/hook", secret_token=f"{SECRET} and spaces")
