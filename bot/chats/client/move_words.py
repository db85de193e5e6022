"""Words that put a session off: not yet, another day, another hour."""

import datetime as dt

from bot.chats.client import answers, moving, which_ask
from bot.chats.phrases import day as of_day
from bot.chats.turn import Turn
from core.people.model import Client
from core.replies.meaning import Meaning, Near
from core.terms import Weekday
from core.week.model import Ask


async def later(turn: Turn, client: Client, meaning: Meaning, today: dt.date, also: list[str]) -> bool:
    ask = await which_ask.to_move(turn, client, today)
    if ask is None:
        await turn.say("\n".join([*also, of_day.nothing_to_move()]))
        return True
    if also:
        await turn.say("\n".join(also))
        also.clear()
    stays = meaning.move_to is None or (meaning.move_to is Near.TODAY and ask.day == today)
    if stays and meaning.time is None:
        await answers.later(turn, client, ask)
    else:
        await move(turn, client, ask, meaning, today)
    return True


async def move(turn: Turn, client: Client, ask: Ask, meaning: Meaning, today: dt.date) -> None:
    day = _ahead(meaning, ask.day if meaning.move_to is None else today)
    await moving.move_to(turn, client, ask, day, meaning.time)


def _ahead(meaning: Meaning, today: dt.date) -> dt.date:
    """The day that is moved to: today, tomorrow, or the next of that weekday."""
    match meaning.move_to:
        case Near.TODAY | None:
            return today
        case Near.TOMORROW:
            return today + dt.timedelta(days=1)
        case Weekday() as weekday:
            return today + dt.timedelta(days=(int(weekday) - today.isoweekday()) % 7)
