"""A Bot API server of the tests' own, over real HTTP on loopback: it remembers what it was told, and can misbehave.

What it does like Telegram: getUpdates confirms what lies before ``offset`` and serves the rest again; a refused call was not
taken; a call whose answer was lost was. With ``enforce`` it refuses, as strictly as the published figures can be read, a
31st message within a second, and a second message within a second to one chat.
"""

import asyncio
import email.parser
import email.policy
import json
import time
import urllib.parse
from collections import Counter, deque
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass, field
from typing import Any

TOKEN = "7000000001:invented-token-of-nobody"  # noqa: S105 - of no real bot


@dataclass(frozen=True, slots=True)
class Answer:
    """How to treat one call: status and body, whether it counts as taken, and whether the answer is lost on the way."""

    status: int = 200
    body: str | None = None  # None: a proper result
    taken: bool = True
    lost: bool = False
    after_s: float = 0.0
    content: bytes | None = None  # of a file


def refused(status: int, description: str, **parameters: object) -> Answer:
    body = {"ok": False, "error_code": status, "description": description, "parameters": parameters}
    if not parameters:
        del body["parameters"]
    return Answer(status, json.dumps(body), taken=False)


TOO_MANY = refused(429, "Too Many Requests: retry after 3", retry_after=3)
BLOCKED = refused(403, "Forbidden: bot was blocked by the user")
LOST_ANSWER = Answer(lost=True)
BAD_GATEWAY = Answer(502, "<html>Bad Gateway</html>", taken=False)
JUNK = Answer(200, "<html>hello</html>")


@dataclass(slots=True)
class Call:
    method: str
    parameters: dict[str, Any]
    at: float  # monotonic seconds
    taken: bool
    message_id: int | None = None


@dataclass(slots=True)
class FakeApi:
    enforce: bool = False
    calls: list[Call] = field(default_factory=list)
    updates: list[dict[str, Any]] = field(default_factory=list)
    files: dict[str, bytes] = field(default_factory=dict)  # by file_id; fetched as 'getFile', then 'download'
    script: dict[str, deque[Answer]] = field(default_factory=dict)
    always: dict[str, Answer] = field(default_factory=dict)
    latency_s: float = 0.0
    port: int = 0
    on_taken: Callable[[Call], None] | None = None
    refusals: int = 0
    confirmed: int = 0
    date: str | None = None  # the Date header
    _recent: deque[float] = field(default_factory=deque)
    _chat_at: dict[str, float] = field(default_factory=dict)
    _news: asyncio.Event = field(default_factory=asyncio.Event)
    _next_message_id: int = 100

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def next(self, method: str, *answers: Answer) -> None:
        """Treat the next calls of this method so."""
        self.script.setdefault(method, deque()).extend(answers)

    def arrive(self, *updates: dict[str, Any]) -> None:
        self.updates.extend(updates)
        self._news.set()

    def taken(self, method: str = "sendMessage") -> list[Call]:
        return [call for call in self.calls if call.taken and call.method == method]

    def texts(self) -> list[str]:
        return [str(call.parameters.get("text")) for call in self.taken()]

    def times_taken(self) -> Counter[str]:
        return Counter(self.texts())

    async def answer(self, method: str, parameters: dict[str, Any]) -> Answer:
        if self.latency_s:
            await asyncio.sleep(self.latency_s)
        answer = self._scripted(method, parameters)
        call = Call(method, parameters, time.monotonic(), taken=answer.taken)
        if answer.taken and method.startswith(("send", "edit")):
            self._next_message_id += 1
            call.message_id = self._next_message_id
        self.calls.append(call)
        if self.on_taken and answer.taken:
            self.on_taken(call)
        if answer.body is not None or answer.lost:
            return answer
        if method == "getFile" and parameters.get("file_id") not in self.files:
            return refused(400, "Bad Request: invalid file_id")
        if method == "download":
            return Answer(content=self.files[parameters["file_id"]], after_s=answer.after_s)
        result = await self._result(method, parameters, call)
        return Answer(body=json.dumps({"ok": True, "result": result}), after_s=answer.after_s)

    def _scripted(self, method: str, parameters: dict[str, Any]) -> Answer:
        if self.script.get(method):
            return self.script[method].popleft()
        if method in self.always:
            return self.always[method]
        if self.enforce and method.startswith(("send", "edit")):
            return self._within_limits(str(parameters.get("chat_id")))
        return Answer()

    def _within_limits(self, chat: str) -> Answer:
        now = time.monotonic()
        while self._recent and self._recent[0] <= now - 1.0:
            self._recent.popleft()
        if len(self._recent) >= 30 or now - self._chat_at.get(chat, -9.0) < 1.0:
            self.refusals += 1
            return refused(429, "Too Many Requests: retry after 1", retry_after=1)
        self._recent.append(now)
        self._chat_at[chat] = now
        return Answer()

    async def _result(self, method: str, parameters: dict[str, Any], call: Call) -> object:
        if method == "getUpdates":
            return await self._get_updates(parameters)
        if method == "getMe":
            return {"id": 7000000001, "is_bot": True, "first_name": "Keptword", "username": "invented_bot"}
        if method == "getFile":
            number, content = parameters["file_id"], self.files[parameters["file_id"]]
            path = f"documents/{number}"
            return {"file_id": number, "file_unique_id": number, "file_size": len(content), "file_path": path}
        if call.message_id is not None:
            return {
                "message_id": call.message_id,
                "date": 0,
                "chat": {"id": int(parameters["chat_id"]), "type": "private"},
            }
        return True

    async def _get_updates(self, parameters: dict[str, Any]) -> list[dict[str, Any]]:
        if parameters.get("offset"):
            self.confirmed = max(self.confirmed, int(parameters["offset"]))
            self.updates = [
                update for update in self.updates if update.get("update_id", 0) >= int(parameters["offset"])
            ]
        if not self.updates:
            self._news.clear()
            with suppress(TimeoutError):
                async with asyncio.timeout(float(parameters.get("timeout", 0))):
                    await self._news.wait()
        return self.updates[: int(parameters.get("limit", 100))]


