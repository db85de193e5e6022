"""The page of a rehearsal in a real Chromium, with the bot's words put in by hand."""

import datetime as dt
import os
import shutil
from collections.abc import AsyncIterator
from dataclasses import dataclass, field

import httpx
import pytest
import pytest_asyncio
from playwright.async_api import Browser, BrowserContext, Page, async_playwright

from bot.clock import ManualClock
from bot.rehearsal.app import make_app
from bot.rehearsal.botapi.api import BotApi, make_api
from bot.rehearsal.botapi.limits import Limits
from bot.rehearsal.phone import Phone
from bot.rehearsal.serve import LocalServer
from bot.rehearsal.stage import Someone
from tests.quiet_stage import QuietStage

MONDAY = dt.datetime(2026, 3, 2, 7, 30, tzinfo=dt.UTC)
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
)
MISSING = "Browser tests LEFT OUT: there is no Chromium here; 'apt-get install chromium', or your system's like, brings one."


def chromium() -> str:
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found:
        return found
    if os.environ.get("CI") == "true":  # noqa: TID251 - of the machine that runs the tests
        pytest.fail(MISSING)
    pytest.skip(MISSING)


@pytest_asyncio.fixture(scope="session", loop_scope="session")
async def browser() -> AsyncIterator[Browser]:
    path = chromium()
    async with async_playwright() as playwright:
        started = await playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        yield started
        await started.close()


@dataclass
class Scene:
    """A rehearsal with a coach and two clients, and what the bot says there."""

    api: BotApi
    stage: QuietStage
    url: str
    marta: Someone
    ines: Someone
    tomas: Someone
    complaints: list[str] = field(default_factory=list)

    def phone(self, of: Someone) -> Phone:
        return Phone(self.api.world, self.api.world.people[of.chat])

    async def bot(self, method: str, **given: object) -> object:
        """Call the Bot API as the bot would."""
        async with httpx.AsyncClient(trust_env=False) as client:
            answer = (await client.post(f"{self.url}/bot{self.api.world.token}/{method}", json=given)).json()
        assert answer["ok"], answer
        return answer["result"]

    async def say(self, to: Someone, text: str, *buttons: str) -> int:
        """The number of a new message with one row of buttons."""
        row = [{"text": label, "callback_data": label.lower()} for label in buttons]
        sent = await self.bot(
            "sendMessage",
            chat_id=to.chat,
            text=text,
            parse_mode="HTML",
            reply_markup={"inline_keyboard": [row]} if row else {},
        )
        assert isinstance(sent, dict)
        return int(sent["message_id"])

    def taps(self) -> list[tuple[str, str]]:
        """What the bot got and has not confirmed: (kind, words or data)."""
        got = []
        for update in self.api.world.updates.batch(100):
            if "callback_query" in update:
                got.append(("tap", update["callback_query"]["data"]))
            elif "edited_message" in update:
                got.append(("edit", update["edited_message"]["text"]))
            elif "message" in update:
                got.append(("message", update["message"].get("text", "")))
        return got


@pytest_asyncio.fixture(loop_scope="session")
async def scene() -> AsyncIterator[Scene]:
    clock = ManualClock(MONDAY)
    api = make_api(clock, limits=Limits(clock, on=False))
    stage = QuietStage(api.world, clock)
    marta = stage.add("Marta Oliveira", "coach", "Europe/Lisbon")
    ines = stage.add("Ines Duarte", "client", "Asia/Singapore", note="on tour until 14 March")
    tomas = stage.add("Tomas Berg", "client", "Atlantic/Reykjavik")
    async with LocalServer(make_app(api, stage)) as server:
        made = Scene(api, stage, server.url, marta, ines, tomas)
        for someone in (marta, ines):
            made.phone(someone).start()
        api.world.updates.clear()
        yield made
        await api.close()


async def open_page(context: BrowserContext, scene: Scene) -> Page:
    """Open the page, note whatever it complains of, and wait until both phones show something."""
    context.set_default_timeout(5000)
    page = await context.new_page()
    page.on(
        "console",
        lambda line: scene.complaints.append(line.text) if line.type in ("error", "warning") else None,
    )
    page.on("pageerror", lambda error: scene.complaints.append(str(error)))
    page.on(
        "request",
        lambda r: None if r.url.startswith(scene.url) else scene.complaints.append(f"asked {r.url}"),
    )
    await page.goto(scene.url)
    await page.locator(".message").first.wait_for(state="attached")
    return page


@pytest_asyncio.fixture(loop_scope="session")
async def page(browser: Browser, scene: Scene) -> AsyncIterator[Page]:
    """A wide window."""
    context = await browser.new_context(viewport={"width": 1280, "height": 800})
    yield await open_page(context, scene)
    await context.close()
    assert scene.complaints == []


@pytest_asyncio.fixture(loop_scope="session")
async def small(browser: Browser, scene: Scene) -> AsyncIterator[Page]:
    """A phone-sized window that is touched."""
    context = await browser.new_context(viewport={"width": 360, "height": 740}, has_touch=True)
    yield await open_page(context, scene)
    await context.close()
    assert scene.complaints == []
