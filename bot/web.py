"""What we serve over HTTP: is it alive, is it ready, how the queues stand, and the webhook."""

import hmac
import json
import logging
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import dataclass
from urllib.parse import urlsplit

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import BaseRoute, Route

from bot.receiver import Receiver
from core.store.columns import Json

log = logging.getLogger(__name__)

LARGEST_UPDATE = 1_000_000  # bytes
SECRET_HEADER = "x-telegram-bot-api-secret-token"  # noqa: S105 - its name


@dataclass(frozen=True, slots=True, kw_only=True)
class Webhook:
    """:param url: where the server delivers; the path of it is ours."""

    url: str
    secret: str
    receiver: Receiver


@dataclass(frozen=True, slots=True, kw_only=True)
class Reports:
    """:param unready: what is missing before we are ready, a sentence each; empty when we are."""

    unready: Callable[[], Awaitable[Sequence[str]]]
    metrics: Callable[[], Awaitable[str]]


def make_app(reports: Reports, webhook: Webhook | None, routes: Sequence[BaseRoute] = ()) -> Starlette:
    """:param routes: of others, such as the calendar feed."""

    async def healthz(_request: Request) -> Response:
        return PlainTextResponse("alive\n")

    async def readyz(_request: Request) -> Response:
        missing = await reports.unready()
        return PlainTextResponse("\n".join(missing or ["ready"]) + "\n", 503 if missing else 200)

    async def metrics(_request: Request) -> Response:
        return PlainTextResponse(
            await reports.metrics(), media_type="text/plain; version=0.0.4; charset=utf-8"
        )

    ours: list[BaseRoute] = [Route("/healthz", healthz), Route("/readyz", readyz), Route("/metrics", metrics)]
    if webhook is not None:
        ours.append(Route(urlsplit(webhook.url).path, _Delivery(webhook).take, methods=["POST"]))
    return Starlette(routes=[*ours, *routes])


class _Delivery:
    """One update from the server: stored, committed, and only then acknowledged."""

    def __init__(self, webhook: Webhook) -> None:
        self._secret = webhook.secret.encode()
        self._receiver = webhook.receiver

    async def take(self, request: Request) -> Response:
        said = request.headers.get(SECRET_HEADER, "").encode("utf-8", "replace")
        if not hmac.compare_digest(said, self._secret):
            return PlainTextResponse("no\n", 403)
        body = await _limited_body(request)
        if body is None:
            return PlainTextResponse("too large\n", 413)
        try:
            await self._receiver.take([_parsed(body)])
        except Exception:
            log.exception("an update could not be stored; the server will bring it again")
            return PlainTextResponse("not stored\n", 503)
        return PlainTextResponse("stored\n")


async def _limited_body(request: Request) -> bytes | None:
    """The body, or None where it is larger than any update is."""
    body = b""
    async for chunk in request.stream():
        body += chunk
        if len(body) > LARGEST_UPDATE:
            return None
    return body


def _parsed(body: bytes) -> Json:
    """What is no JSON is kept all the same: it has no number, and is set aside."""
    try:
        update: Json = json.loads(body)
    except (ValueError, RecursionError):
        return {"malformed": body.decode("utf-8", "replace")}
    return update
