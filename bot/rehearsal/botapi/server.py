"""The HTTP of the Bot API: ``/bot<token>/METHOD`` and ``/file/bot<token>/PATH``."""

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Route

from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.arguments import read_arguments
from bot.rehearsal.botapi.errors import ApiError, bad_request
from bot.rehearsal.botapi.methods import METHODS
from bot.rehearsal.botapi.trouble import Fault, Kind

DOWNLOAD = "download"  # what trouble calls the fetching of a file: it is no method


def bot_api_routes(api: BotApi) -> list[BaseRoute]:
    """Routes for a Starlette application. ``app.state.hang_up``, if there is one, drops a connection by its scope."""

    async def call(request: Request) -> Response:
        method = request.path_params["method"]
        fault = api.trouble.take(method)
        try:
            if fault and not fault.kind.takes_effect:
                return await _spoilt(request, fault)
            result = await _answer(api, request, method)
        except ApiError as error:
            return _refusal(error)
        return await _spoilt(request, fault) if fault else JSONResponse({"ok": True, "result": result})

    async def download(request: Request) -> Response:
        path = request.path_params["path"]
        fault = api.trouble.take(DOWNLOAD)
        if fault:
            return await _spoilt(request, fault)
        found = next((stored for stored in api.world.files.values() if stored.path == path), None)
        if request.path_params["token"] != api.world.token:
            return _refusal(ApiError(401, "Unauthorized"))
        if found is None:
            return _refusal(ApiError(404, "Not Found"))
        return Response(found.content, media_type=found.mime)

    return [
        Route("/bot{token}/{method}", call, methods=["GET", "POST"]),
        Route("/file/bot{token}/{path:path}", download, methods=["GET"]),
    ]


async def _answer(api: BotApi, request: Request, method: str) -> object:
    if request.path_params["token"] != api.world.token:
        raise ApiError(401, "Unauthorized")
    handler = METHODS.get(method.lower())
    if handler is None:
        raise ApiError(404, "Not Found: method not found")
    try:
        return await handler(api, await read_arguments(request))
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise bad_request(f"can't parse the parameters ({error!r})") from error


def _refusal(error: ApiError) -> Response:
    headers = {"Retry-After": str(error.retry_after)} if error.retry_after is not None else None
    return JSONResponse(error.body(), status_code=error.code, headers=headers)


async def _spoilt(request: Request, fault: Fault) -> Response:
    match fault.kind:
        case Kind.ERROR:
            return _refusal(fault.error or ApiError(500, "Internal Server Error"))
        case Kind.SERVER_ERROR | Kind.SERVER_ERROR_AFTER:
            return Response("<html>502 Bad Gateway</html>", status_code=502, media_type="text/html")
        case Kind.JUNK:
            return Response("<html>not JSON</html>", media_type="text/html")
        case Kind.CUT | Kind.DROPPED:
            request.app.state.hang_up(request.scope)
            await _gone(request)
        case Kind.DEAF | Kind.SILENCE:
            await _gone(request)
    return Response(status_code=500)


async def _gone(request: Request) -> None:
    """Wait until the other side has given up, or this side closes."""
    while not await request.is_disconnected():
        if (await request.receive())["type"] == "http.disconnect":
            return
