"""Small words of the digest: counts, dates, and what people wrote, fit to stand in a message."""

import datetime as dt
import html

from core.people.names import in_its_own_direction

LONGEST_NAME = 40
LONGEST_QUOTE = 240
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def quoted(words: str) -> str:
    return f"“{cut(' '.join(words.split()), LONGEST_QUOTE)}”"


def cut(text: str, most: int) -> str:
    """Fit to stand in a message: shortened and escaped."""
    return html.escape(in_its_own_direction(shortened(text, most)), quote=False)


def shortened(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + "."


def month(day: dt.date) -> str:
    return _MONTHS[day.month - 1]


def short_date(day: dt.date) -> str:
    return f"{day.day} {month(day)}"


def days(first: dt.date, last: dt.date) -> str:
    """'3 to 7 Dec', '28 Nov to 2 Dec', '3 Dec'."""
    if first == last:
        return short_date(first)
    same_month = (first.year, first.month) == (last.year, last.month)
    return f"{first.day if same_month else short_date(first)} to {short_date(last)}"


def often(times: int) -> str:
    return {1: "", 2: ", twice"}.get(times, f", {times} times")


def signed(change: float) -> str:
    number = round(change)
    return "as before" if number == 0 else f"{'+' if number > 0 else '−'}{abs(number)}"
