"""What a message needs before it is handled: a file that came with it, or what the forecast learns from everybody.

Nothing of a file is kept by us. The update is, and the server keeps the file: a process that dies under way fetches it again.
"""

import asyncio
import datetime as dt
from collections.abc import Awaitable, Callable, Mapping

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.bot_api import BotApi, TooLargeError
from bot.chats.beforehand import Granted, ToLearn, Wish
from bot.chats.files import Brought, Wanted, read_file
from bot.chats.phrases import files as say
from bot.learning import learn
from core.store.columns import Json
from core.store.engine import Store

LONGEST_S = 60.0

Wants = Callable[[AsyncConnection, Mapping[str, Json], dt.datetime], Awaitable[Wish | None]]


class Fetcher:
    """Fetches what the house wants.

    :param wants: what an update needs, by what is known of who sent it.
    """

    def __init__(self, store: Store, api: BotApi, wants: Wants) -> None:
        self._store = store
        self._api = api
        self._wants = wants

    async def look(self, tx: AsyncConnection, update: Json, at: dt.datetime) -> Wish | None:
        """What is to be had before this update is handled; None for nearly all."""
        return await self._wants(tx, update, at) if isinstance(update, dict) else None

    async def fetch(self, wish: Wish) -> Granted:
        """Fetch and read, or learn. TelegramError or TimeoutError where the server did not give it: to be tried again."""
        if isinstance(wish, ToLearn):
            learnt, _ = await learn(self._store, wish.today)
            return learnt
        return await self._fetch_file(wish)

    async def _fetch_file(self, wanted: Wanted) -> Brought:
        try:
            async with asyncio.timeout(LONGEST_S):
                content = await self._api.download(wanted.file_id, largest=wanted.largest)
        except TooLargeError:
            return Brought(faults=(say.larger_than(wanted.largest),))
        return await asyncio.to_thread(read_file, wanted, content)
