"""Serving over HTTP inside a loop that has other work, and other plans for signals."""

import asyncio
import socket
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn
from starlette.applications import Starlette
from typing_extensions import override

from core.errors import Fault

LEAVE_S = 5  # for requests that are under way when we stop: who sends theirs slowly must not hold us up


async def serve_app(app: Starlette, host: str, port: int, stopping: asyncio.Event) -> None:
    """Until ``stopping`` is set. A Fault where nothing can listen there."""
    config = uvicorn.Config(
        app,
        log_config=None,
        access_log=False,
        lifespan="off",
        ws="none",
        timeout_graceful_shutdown=LEAVE_S,
    )
    server = _Server(config)
    with listening(host, port) as opened:
        serving = asyncio.create_task(server.serve(sockets=[opened]))
        told = asyncio.create_task(stopping.wait())
        await asyncio.wait({serving, told}, return_when=asyncio.FIRST_COMPLETED)
        server.should_exit = True
        told.cancel()
        await serving


class _Server(uvicorn.Server):
    """Uvicorn would take our signals, and raise them again once it has stopped: then nothing after it would run."""

    @override
    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield


@contextmanager
def listening(host: str, port: int) -> Iterator[socket.socket]:
    """A socket bound to that place."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as opened:
        opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            opened.bind((host, port))
        except OSError as error:
            raise Fault(
                f"Nothing can be served at {host}:{port} ({error.strerror}). Stop what listens there, "
                "or name another place in KEPTWORD_LISTEN."
            ) from error
        yield opened
