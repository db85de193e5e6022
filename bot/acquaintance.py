"""Getting to know the server: who we are there, and how we want our updates."""

import asyncio
import datetime as dt
import logging
import random
import secrets

from telegram.error import TelegramError

from bot.backoff import backoff
from bot.bell import wait_at_most
from bot.bot_api import BotApi
from bot.outcome import Misconfigured, outcome_of
from bot.receiver import ALLOWED_UPDATES
from bot.settings import Settings

log = logging.getLogger(__name__)


async def get_acquainted(settings: Settings, api: BotApi, stopping: asyncio.Event) -> str | None:
    """Our username there, once the server has said it and knows how we want our updates; None if we are to stop first."""
    chance = random.Random(secrets.randbits(64))  # noqa: S311 - for back-offs
    attempt = 0
    while not stopping.is_set():
        attempt += 1
        try:
            me = await api.call("getMe")
            await _say_how_to_deliver(settings, api)
        except TelegramError as error:
            why = outcome_of(error)
            told = why.why if isinstance(why, Misconfigured) else type(error).__name__
            log.warning("the server did not say who we are (%s); 'keptword doctor' knows more", told)
            wait = backoff(attempt, chance, longest=dt.timedelta(minutes=1))
            await wait_at_most(stopping, wait.total_seconds())
        else:
            return str(me["username"])
    return None


async def _say_how_to_deliver(settings: Settings, api: BotApi) -> None:
    if settings.webhook_url is None or settings.webhook_secret is None:
        await api.call("deleteWebhook")  # polling is refused while one is set; what is pending stays
        return
    await api.call(
        "setWebhook",
        {
            "url": settings.webhook_url,
            "secret_token": settings.webhook_secret.get_secret_value(),
            "allowed_updates": ALLOWED_UPDATES,
        },
    )
