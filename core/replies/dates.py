"""Dates and stretches of dates in plain words, resolved from left to right against today.

A day of the month or of the week is the next such day, counted from the date before it in the text; 'next Friday' is that of
the week after this one. A date that does not exist, and one that two conventions read differently (3/4), is doubtful.
"""

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import replace

from core.replies.date_named import DAY, MONTH, first_of_month, numeric_order, order_of
from core.replies.date_spans import SPAN, TH, Dates, dates_in

INSTEAD_OF = re.compile(
    rf"(?:\b(?:instead of|rather than|and not|now not|not)|, not)(?: on| until| the| from)*(?: {DAY}| (?:the )?\d{{1,2}}{TH}(?: {MONTH}\b)?)(?! (?:min|hour))|"
    rf"\b(?:was|were)(?: meant to be| going to be| supposed to be| first| on| the)* {DAY}(?= (?:,? ?(?:but |and )?(?:it is |we are |i am )?(?:now|moved|changed)))|"
    rf"\b(?:did i say|i said|not) (?:the )?\d{{1,2}}{TH}"
)
"""A day that was planned, and is no more."""


def find_dates(text: str, today: dt.date) -> list[Dates]:
    """Every date and stretch in the text, in order."""
    text = INSTEAD_OF.sub(lambda found: " " * len(found.group()), text)
    found = list(_resolved(text, today))
    reasons = [one for one in found if _is_occasion(text, one)]
    days = sum(_is_of_the_month(one, text) for one in found if one not in reasons)
    if reasons and (days > 1 or any(one.last for one in found)):
        for one in reasons:
            text = text[: one.at] + " " * (one.end - one.at) + text[one.end :]
        found = list(_resolved(text, today, max(today, (reasons[0].first or today) - _AROUND_A_FEAST)))
    if any(one.first for one in found):
        found = [one for one in found if not _is_month_around(one, text)]
    found = _without_emphasis(_in_the_week_named(found, text), text)
    found = _in_a_row(found, text)
    return _undecided(_without_week_around(found, text), text)


_WEEKS_FROM = re.compile(
    r"(?<!for )(?<!about )\b(?P<n>a|one|1|2|two) (?P<unit>weeks?|fortnight) (?:(?:from|on) (?:the |this |next )?)?$"
)


def _put_off(one: Dates, text: str) -> Dates:
    """'A week from Thursday' is the Thursday after the next."""
    found = _WEEKS_FROM.search(text[: one.at])
    if not found or one.first is None or one.last:
        return one
    weeks = 2 if found["n"] in {"2", "two"} or found["unit"] == "fortnight" else 1
    return replace(one, at=found.start(), first=one.first + dt.timedelta(days=7 * weeks), opens=False)


def _in_a_row(found: list[Dates], text: str) -> list[Dates]:
    """'Monday, Tuesday and Wednesday' is one stretch."""
    rows: list[Dates] = []
    for one in found:
        before = rows[-1] if rows else None
        if (
            before
            and before.first
            and one.first
            and not one.last
            and re.fullmatch(rf"(?:on )?{DAY}", text[one.at : one.end])
            and re.fullmatch(rf"(?:on )?{DAY}.*", text[before.at : before.end])
            and re.fullmatch(r" (?:, )?(?:and )?", text[before.end : one.at])
            and (one.first - (before.last or before.first)).days == 1
        ):
            rows[-1] = replace(before, end=one.end, last=one.first)
        else:
            rows.append(one)
    return rows


_WHOLE_WEEK = re.compile(r"(?:for )?(?:all|the whole|whole|full|the full|the entire) (?:of )?(?:the )?week")


def _without_emphasis(found: list[Dates], text: str) -> list[Dates]:
    """'Next week, all week' names one week."""
    if not any(
        _is_week(one, text) and not _WHOLE_WEEK.fullmatch(text[one.at : one.end].strip()) for one in found
    ):
        return found
    return [one for one in found if not _WHOLE_WEEK.fullmatch(text[one.at : one.end].strip())]


_AROUND_A_FEAST = dt.timedelta(days=15)


def _is_month_around(one: Dates, text: str) -> bool:
    """'In May I go to Oslo, from the 3rd to the 20th': the month only says of which month the days are."""
    return one.vague and not text[one.at : one.end].endswith("month")


def _is_occasion(text: str, one: Dates) -> bool:
    """'Christmas in York, 23rd to 27th' says why, not when, where dates are given as well."""
    return text[one.at : one.end].startswith(("christmas", "new year")) and one.last is None


def _is_of_the_month(one: Dates, text: str) -> bool:
    return one.first is not None and bool(re.search(r"\d", text[one.at : one.end]))


def _undecided(found: list[Dates], text: str) -> list[Dates]:
    """'Thursday or Friday' has to be asked."""
    kept: list[Dates] = []
    for one in found:
        before = kept[-1] if kept else None
        if (
            before
            and not before.last
            and not one.last
            and re.fullmatch(r" or (?:maybe |perhaps |even |on )*(?:the )?", text[before.end : one.at])
        ):
            kept[-1] = replace(before, end=one.end, first=None, doubtful=True)
        else:
            kept.append(one)
    return kept


def _in_the_week_named(found: list[Dates], text: str) -> list[Dates]:
    """'Monday to Friday next week' is one stretch, and 'Tuesday next week' one day."""
    kept: list[Dates] = []
    for one in found:
        before = kept[-1] if kept else None
        if (
            before
            and before.first
            and text[one.at : one.end].endswith(("next week", "this week"))
            and text[before.end : one.at].strip() in {"", "of", "in"}
            and one.first
            and re.search(rf"{DAY}$", text[before.at : before.end])
        ):
            monday = one.first - dt.timedelta(days=one.first.weekday())
            first = monday + dt.timedelta(days=before.first.weekday())
            days = (before.last - before.first).days if before.last else 0
            last = first + dt.timedelta(days=days) if before.last else None
            kept[-1] = replace(before, end=one.end, first=first, last=last)
        else:
            kept.append(one)
    return kept


def _without_week_around(found: list[Dates], text: str) -> list[Dates]:
    """Where 'this week from tomorrow to Saturday' is no more than tomorrow to Saturday."""
    stretches = [(one.first, one.last) for one in found if one.first and one.last and not _is_week(one, text)]
    return [
        one
        for one in found
        if not (
            _is_week(one, text)
            and one.first
            and one.last
            and any(one.first <= first and last <= one.last for first, last in stretches)
        )
    ]


def _is_week(one: Dates, text: str) -> bool:
    return text[one.at : one.end].endswith(("this week", "next week"))


def _resolved(text: str, today: dt.date, base: dt.date | None = None) -> Iterator[Dates]:
    order = numeric_order(text)
    for found in SPAN.finditer(text):
        if found["sometime"]:
            yield Dates(at=found.start(), end=found.end(), vague=True)
            continue
        if found["within"]:
            yield Dates(at=found.start(), end=found.end(), vague=True)
            base = first_of_month(found["within"], today)
            continue
        dates = dates_in(found, today, base, order)
        if dates:
            dates = _put_off(dates, text)
            yield dates
            order = order or order_of(found["num4"] or found["num1"], dates.first)
            base = (dates.first if found["named"] else dates.last) or dates.first or base
