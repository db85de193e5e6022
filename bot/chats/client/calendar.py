"""/calendar: the sessions in the phone's own calendar, by a secret address."""

from bot.chats.phrases import client as say
from bot.chats.turn import Turn
from core.people.invitations import TOKEN_BYTES, token_from
from core.people.model import Client
from core.usecases.feed import open_feed


async def offer(turn: Turn, client: Client) -> None:
    """Give a fresh address; asking again replaces it."""
    if not turn.desk.calendar_base:
        await turn.say(say.no_calendar())
        return
    token = token_from(turn.desk.random_bytes(TOKEN_BYTES))
    await open_feed(turn.tx, client, token)
    await turn.say(say.calendar(f"{turn.desk.calendar_base}/{token}.ics"))
