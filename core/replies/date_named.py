"""One date as it is written: a day of the month, a day of the week, in digits, or by its distance from today."""

import datetime as dt
import re

from core.terms import Weekday

_MONTHS = (
    "january february march april may june july august september october november december".split()  # noqa: SIM905
)
MONTH = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|"
    r"oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)"
)
DAY = r"(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday)"
_FEASTS = {
    "christmas": (12, 25),
    "christmas day": (12, 25),
    "christmas eve": (12, 24),
    "boxing day": (12, 26),
}


def date_named(
    found: re.Match[str],
    n: int,
    today: dt.date,
    base: dt.date | None,
    order: str,
    *,
    month_of: str | None = None,
    ends: bool = False,
) -> dt.date | None:
    """One date, or None where there is no such date or more than one, or its weekday is another."""
    since = base or today
    if found[f"day{n}"]:
        return _weekday(found[f"day{n}"], today, base, ends=ends)
    if found[f"near{n}"]:
        return _near(found[f"near{n}"], today)
    said = next(found[f"{kind}{n}"] for kind in _KINDS if found[f"{kind}{n}"])
    weekday = re.search(DAY, said)
    named = Weekday[weekday.group().upper()] if weekday else None
    if found[f"iso{n}"]:
        date = _calendar(*(int(part) for part in said.split("_")))
    elif found[f"dm{n}"] or found[f"md{n}"]:
        date = _day_and_month(said, since)
    elif found[f"num{n}"]:
        date = _numeric(said, since, order, named)
    else:
        date = _day_of_month(int(re.sub(r"\D", "", said)), since, month_of)
    return date if date is None or named in {None, date.isoweekday()} else None


_KINDS = ("iso", "dm", "md", "num", "th", "bare")


def first_of_month(text: str, today: dt.date) -> dt.date:
    """The first of the month that a text names, this year or next; this month is the one that is running."""
    month = _month_number(re.search(MONTH, text).group())  # type: ignore[union-attr]
    year = re.search(r"\b20\d\d\b", text)
    return dt.date(int(year.group()) if year else today.year + (month < today.month), month, 1)


def last_of_month(first: dt.date) -> dt.date:
    return (first + dt.timedelta(days=32)).replace(day=1) - dt.timedelta(days=1)


def _calendar(year: int, month: int, day: int) -> dt.date | None:
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None


def _month_number(name: str) -> int:
    return next(number for number, month in enumerate(_MONTHS, start=1) if month.startswith(name[:3]))


def _next_on(month: int, day: int, since: dt.date) -> dt.date | None:
    """The next such date from a few days ago on: people also tell of a trip that has begun."""
    earliest = since - dt.timedelta(days=6)
    dates = (_calendar(year, month, day) for year in (since.year - 1, since.year, since.year + 1))
    return next((date for date in dates if date and date >= earliest), None)


def _day_and_month(text: str, since: dt.date) -> dt.date | None:
    month = _month_number(re.search(MONTH, text).group())  # type: ignore[union-attr]
    year = re.search(r"\b20\d\d$", text)
    day = int(re.search(r"\d{1,2}", text.removesuffix(year.group()) if year else text).group())  # type: ignore[union-attr]
    return _calendar(int(year.group()), month, day) if year else _next_on(month, day, since)


def numeric_order(text: str) -> str:
    """'dm' or 'md' where a date in the text settles it, as 28/11 does; points are European."""
    pairs = [(int(a), int(b)) for a, b in re.findall(r"(?<![\d/.])(\d{1,2})/(\d{1,2})(?![\d])", text)]
    if any(a > 12 and b <= 12 for a, b in pairs):
        return "dm"
    return "md" if any(b > 12 and a <= 12 for a, b in pairs) else ""


def _numeric(text: str, since: dt.date, order: str, named: Weekday | None) -> dt.date | None:
    """A date in digits; where its order is open, the weekday beside it may settle it ('Sat 5/12')."""
    parts = [int(part) for part in re.findall(r"\d+", text)]
    order = "dm" if "." in text or parts[0] == parts[1] else order
    dates = [_in_order(parts, one, since) for one in ([order] if order else ["dm", "md"])]
    agreeing = [date for date in dates if date and (order or date.isoweekday() == named)]
    return agreeing[0] if len(agreeing) == 1 else None


def order_of(text: str | None, date: dt.date | None) -> str:
    """The order in which a date was written that its weekday has settled."""
    if not text or not date:
        return ""
    return "dm" if int(re.findall(r"\d+", text)[0]) == date.day else "md"


def _in_order(parts: list[int], order: str, since: dt.date) -> dt.date | None:
    day, month = (parts[0], parts[1]) if order == "dm" else (parts[1], parts[0])
    if not 1 <= month <= 12:
        return None
    if len(parts) == 3:
        return _calendar(parts[2] if parts[2] > 100 else 2000 + parts[2], month, day)
    return _next_on(month, day, since)


def _day_of_month(day: int, since: dt.date, month_of: str | None) -> dt.date | None:
    if month_of:
        return _next_on(_month_number(re.search(MONTH, month_of).group()), day, since)  # type: ignore[union-attr]
    first = since.replace(day=1)
    for _ in range(3):
        date = _calendar(first.year, first.month, day)
        if date and date >= since:
            return date
        first = (first + dt.timedelta(days=32)).replace(day=1)
    return None


def _weekday(text: str, today: dt.date, base: dt.date | None, *, ends: bool) -> dt.date | None:
    """The day that is meant, or None where two are: 'the Friday after' a Tuesday may be in its week or in the next."""
    day = Weekday[re.search(DAY, text).group().upper()]  # type: ignore[union-attr]
    monday = today - dt.timedelta(days=today.isoweekday() - 1)
    since = base if base and base >= today else today
    ahead = (day - since.isoweekday()) % 7
    if text.endswith("after next"):
        return None
    if text.endswith(" week") or "week on" in text:
        return today + dt.timedelta(days=(day - today.isoweekday()) % 7 + 7)
    if re.search(r"\bfollowing\b|\bafter\b", text):
        return since + dt.timedelta(days=ahead or 7) if base and day <= since.isoweekday() else None
    if re.search(r"\bnext\b", text):
        return monday + dt.timedelta(days=7 + day - 1)
    if ahead == 0 and (not base or ends):
        ahead = 0 if ends and base else 7
    return since + dt.timedelta(days=ahead)


def _near(text: str, today: dt.date) -> dt.date:
    if "after tomorrow" in text:
        return today + dt.timedelta(days=2)
    if text == "tomorrow":
        return today + dt.timedelta(days=1)
    if text.startswith("new year"):
        return dt.date(today.year, 12, 31) if "eve" in text else dt.date(today.year + 1, 1, 1)
    if text in _FEASTS:
        return _next_on(*_FEASTS[text], today) or today
    return today
