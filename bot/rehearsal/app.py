"""The one application of a rehearsal: the Bot API, the page with the phones, and what the page asks for."""

import datetime as dt
import zoneinfo
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel, ValidationError
from starlette.applications import Starlette
from starlette.datastructures import UploadFile
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.staticfiles import StaticFiles

from bot.rehearsal import views
from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.server import bot_api_routes
from bot.rehearsal.forms import (
    Blocking,
    Correction,
    Group,
    Newcomer,
    Planned,
    Playing,
    Start,
    Step,
    Sticker,
    Tap,
    Whereabouts,
    Words,
)
from bot.rehearsal.phone import Phone
from bot.rehearsal.places import BY_NAME, CITIES
from bot.rehearsal.stage import Stage
from core.errors import Refused

PAGE = Path(__file__).parent / "page"
LONGEST_WAIT = 20.0  # seconds that the page waits for news
POLICY = (
    "default-src 'self'; img-src 'self' data:; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)

Body = TypeVar("Body", bound=BaseModel)


def make_app(api: BotApi, stage: Stage) -> Starlette:
    """Everything on one address; serve it on loopback only."""
    desk = Desk(api, stage)
    return Starlette(
        routes=[*bot_api_routes(api), *desk.routes()],
        middleware=[Middleware(TrustedHostMiddleware, allowed_hosts=["127.0.0.1", "localhost"])],
        exception_handlers={Refused: _refused},
    )


class Desk:
    """What the page asks for, and what people do on it."""

    def __init__(self, api: BotApi, stage: Stage) -> None:
        self._api = api
        self._world = api.world
        self._stage = stage
        self._moving = False

    def routes(self) -> list[BaseRoute]:
        post = [
            ("/phones/{chat:int}/text", self.text),
            ("/phones/{chat:int}/start", self.start),
            ("/phones/{chat:int}/press", self.press),
            ("/phones/{chat:int}/edit", self.edit),
            ("/phones/{chat:int}/location", self.location),
            ("/phones/{chat:int}/file", self.file),
            ("/phones/{chat:int}/sticker", self.sticker),
            ("/phones/{chat:int}/block", self.block),
            ("/phones/{chat:int}/group", self.group),
            ("/stage/next", self.next_event),
            ("/stage/advance", self.advance),
            ("/stage/play", self.play),
            ("/stage/people", self.welcome),
            ("/trouble", self.trouble),
        ]
        return [
            Route("/", self.page, methods=["GET"]),
            Mount("/page", StaticFiles(directory=PAGE)),
            Route("/changes", self.changes, methods=["GET"]),
            Route("/places", self.places, methods=["GET"]),
            Route("/files/{file_id}", self.stored, methods=["GET"]),
            Route("/phones/{chat:int}/earlier", self.earlier, methods=["GET"]),
            *[Route(path, _from_this_page(act), methods=["POST"]) for path, act in post],
        ]

    # Looking

    async def page(self, request: Request) -> Response:  # noqa: ARG002
        headers = {
            "Content-Security-Policy": POLICY,
            "Referrer-Policy": "no-referrer",
            "Cache-Control": "no-cache",
        }
        return FileResponse(PAGE / "index.html", headers=headers)

    async def changes(self, request: Request) -> Response:
        """What is new since a revision on the phones that are shown; waits for it, so that the page can ask again at once."""
        since = _whole(request, "since") or 0
        chats = {chat for chat in self._world.chats if str(chat) in request.query_params.getlist("chat")}
        self._stage.look_at(chats)
        revision = await self._world.changes.after(since or -1, seconds=LONGEST_WAIT)
        return JSONResponse(
            {
                "revision": revision,
                "clock": {
                    "playing": self._stage.playing(),
                    "moving": self._moving,
                    "story": self._stage.story(),
                },
                "people": [views.someone(person, self._stage) for person in self._stage.people()],
                "phones": {
                    chat: views.phone(self._world, self._stage, chat, since=since) for chat in sorted(chats)
                },
            }
        )

    async def earlier(self, request: Request) -> Response:
        before = _whole(request, "before") or 0
        return JSONResponse(
            views.earlier(self._world, self._stage, self._phone(request).chat.id, before=before)
        )

    async def places(self, request: Request) -> Response:  # noqa: ARG002
        return JSONResponse([{"name": city.name, "zone": city.zone} for city in CITIES])

    async def stored(self, request: Request) -> Response:
        stored = self._world.files.get(request.path_params["file_id"])
        if stored is None:
            return JSONResponse({"error": "That file is not here."}, status_code=404)
        headers = {
            "Cache-Control": "max-age=86400",
            "X-Content-Type-Options": "nosniff",
            "Content-Security-Policy": "sandbox",
        }
        return Response(stored.content, media_type=stored.mime, headers=headers)

    # On a phone

    async def text(self, request: Request) -> None:
        words = await _read(request, Words)
        self._phone(request).send(words.text, reply_to=words.reply_to)

    async def start(self, request: Request) -> None:
        self._phone(request).start((await _read(request, Start)).payload)

    async def press(self, request: Request) -> None:
        tap = await _read(request, Tap)
        self._phone(request).press(tap.message, tap.data)

    async def edit(self, request: Request) -> None:
        correction = await _read(request, Correction)
        self._phone(request).edit(correction.message, correction.text)

    async def location(self, request: Request) -> None:
        where = await _read(request, Whereabouts)
        if where.place not in BY_NAME:
            raise Refused("Choose one of the cities in the list.")
        spot = BY_NAME[where.place].spot
        self._phone(request).send_location(spot.latitude, spot.longitude, reply_to=where.reply_to)

    async def file(self, request: Request) -> None:
        phone = self._phone(request)
        async with request.form() as form:
            part, caption = form.get("file"), str(form.get("caption", ""))
            if not isinstance(part, UploadFile):
                raise Refused("Choose a file first.")
            content, name, mime = await part.read(), part.filename or "file", part.content_type or ""
        _send_file(phone, content, name, mime, caption, _whole(request, "reply_to"))

    async def sticker(self, request: Request) -> None:
        self._phone(request).send_sticker((await _read(request, Sticker)).emoji)

    async def group(self, request: Request) -> int:
        """Add the bot to a new group of this person's."""
        return self._phone(request).add_bot_to_group((await _read(request, Group)).title).chat.id

    async def block(self, request: Request) -> None:
        phone = self._phone(request)
        if (await _read(request, Blocking)).blocked:
            phone.block()
        else:
            phone.unblock()

    # The clock and the people

    async def next_event(self, request: Request) -> str:  # noqa: ARG002
        return await self._move(self._stage.next_event)

    async def advance(self, request: Request) -> str:
        step = await _read(request, Step)
        return await self._move(lambda: self._stage.advance(dt.timedelta(hours=step.hours)))

    async def play(self, request: Request) -> None:
        self._stage.play((await _read(request, Playing)).on)
        self._world.changes.mark()

    async def welcome(self, request: Request) -> int:
        newcomer = await _read(request, Newcomer)
        if newcomer.zone not in zoneinfo.available_timezones():
            raise Refused("Choose one of the cities in the list.")
        return self._stage.welcome(newcomer.name.strip(), newcomer.zone).chat

    async def trouble(self, request: Request) -> None:
        """Let the next calls of the bot go wrong; for trials from another process."""
        planned = await _read(request, Planned)
        self._api.trouble.plan(planned.kind, method=planned.method, times=planned.times)

    async def _move(self, step: Callable[[], Awaitable[str]]) -> str:
        if self._moving:
            raise Refused("The clock is already moving: wait until it stands.")
        self._moving = True
        self._world.changes.mark()
        try:
            return await step()
        finally:
            self._moving = False
            self._world.changes.mark()

    def _phone(self, request: Request) -> Phone:
        person = self._world.people.get(request.path_params["chat"])
        if person is None:
            raise Refused("There is no such phone here: reload the page.")
        return Phone(self._world, person)


def _send_file(
    phone: Phone, content: bytes, name: str, mime: str, caption: str, reply_to: int | None
) -> None:
    """A file goes as what it is: a picture as a photo, a sound as a voice message, a film as a video."""
    match mime.partition("/")[0]:
        case "image" if mime != "image/svg+xml":
            phone.send_photo(content, name=name, caption=caption, reply_to=reply_to)
        case "audio":
            phone.send_voice(content, reply_to=reply_to)
        case "video":
            phone.send_video(content, caption=caption, reply_to=reply_to)
        case _:
            kind = mime or "application/octet-stream"
            phone.send_document(content, name=name, mime=kind, caption=caption, reply_to=reply_to)


async def _read(request: Request, shape: type[Body]) -> Body:
    try:
        return shape.model_validate_json(await request.body())
    except ValidationError as error:
        raise Refused("This could not be read: reload the page and try again.") from error


def _whole(request: Request, name: str) -> int | None:
    value = request.query_params.get(name, "")
    return int(value) if value.isdecimal() else None


def _from_this_page(act: Callable[[Request], Awaitable[object]]) -> Callable[[Request], Awaitable[Response]]:
    """Do what was asked, unless another web page in the same browser asked for it."""

    async def endpoint(request: Request) -> Response:
        origin = request.headers.get("origin")
        if origin is not None and origin.partition("//")[2] != request.headers.get("host"):
            return JSONResponse({"error": "Only this page may do that."}, status_code=403)
        return JSONResponse({"said": await act(request)})

    return endpoint


async def _refused(request: Request, error: Exception) -> Response:  # noqa: ARG001 - the shape of a handler
    return JSONResponse({"error": str(error)}, status_code=409)
