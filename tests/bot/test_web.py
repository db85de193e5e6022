import json
from collections.abc import AsyncIterator, Sequence
from typing import Any

import httpx
import pytest
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from bot.web import LARGEST_UPDATE, Reports, Webhook, make_app
from tests.bot.queues import Queues, message

SECRET = {"X-Telegram-Bot-Api-Secret-Token": "3xkQ-9b_WmZ2"}
PATH = "/telegram/4mOFGv"


class Ready:
    def __init__(self) -> None:
        self.missing: list[str] = []

    async def unready(self) -> Sequence[str]:
        return self.missing

    async def metrics(self) -> str:
        return "keptword_to_handle 0\n"


@pytest.fixture
def ready() -> Ready:
    return Ready()


@pytest.fixture
async def web(queues: Queues, ready: Ready) -> AsyncIterator[httpx.AsyncClient]:
    async def feed(_request: Request) -> Response:
        return PlainTextResponse("BEGIN:VCALENDAR")

    webhook = Webhook(url=f"https://bot.example.org{PATH}", secret="3xkQ-9b_WmZ2", receiver=queues.receiver)  # noqa: S106
    app = make_app(
        Reports(unready=ready.unready, metrics=ready.metrics), webhook, [Route("/calendar/{token}.ics", feed)]
    )
    async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://bot") as client:
        yield client


async def test_a_delivered_update_is_stored_before_it_is_acknowledged(
    web: httpx.AsyncClient, queues: Queues
) -> None:
    answer = await web.post(PATH, headers=SECRET, content=json.dumps(message(1)))
    assert answer.status_code == 200
    assert await queues.inbox_states() == ["waiting"]
    await web.post(PATH, headers=SECRET, content=json.dumps(message(1)))
    assert await queues.inbox_states() == ["waiting"]


async def test_what_cannot_be_stored_is_not_acknowledged(
    web: httpx.AsyncClient, queues: Queues, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken() -> None:
        raise OSError("no room on the disk")

    monkeypatch.setattr(queues.store, "begin", broken)
    assert (await web.post(PATH, headers=SECRET, content=json.dumps(message(1)))).status_code == 503


@pytest.mark.parametrize("headers", [{}, {"X-Telegram-Bot-Api-Secret-Token": "3xkQ-9b_WmZ3"}])
async def test_without_the_secret_nothing_is_stored_nor_explained(
    web: httpx.AsyncClient, queues: Queues, headers: dict[str, str]
) -> None:
    answer = await web.post(PATH, headers=headers, content=json.dumps(message(1)))
    assert (answer.status_code, answer.text) == (403, "no\n")
    assert await queues.inbox_states() == []


async def test_more_than_any_update_holds_is_refused(web: httpx.AsyncClient, queues: Queues) -> None:
    answer = await web.post(PATH, headers=SECRET, content=b" " * (LARGEST_UPDATE + 1))
    assert answer.status_code == 413
    assert await queues.inbox_states() == []


@pytest.mark.parametrize("body", [b"", b"{", b"[1, 2]", b"\xff\xfe", b"null"])
async def test_what_is_no_update_is_set_aside_and_not_asked_for_again(
    web: httpx.AsyncClient, queues: Queues, body: bytes
) -> None:
    answer = await web.post(PATH, headers=SECRET, content=body)
    assert answer.status_code == 200
    assert await queues.inbox_states() == ["dead"]


async def test_readiness_says_what_is_missing(web: httpx.AsyncClient, ready: Ready) -> None:
    assert (await web.get("/healthz")).status_code == 200
    assert (await web.get("/readyz")).status_code == 200
    ready.missing = ["the database does not answer"]
    answer = await web.get("/readyz")
    assert (answer.status_code, answer.text) == (503, "the database does not answer\n")


async def test_others_can_serve_here_too(web: httpx.AsyncClient) -> None:
    assert (await web.get("/calendar/abc.ics")).text == "BEGIN:VCALENDAR"
    assert (await web.get("/metrics")).headers["content-type"].startswith("text/plain; version=0.0.4")
    assert (await web.get(PATH)).status_code == 405


async def test_nothing_else_is_there(web: httpx.AsyncClient) -> None:
    answers: list[Any] = [await web.get(path) for path in ("/", "/docs", "/telegram/guess")]
    assert [answer.status_code for answer in answers] == [404, 404, 404]
