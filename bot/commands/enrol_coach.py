"""``keptword enrol-coach NAME``: a one-time link for a coach."""

import argparse
import asyncio
import secrets
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bot.settings import Settings

HELP = "print a one-time link for a coach"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", help="the coach's name, as clients will read it")
    parser.epilog = "The coach opens the link in Telegram. It works once, for 72 hours; run the command again for another."


def run(args: argparse.Namespace) -> int:
    print(asyncio.run(_enrol(args.name)))
    return 0


async def _bot_name(settings: "Settings") -> str:
    """The bot's own name, asked of the server; a Fault that says what to do where it does not answer."""
    from telegram.error import TelegramError

    from bot.bot_api import BotApi
    from core.errors import Fault

    api = BotApi(settings.token(), settings.bot_api_url)
    await api.open()
    try:
        return str((await api.call("getMe"))["username"])
    except TelegramError as error:
        raise Fault(
            f"The bot's name could not be asked of {settings.bot_api_url} ({type(error).__name__}). "
            "'keptword doctor' says what is wrong."
        ) from None
    finally:
        await api.close_connections()


async def _enrol(name: str) -> str:
    from bot.clock import SystemClock
    from bot.opening import be_sure_of, is_new, migrate, open_installation
    from bot.settings import read_settings
    from core.people.invitations import TOKEN_BYTES, deep_link, token_from
    from core.usecases.enrol import enrol_coach

    settings = read_settings()
    called = await _bot_name(settings)
    if await is_new(settings):
        await migrate(settings)
    store = open_installation(settings)
    try:
        await be_sure_of(store)
        token = token_from(secrets.token_bytes(TOKEN_BYTES))
        async with store.begin() as tx:
            await enrol_coach(tx, name, token, at=SystemClock().now())
    finally:
        await store.close()
    return deep_link(called, token)
