"""A local Bot API server over real HTTP, the bot's own client library, and a phone."""

import datetime as dt
import os
from collections.abc import AsyncIterator, Callable

import httpx
import pytest
from starlette.applications import Starlette

from bot.clock import ManualClock
from bot.rehearsal.botapi.api import BotApi, make_api
from bot.rehearsal.botapi.limits import Limits
from bot.rehearsal.botapi.server import bot_api_routes
from bot.rehearsal.phone import Phone
from bot.rehearsal.serve import LocalServer

os.environ.setdefault("PTB_TIMEDELTA", "1")  # noqa: TID251 - before the library is read

from telegram import Bot
from telegram.request import HTTPXRequest

MONDAY = dt.datetime(2026, 3, 2, 7, 30, tzinfo=dt.UTC)


@pytest.fixture
def clock() -> ManualClock:
    return ManualClock(MONDAY)


@pytest.fixture
async def api(clock: ManualClock) -> AsyncIterator[BotApi]:
    made = make_api(clock, limits=Limits(clock))
    yield made
    await made.close()


@pytest.fixture
async def address(api: BotApi) -> AsyncIterator[str]:
    async with LocalServer(Starlette(routes=bot_api_routes(api))) as server:
        yield server.url
        await api.close()


def _request() -> HTTPXRequest:
    return HTTPXRequest(connect_timeout=2.0, read_timeout=2.0, httpx_kwargs={"trust_env": False})


def _bot(address: str, token: str) -> Bot:
    return Bot(
        token,
        base_url=f"{address}/bot",
        base_file_url=f"{address}/file/bot",
        request=_request(),
        get_updates_request=_request(),
    )


@pytest.fixture
def make_bot() -> Callable[[str, str], Bot]:
    """The library's own client for a server's address and a token."""
    return _bot


@pytest.fixture
async def bot(api: BotApi, address: str) -> AsyncIterator[Bot]:
    async with _bot(address, api.world.token) as made:
        yield made


@pytest.fixture
async def raw(api: BotApi, address: str) -> AsyncIterator[httpx.AsyncClient]:
    """Calls without any library: ``await raw.post("/getMe")``."""
    async with httpx.AsyncClient(base_url=f"{address}/bot{api.world.token}", trust_env=False) as client:
        yield client


@pytest.fixture
def ines(api: BotApi) -> Phone:
    """The phone of a rigger on tour, who has pressed start."""
    phone = Phone(api.world, api.world.add_person("Ines", last_name="Duarte"))
    phone.start()
    api.world.updates.clear()
    return phone
