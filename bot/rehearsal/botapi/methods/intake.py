"""How the bot gets its updates: by asking, or by having them posted."""

import re

from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.arguments import Arguments
from bot.rehearsal.botapi.errors import bad_request, conflict
from bot.rehearsal.botapi.models import Json
from bot.rehearsal.botapi.webhook import Hook

LONGEST_POLL = 50
SECRET = re.compile(r"[A-Za-z0-9_-]{1,256}")


async def get_updates(api: BotApi, given: Arguments) -> list[Json]:
    """Confirms all before ``offset``, then answers with what is left, waiting for it if need be."""
    if api.webhook.hook is not None:
        raise conflict(
            "can't use getUpdates method while webhook is active; use deleteWebhook to delete the webhook first"
        )
    updates = api.world.updates
    updates.allow(given.structure("allowed_updates"))
    offset = given.whole("offset")
    if offset is not None:
        updates.confirm_before(offset)
    limit = min(max(given.whole("limit", 100) or 100, 1), 100)
    seconds = min(max(given.number("timeout") or 0.0, 0.0), LONGEST_POLL)
    return await updates.poll(limit=limit, seconds=seconds)


async def set_webhook(api: BotApi, given: Arguments) -> bool:
    """Unlike Telegram's, this server also takes plain http, for it speaks to this machine alone."""
    url, secret = given.text("url"), given.text("secret_token")
    if not url:
        return await delete_webhook(api, given)
    if not url.startswith(("https://", "http://127.0.0.1", "http://localhost")):
        raise bad_request("bad webhook: An HTTPS URL must be provided for webhook")
    if secret and not SECRET.fullmatch(secret):
        raise bad_request("secret token contains unallowed characters")
    api.world.updates.allow(given.structure("allowed_updates"))
    _drop_if_asked(api, given)
    await api.webhook.set(Hook(url=url, secret=secret, connections=given.whole("max_connections", 40) or 40))
    return True


async def delete_webhook(api: BotApi, given: Arguments) -> bool:
    await api.webhook.remove()
    _drop_if_asked(api, given)
    return True


async def get_webhook_info(api: BotApi, given: Arguments) -> Json:  # noqa: ARG001 - all methods look alike
    return api.webhook.json()


def _drop_if_asked(api: BotApi, given: Arguments) -> None:
    if given.flag("drop_pending_updates"):
        api.world.updates.clear()
