"""Serving inside a loop that has other work: it stops when it is told, whoever is still connected."""

import asyncio

import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from bot import listening


async def test_who_sends_slowly_does_not_hold_up_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(listening, "LEAVE_S", 0.05)
    reading, stopping = asyncio.Event(), asyncio.Event()

    async def take(request: Request) -> Response:
        reading.set()
        return PlainTextResponse(await request.body())

    with listening.listening("127.0.0.1", 0) as free:
        port = free.getsockname()[1]
    app = Starlette(routes=[Route("/", take, methods=["POST"])])
    async with asyncio.timeout(20), asyncio.TaskGroup() as tasks:
        serving = tasks.create_task(listening.serve_app(app, "127.0.0.1", port, stopping))
        writer = await _connected(port)
        writer.write(b"POST / HTTP/1.1\r\nHost: bot\r\nContent-Length: 10\r\n\r\nhalf")
        await reading.wait()
        stopping.set()
        await serving
        writer.close()


async def _connected(port: int) -> asyncio.StreamWriter:
    while True:
        try:
            _, writer = await asyncio.open_connection("127.0.0.1", port)
        except ConnectionRefusedError:  # it is not listening yet
            continue
        return writer
