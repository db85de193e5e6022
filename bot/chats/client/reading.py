"""How words are read before anything is written down: beside what was asked, and the few that are known as they stand."""

import datetime as dt
import re
from dataclasses import replace

from bot.chats.incoming import Kind
from bot.chats.turn import Turn
from core.people.model import Client, Stage
from core.replies import day_meant, understand
from core.replies.meaning import Asked, Meaning
from core.store import house
from core.week.circumstances import Circumstances

GREETING = re.compile(r"\s*(?:hello|hi|hey|hiya|good (?:morning|evening|afternoon|day))\b", re.IGNORECASE)
THANKS = re.compile(r"\b(?:thanks?|thank|thx|tx|ty|cheers|grateful|appreciate)", re.IGNORECASE)
ASKED_ASIDE = frozenset({Asked.SLEEP, Asked.EFFORT, Asked.DAYS})
TO_THE_COACH = re.compile(
    r"\s*coach\b(?!\s+(?:says?|said|tells?|told|wants?|thinks?|asks?|asked|gave|sent|has|is|was)\b)",
    re.IGNORECASE,
)  # /help says so: what begins with it is for the coach
ABOUT_THE_WEEK = re.compile(
    r"(?:hi,? |hey,? )?(?:when(?:.?s| is)|(?:at )?what(?:.?s| is)|(?:at )?what time(?:.?s| is)|show(?: me)?) (?:my |the )?"
    r"(?:next (?:session|one|workout|training)|promise|(?:plan|week)(?: (?:for )?(?:this week|today))?)(?: again)?[ ?.!]*",
    re.IGNORECASE,
)  # what /week says: nobody else need be asked
UNDO = re.compile(
    r"(?:please )?(?:take (?:it|that) back|undo(?: (?:it|that))?)[ .!]*", re.IGNORECASE
)  # as on the button
STILL_GOOD = re.compile(
    r"(?:(?:yes|yep|yeah|yup|y|sure|will do|of course|still good|all set|\U0001f44d)[ ,.!]*)+(?:please|thanks)?[ .!]*",
    re.IGNORECASE,
)  # 'ok' is not among them: it may be about the night
STOP = re.compile(
    r"(?:please )?(?:stop|quit|enough|unsubscribe|end)[ .!]*", re.IGNORECASE
)  # said again by who has stopped
CURTAIN_CALLS = ("back", "i'm back", "im back", "i am back")


def read(words: str, was_asked: str, at: dt.datetime, life: Circumstances) -> Meaning:
    """What the words mean, beside what was asked last; else as words about a session."""
    asked = Asked(was_asked) if was_asked in set(Asked) else Asked.NOTHING
    zone, today = life.where.zone_at(at), life.today(at)
    will_not_do = day_meant.will_not_do(words, today)
    if will_not_do is not None or day_meant.moved_from(words, today):
        asked = Asked.SESSION  # no answer to which days would suit
    meaning = understand(words, asked=asked, now=at, zone=zone)
    if meaning.unknown and asked in ASKED_ASIDE and any(letter.isalpha() for letter in words):
        # What is no answer to the night, the effort or the days may well be about a session. A bare number is not.
        again = understand(words, asked=Asked.SESSION, now=at, zone=zone)
        meaning = meaning if again.unknown else again
    if will_not_do is not None and meaning.unknown:
        return replace(meaning, unknown=False, tell_coach=False)
    return meaning


async def goes_on(turn: Turn, client: Client) -> bool:
    """Whether the first words after a silence go on with training: then they are welcomed before they are answered."""
    if turn.incoming.kind not in {Kind.TEXT, Kind.EDIT} or client.stage is not Stage.ACTIVE:
        return False
    zone = (await house.circumstances(turn.tx, client)).where.zone_at(turn.at)
    meaning = understand(turn.incoming.text, asked=Asked.SESSION, now=turn.at, zone=zone)
    leaves = meaning.stop or meaning.pause is not None
    return (
        not leaves
        and meaning.urgent is None
        and client.paused_until is None
        and await house.open_red_flag(turn.tx, client.id) is None
    )


def is_coming_back(words: str) -> bool:
    return words.strip().lower().rstrip(".!") in CURTAIN_CALLS
