"""``/calendar/TOKEN.ics``: a client's sessions for the calendar of their phone. Whoever has the address may read it, nobody else."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from bot.clock import Clock
from bot.settings import Settings
from core.store.engine import Store
from core.usecases.feed import feed_of

LONGEST_TOKEN = 64


def calendar_route(store: Store, clock: Clock) -> Route:
    """The route; a wrong address and one that was replaced are answered alike."""

    async def calendar(request: Request) -> Response:
        token = request.path_params["token"]
        feed = None
        if len(token) <= LONGEST_TOKEN:
            async with store.reading() as tx:
                feed = await feed_of(tx, token, clock.now())
        if feed is None:
            return Response("There is no calendar here.\n", status_code=404, media_type="text/plain")
        return Response(feed, media_type="text/calendar", headers={"Cache-Control": "private, no-store"})

    return Route("/calendar/{token}.ics", calendar)


def calendar_base(settings: Settings) -> str:
    """Where phones can reach the feed from outside, or '' where they cannot: the webhook's host, else an address of our own."""
    if settings.webhook_url is not None:
        scheme, _, rest = settings.webhook_url.partition("://")
        return f"{scheme}://{rest.partition('/')[0]}/calendar"
    return "" if settings.is_private or settings.is_everywhere else f"http://{settings.listen}/calendar"
