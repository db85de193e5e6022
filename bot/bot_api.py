"""The Bot API over HTTP: python-telegram-bot's client, spoken to in raw JSON.

Its parsing of updates and its queues are left alone: an update that it cannot parse would stop it, and what it has queued in
memory is lost with the process.
"""

import base64
import binascii
from collections.abc import Mapping
from typing import Any, cast

import httpx
from telegram import Bot, InputFile
from telegram.error import BadRequest
from telegram.request import HTTPXRequest

from core.store.columns import Json

DEFAULT_URL = "https://api.telegram.org"

# Most 'timeouts' of a send are slow successes, and each leaves a doubt: so wait long.
CONNECT_S, WRITE_S, READ_S, POOL_S = 5.0, 20.0, 30.0, 5.0
LONGEST_CALL_S = CONNECT_S + WRITE_S + READ_S + POOL_S


class TooLargeError(Exception):
    """A file has more bytes than are wanted."""


class BotApi(Bot):
    """The client of one server.

    :param url: of the server, without the token: Telegram's own, a self-hosted one, or the rehearsal's.
    :param transport: another way there than the network: a server in this very process.
    """

    __slots__ = ()

    def __init__(
        self, token: str, url: str = DEFAULT_URL, *, transport: httpx.AsyncBaseTransport | None = None
    ) -> None:
        root = url.rstrip("/")
        super().__init__(
            token,
            base_url=f"{root}/bot",
            base_file_url=f"{root}/file/bot",
            request=_request(connections=64, transport=transport),
            # A long poll that was cancelled may hold on to its connection for a while.
            get_updates_request=_request(connections=4, transport=transport),
        )

    async def open(self) -> None:
        """Connections only; nothing is asked yet."""
        for request in self._request:
            await request.initialize()

    async def close_connections(self) -> None:
        for request in self._request:
            await request.shutdown()

    async def call(
        self, method: str, parameters: Mapping[str, object] | None = None, *, read_timeout_s: float = READ_S
    ) -> Any:  # noqa: ANN401 - whatever the server says
        """The ``result`` of one call; telegram.error.TelegramError otherwise."""
        return await self._post(method, dict(parameters or {}), read_timeout=read_timeout_s)

    async def download(self, file_id: str, *, largest: int) -> bytes:
        """The content of a file that somebody sent, or TooLargeError; else TelegramError, as of any call."""
        try:
            found = await self.get_file(file_id)
        except BadRequest as error:
            if "too big" in error.message.lower():  # for any bot
                raise TooLargeError from error
            raise
        if (found.file_size or 0) > largest:
            raise TooLargeError
        content = bytes(await found.download_as_bytearray())
        if len(content) > largest:
            raise TooLargeError
        return content


def _request(*, connections: int, transport: httpx.AsyncBaseTransport | None) -> HTTPXRequest:
    return HTTPXRequest(
        connection_pool_size=connections,
        connect_timeout=CONNECT_S,
        read_timeout=READ_S,
        write_timeout=WRITE_S,
        pool_timeout=POOL_S,
        media_write_timeout=WRITE_S,
        httpx_kwargs={
            "trust_env": False,  # a proxy variable of the machine must not see the token
            **({"transport": transport} if transport is not None else {}),
        },
    )


def parameters_of(chat_id: int, payload: Mapping[str, Json]) -> dict[str, object]:
    """What to call a method with. ValueError where a file of the payload is malformed."""
    parameters: dict[str, object] = {name: value for name, value in payload.items() if name != "files"}
    parameters.setdefault("chat_id", chat_id)
    files = payload.get("files") or {}
    if not isinstance(files, dict):
        raise ValueError("files must map parameters to files")  # noqa: TRY004 - one error for every malformed payload
    for name, file in files.items():
        parameters[name] = _upload(file)
    return parameters


def _upload(file: Json) -> InputFile:
    try:
        described = cast("dict[str, str]", file)
        content = base64.b64decode(described["content"], validate=True)
        return InputFile(content, filename=described["name"])
    except (KeyError, TypeError, binascii.Error) as error:
        raise ValueError("a file needs a name and base64 content") from error