@asynccontextmanager
async def serving(api: FakeApi, port: int = 0) -> AsyncIterator[FakeApi]:
    connections: set[asyncio.Task[None]] = set()

    async def connected(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        assert task is not None
        connections.add(task)
        task.add_done_callback(connections.discard)
        with suppress(ConnectionError, asyncio.IncompleteReadError, asyncio.CancelledError):
            while await _exchange(api, reader, writer):
                pass
        writer.close()

    server = await asyncio.start_server(connected, "127.0.0.1", port)
    api.port = server.sockets[0].getsockname()[1]
    try:
        yield api
    finally:
        server.close()
        for task in connections:
            task.cancel()
        await asyncio.gather(*connections, return_exceptions=True)


async def _exchange(api: FakeApi, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> bool:
    """One request and its answer; whether the connection goes on."""
    head = (await reader.readuntil(b"\r\n\r\n")).decode("latin-1")
    request, *lines = head.strip().split("\r\n")
    headers = {name.lower(): value.strip() for name, _, value in (line.partition(":") for line in lines)}
    body = await reader.readexactly(int(headers.get("content-length", 0)))
    path = urllib.parse.unquote(urllib.parse.urlsplit(request.split()[1]).path)
    token, _, method = path.removeprefix("/file").removeprefix("/bot").partition("/")
    if token == TOKEN and path.startswith("/file/"):
        answer = await api.answer("download", {"file_id": method.removeprefix("documents/")})
    elif token == TOKEN:
        answer = await api.answer(method, _parameters(headers.get("content-type", ""), body))
    else:
        answer = refused(401, "Unauthorized")
    if answer.lost:
        return False
    if answer.after_s:
        await asyncio.sleep(answer.after_s)
    content = (answer.body or "").encode() if answer.content is None else answer.content
    date = f"Date: {api.date}\r\n" if api.date else ""
    writer.write(
        f"HTTP/1.1 {answer.status} X\r\n{date}Content-Length: {len(content)}\r\n\r\n".encode() + content
    )
    await writer.drain()
    return True


def _parameters(content_type: str, body: bytes) -> dict[str, Any]:
    if content_type.startswith("multipart/form-data"):
        message = email.parser.BytesParser(policy=email.policy.HTTP).parsebytes(
            f"Content-Type: {content_type}\r\n\r\n".encode() + body
        )
        return {
            str(part.get_param("name", header="content-disposition")): part.get_payload(decode=True)
            if part.get_filename()
            else str(part.get_content()).rstrip("\r\n")
            for part in message.iter_parts()
        }
    return dict(urllib.parse.parse_qsl(body.decode(), keep_blank_values=True))
