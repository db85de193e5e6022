"""The day that words name, where it matters which: one that will not do, or the one from which a session is moved."""

import datetime as dt
import re

_DAY = r"(today|tomorrow|mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday)?|thu(?:rs?(?:day)?)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?)"
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_WILL_NOT_DO = re.compile(
    r"^(?:(?:sorry|hi|hey|oh|no|ok)\W+)*(?:i )?(?:can.?t|can ?not|won.?t(?: be able to)?|(?:am |.m )?(?:not able|unable) to|no time)"
    rf"(?: (?:do|make|manage|train|come))?(?: it| that| the session)?(?: on| for)? {_DAY}\b(?P<rest>.*)$",
    re.IGNORECASE | re.DOTALL,
)
_SOMETHING_ELSE = re.compile(
    r"\b(?:but|move|moved|instead|rather|swap|done|did|later|another|other|until|till)\b|\?", re.IGNORECASE
)
_MOVED_FROM = re.compile(
    rf"\b(?:move|shift|push|change|switch|postpone|put|bring)(?: back| forward| off)? (?:my |the )?{_DAY}(?:.?s)?\b"
    r"(?: (?:session|one|training|workout))?(?: back| forward)? (?:to|on|till|until)\b",
    re.IGNORECASE,
)


def will_not_do(words: str, today: dt.date) -> dt.date | None:
    """'Can't tomorrow', 'won't make Friday': the coming day on which a session will not do, where nothing else is said of it."""
    found = _WILL_NOT_DO.match(words.strip())
    if found is None or _SOMETHING_ELSE.search(found["rest"]):
        return None
    day = _coming(found[1], today)
    return day if day > today else None


def moved_from(words: str, today: dt.date) -> dt.date | None:
    """'Move tomorrow to Sunday': the day whose session is meant."""
    found = _MOVED_FROM.search(words)
    return _coming(found[1], today) if found is not None else None


def _coming(name: str, today: dt.date) -> dt.date:
    """Today, tomorrow, or the next day of that name, today among them."""
    near = {"today": 0, "tomorrow": 1}.get(name.casefold())
    if near is None:
        near = (_WEEKDAYS.index(name[:3].casefold()) + 1 - today.isoweekday()) % 7
    return today + dt.timedelta(days=near)
