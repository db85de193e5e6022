"""What is due for one client: prompts, follow-ups, the close of the day, settling and agreeing that nobody did in time.

Each moment is dealt with in the order of its instant, each changes the state so that it is not due again, and each message has a
key of its own: planning the same moment twice says nothing twice.
"""

import datetime as dt
from collections.abc import Awaitable, Callable, Mapping

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.turn import Desk, Speaker
from bot.rounds import asking, closing
from bot.rounds.one_client import Round
from core.store import house
from core.usecases.schedule import moments_of, reschedule
from core.week.agenda import (
    Due,
    Moment,
    first_due,
)

MOST_MOMENTS = 60  # of one client at one tick; more is a fault, and the next tick goes on


async def tick_client(tx: AsyncConnection, desk: Desk, client_id: int, at: dt.datetime) -> int:
    """Deal with everything that is due for a client. Returns how many moments that were."""
    dealt = 0
    for dealt in range(MOST_MOMENTS):  # noqa: B007 - counted
        client = await house.clients.lock(tx, client_id)
        known = await house.known_of(tx, client, at)
        due = first_due(moments_of(known, at), known.life, at)
        if due is None:
            break
        speaker = Speaker(tx, at, desk, occasion=f"round:{due.key}", about=str(client_id))
        await DEALT[due.moment](Round(tx=tx, at=at, speaker=speaker, client=client, known=known), due)
    await reschedule(tx, client_id, at)
    return dealt


DEALT: Mapping[Moment, Callable[[Round, Due], Awaitable[None]]] = {
    Moment.PROMPT: asking.prompt,
    Moment.FOLLOW_UP: asking.follow_up,
    Moment.SLEEP: asking.ask_sleep,
    Moment.WEEKLY_ASK: asking.weekly_ask,
    Moment.CLOSE_ASK: closing.close_ask,
    Moment.CLOSE_SETTLING: closing.close_settling,
    Moment.RESOLVE: closing.resolve,
    Moment.TELL_PROMISE: closing.tell_promise,
    Moment.CLOSE_AGREEING: closing.close_agreeing,
    Moment.END_PAUSE: closing.end_pause,
}
