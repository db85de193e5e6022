"""What somebody sees at a glance in a message: mostly by the buttons under it."""

import datetime as dt
import enum
import re
from collections.abc import Mapping

from bot.rehearsal.botapi.models import Message


class Sight(enum.StrEnum):
    PROMPT = "prompt"
    FOLLOW_UP = "follow-up"
    SESSION = "session"
    OFFER = "offer of a week"
    YES = "more than usual"
    DAYS = "days to pick"
    NUMBER = "a number to pick"
    FEWER = "how many, rather"
    EFFORT = "how hard"
    REPAIR = "what instead"
    MOVE = "another day"
    CLASH = "a day that is taken"
    EXTRA = "one more"
    BETTER = "better"
    MANNER = "a manner of speaking"
    SLEEP = "how long"
    WEEKLY = "still there"
    WELCOME = "welcome back"
    ROOM = "a room"
    WELL = "all that is well"
    CHOICE = "a week to settle"
    CONFIRM = "a screening"
    ALARM = "a red flag"
    NOTE = "a note, please"
    REMARK = "words of a client"
    WISH = "a client wants more"
    LINK = "an invitation"
    PAUSE = "how long a pause"
    HOME = "where one lives"
    QUESTION = "one of the first questions"
    NOTHING = "nothing"


# The first whose labels all stand there (whole, or as a beginning) is what it is.
BY_LABELS: Mapping[Sight, tuple[str, ...]] = {
    Sight.PROMPT: ("Done", "Another day", "Can't "),
    Sight.FOLLOW_UP: ("Done", "Not this time"),
    Sight.WEEKLY: ("Show me ten", "Not this week"),
    Sight.EXTRA: ("Show me", "Not this week"),
    Sight.WELCOME: ("I did train",),
    Sight.SESSION: ("Done", "A short one"),
    Sight.YES: ("Yes, ", "Pick days"),
    Sight.OFFER: ("That fits",),
    Sight.EFFORT: ("2", "9"),
    Sight.REPAIR: ("Ten minutes now", "Let it go"),
    Sight.CLASH: ("Both", "Swap"),
    Sight.BETTER: ("Better, back on",),
    Sight.MANNER: ("No, a figure of speech",),
    Sight.ROOM: ("Out of reach", "Not a trip"),
    Sight.WELL: ("Accept all",),
    Sight.CHOICE: ("Accept ", "Another number"),
    Sight.CONFIRM: ("Confirm, begin",),
    Sight.ALARM: ("I have seen this",),
    Sight.REMARK: ("Answer",),
    Sight.WISH: ("Settle ", "Leave it"),
    Sight.NUMBER: ("1", "2", "Rest week"),
}
BY_WORDS: Mapping[Sight, re.Pattern[str]] = {
    Sight.HOME: re.compile(r"^Where do you live"),
    Sight.QUESTION: re.compile(
        r"Is that all right with you\?|^How many (sessions a week did|minutes does|hours of sleep)|^What is there to train with, where"
        r"|^How long have you|^Does anything hurt|^What should training|^Which days suit|^And at what time|^I keep quiet"
        r"|^Before any training|^In the last three months"
    ),
    Sight.WELL: re.compile(r"^All well"),  # of one alone the button bears the name
    Sight.LINK: re.compile(r"start=([\w-]+)"),
    Sight.SLEEP: re.compile(r"How many hours did you sleep"),
    Sight.PAUSE: re.compile(r"^For how long shall I ask nothing"),
    Sight.FEWER: re.compile(r"^How many sessions would you rather"),
    Sight.DAYS: re.compile(r"^Tap \d+ day"),
    Sight.MOVE: re.compile(r"^Which day instead"),
    Sight.NOTE: re.compile(r"note", re.IGNORECASE),
}
_WHEN = re.compile(r"^(Tomorrow |Today )?(?:\w{3} \d+ \w{3} )?(\d\d):(\d\d)", re.IGNORECASE)
_MINUTES = re.compile(r"(\d+) minutes")
_SESSIONS = re.compile(r"(\d+) sessions?")


def labels_of(message: Message) -> list[str]:
    return [button["text"] for row in message.buttons for button in row if "callback_data" in button]


def sight_of(message: Message) -> Sight:
    labels = labels_of(message)
    for sight in (Sight.HOME, Sight.QUESTION):  # their buttons are many and various
        if BY_WORDS[sight].search(message.text):
            return sight
    for sight, wanted in BY_LABELS.items():
        if all(any(label.startswith(want) for label in labels) for want in wanted):
            return sight
    if (
        labels
        and all(len(label.split()) <= 2 for label in labels)
        and BY_WORDS[Sight.MOVE].search(message.text)
    ):
        return Sight.MOVE
    return next((sight for sight, words in BY_WORDS.items() if words.search(message.text)), Sight.NOTHING)


def session_in(text: str, today: dt.date) -> tuple[dt.datetime, int]:
    """When a prompt's session begins on the wall there (naive), and how many minutes it takes."""
    when, minutes = _WHEN.match(text), _MINUTES.search(text)
    hour = dt.time(int(when[2]), int(when[3])) if when else dt.time(12)
    ahead = dt.timedelta(days=bool(when and when[1] and when[1].lower().startswith("tomorrow")))
    return dt.datetime.combine(today + ahead, hour), int(minutes[1]) if minutes else 45


def number_in(text: str) -> int | None:
    """The number of sessions that a message speaks of."""
    found = _SESSIONS.search(text)
    return int(found[1]) if found else None
