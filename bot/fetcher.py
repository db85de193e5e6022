"""Files that people send: looked at before they are fetched, fetched and read before their message is handled.

Nothing of a file is kept by us. The update is, and the server keeps the file: a process that dies under way fetches it again.
"""

import asyncio
import datetime as dt
from collections.abc import Awaitable, Callable, Mapping

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.bot_api import BotApi, TooLargeError
from bot.chats.files import Brought, Wanted, read_file
from bot.chats.phrases import files as say
from core.store.columns import Json
from core.store.engine import Store

LONGEST_S = 60.0

Wants = Callable[[AsyncConnection, Mapping[str, Json], dt.datetime], Awaitable[Wanted | None]]


class Fetcher:
    """Fetches what the house wants.

    :param wants: whether a document that came is wanted, by what is known of who sent it.
    """

    def __init__(self, store: Store, api: BotApi, wants: Wants) -> None:
        self._store = store
        self._api = api
        self._wants = wants

    async def look(self, update: Json, at: dt.datetime) -> Wanted | None:
        """What is to be fetched before this update is handled; None for nearly all."""
        message = update.get("message") if isinstance(update, dict) else None
        if not isinstance(update, dict) or not isinstance(message, dict) or "document" not in message:
            return None
        async with self._store.reading() as tx:
            return await self._wants(tx, update, at)

    async def fetch(self, wanted: Wanted) -> Brought:
        """Fetch and read. TelegramError or TimeoutError where the server did not give it: to be tried again."""
        try:
            async with asyncio.timeout(LONGEST_S):
                content = await self._api.download(wanted.file_id, largest=wanted.largest)
        except TooLargeError:
            return Brought(faults=(say.larger_than(wanted.largest),))
        return await asyncio.to_thread(read_file, wanted, content)
