"""Serves an application on loopback inside a running event loop."""

import asyncio
import contextlib
import socket
from collections.abc import Iterator, MutableMapping
from types import TracebackType
from typing import Any, Self

import uvicorn
from starlette.applications import Starlette
from typing_extensions import override

from core.errors import Fault

HOST = "127.0.0.1"


class _Server(uvicorn.Server):
    """A server that leaves signals to whoever runs the loop, and says when it is up."""

    def __init__(self, config: uvicorn.Config) -> None:
        super().__init__(config)
        self.up = asyncio.Event()

    @override
    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        self.up.set()

    @override
    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield

    def hang_up(self, scope: MutableMapping[str, Any]) -> None:
        """Drop the connection of a request without a word."""
        for connection in list(self.server_state.connections):
            if getattr(connection, "client", None) == tuple(scope["client"]):
                connection.transport.abort()


class LocalServer:
    """``async with LocalServer(app) as server:`` serves it at ``server.url``; port 0 takes any free one."""

    def __init__(self, app: Starlette, *, port: int = 0) -> None:
        self._app = app
        self._port = port
        self._task: asyncio.Task[None] | None = None

    async def __aenter__(self) -> Self:
        listening = _listen(self._port)
        self.url = f"http://{HOST}:{listening.getsockname()[1]}"
        config = uvicorn.Config(
            self._app,
            log_level="warning",
            lifespan="off",
            ws="none",
            access_log=False,
            timeout_graceful_shutdown=2,
        )
        self._server = _Server(config)
        self._app.state.hang_up = self._server.hang_up
        self._task = asyncio.create_task(self._server.serve(sockets=[listening]), name="local server")
        await self._server.up.wait()
        return self

    async def __aexit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        for connection in list(self._server.server_state.connections):
            connection.transport.close()  # nobody is waited for
        self._server.should_exit = True
        if self._task is not None:
            await self._task


def _listen(port: int) -> socket.socket:
    # Naming the protocol lets asyncio switch Nagle's delay off, which costs 40 ms a request.
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
        listening.listen(128)
    except OSError as error:
        listening.close()
        raise Fault(f"Port {port} cannot be used ({error.strerror}): choose another with --port.") from None
    return listening
