"""The day that words name, where it matters which: one that will not do, or the one from which a session is moved."""

import datetime as dt
import re

from core.replies.days import DAY
from core.replies.wording import plain_words
from core.terms import Weekday

_COMING = rf"(?P<day>today|tomorrow|{DAY})\b"
_WILL_NOT_DO = re.compile(
    r"^(?:(?:sorry|hi|hey|oh|no|ok) (?:, )?)*(?:i )?(?:(?:can|will) not(?: be able to)?|(?:am )?(?:not able|unable) to|no time)"
    rf"(?: (?:do|make|manage|train|come))?(?: it| that| the session)?(?: on| for)? {_COMING}(?P<rest>.*)$"
)
_SOMETHING_ELSE = re.compile(
    r"\b(?:but|move|moved|instead|rather|swap|done|did|later|another|other|until|till)\b|\?"
)
_MOVED_FROM = re.compile(
    rf"\b(?:move|shift|push|change|switch|postpone|put|bring)(?: back| forward| off)? (?:my |the )?{_COMING}"
    r"(?: s)?(?: (?:session|one|training|workout))?(?: back| forward)? (?:to|on|till|until)\b"
)


def will_not_do(words: str, today: dt.date) -> dt.date | None:
    """'Can't tomorrow', 'won't make Friday': the coming day on which a session will not do, where nothing else is said of it."""
    found = _WILL_NOT_DO.match(plain_words(words).plain)
    if found is None or _SOMETHING_ELSE.search(found["rest"]):
        return None
    day = _coming(found["day"], today)
    return day if day > today else None


def moved_from(words: str, today: dt.date) -> dt.date | None:
    """'Move tomorrow to Sunday': the day whose session is meant."""
    found = _MOVED_FROM.search(plain_words(words).plain)
    return _coming(found["day"], today) if found is not None else None


def _coming(name: str, today: dt.date) -> dt.date:
    """Today, tomorrow, or the next day of that name, today among them."""
    near = {"today": 0, "tomorrow": 1}.get(name)
    if near is None:
        near = (Weekday[name.upper()] - today.isoweekday()) % 7
    return today + dt.timedelta(days=near)
