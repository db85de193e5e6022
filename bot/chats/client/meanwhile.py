"""What a client did while they were silent: asked for by day, once, and never guessed to be of today."""

import datetime as dt
import re
from collections.abc import Sequence

from bot.chats.client import answers
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.terms import Outcome
from core.usecases.answer import Told

LAST_WEEK = re.compile(r"\b(?:last|past|previous)\s+week\b", re.IGNORECASE)
TODAY = re.compile(r"\btoday\b", re.IGNORECASE)


async def hear(turn: Turn, client: Client, weekdays: Sequence[int], today: dt.date) -> bool:
    """Each day fills an ask that can still be corrected, else it is an extra on its day."""
    words = turn.incoming.text
    await turn.expect(topic="", asked="nothing")
    for day in sorted(_day(weekday, words, today) for weekday in weekdays):
        await answers.write(turn, client, Outcome.DONE, named=day, told=Told.MEANWHILE)
    return True


def _day(weekday: int, words: str, today: dt.date) -> dt.date:
    """The last day of that name before today, or the one of last week; today only where the words say so."""
    if LAST_WEEK.search(words):
        return IsoWeek.of(today).previous().monday + dt.timedelta(days=weekday - 1)
    ago = (today.isoweekday() - weekday) % 7
    return today - dt.timedelta(days=ago if ago or TODAY.search(words) else 7)
