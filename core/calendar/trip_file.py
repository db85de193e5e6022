"""Trips out of a calendar file (RFC 5545) that a client sends.

The file is a stranger's: what is parsed of it is small whatever it holds (`calendar_text`), and what repeats is expanded only as far
as that is little work. A whole calendar is full of birthdays, days off and meetings: what is no trip, or repeats in a way that is
not read, keeps nobody from the trips beside it.
"""

import datetime as dt
import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.calendar import zones
from core.calendar.calendar_text import nearby
from core.errors import Refused

if TYPE_CHECKING:
    import icalendar  # some megabytes, for the few who send a calendar

_LONG_ENOUGH = dt.timedelta(hours=12)  # a timed event shorter than this is no trip (common sense, no source)
# Shorter, and it comes back for ever: a habit (common sense, no source).
_LONG_ENOUGH_TO_REPEAT = dt.timedelta(days=2)
_RULE_PARTS = frozenset({"FREQ", "COUNT", "UNTIL", "INTERVAL", "BYDAY", "WKST"})
_FREQUENCIES = frozenset({"DAILY", "WEEKLY", "MONTHLY", "YEARLY"})
_WEEKDAY = re.compile(r"[+-]?[1-5]?(MO|TU|WE|TH|FR|SA|SU)", re.IGNORECASE)
_MOST_REPEATING = 20  # events that repeat at all
_MOST_REPEATS = 200  # of one event
_LONGEST_INTERVAL = 60
# From the first time that an event took place to the last that matters; some six years of days.
_MOST_STEPS = 2500
# What a broken file raises in the library.
_CROOKED = (
    ValueError,
    TypeError,
    AttributeError,
    LookupError,
    ArithmeticError,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Some days that a calendar file names: perhaps a trip. ``place`` is where it says to be, in its own words."""

    title: str
    place: str
    first: dt.date
    last: dt.date


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read of a file: the spans in the order of their dates, and how many events are no trip.

    ``unread``: the titles of those that may be trips and repeat in a way that is not read.
    """

    spans: tuple[Span, ...]
    left_out: int
    unread: tuple[str, ...] = ()


def read_spans(data: bytes, *, since: dt.date, until: dt.date, zone: str) -> Reading:
    """The spans of a calendar file that touch the dates from ``since`` to ``until``.

    Whole days count, and timed events of half a day and more, from the local date of their beginning to that of their end;
    a time in UTC is read in ``zone``. Events of other years are passed over, and not counted. Refuses a file that is too
    large, or is no calendar.
    """
    calendar = _parse(nearby(data, since, until))
    try:
        events = [event for event in calendar.walk("VEVENT") if "DTSTART" in event]
        candidates = [event for event in events if _may_be_trip(event)]
        once = [event for event in candidates if "RRULE" not in event]
        repeating = [event for event in candidates if "RRULE" in event]
        readable = [event for event in repeating if _is_little_work(event, until)][:_MOST_REPEATING]
        spans = {span for event in (*once, *readable) for span in _spans(event, since, until, zone)}
    except _CROOKED as error:
        raise Refused(
            "The calendar file has an event with broken dates; mend it in your calendar, or send fewer."
        ) from error
    in_order = sorted(spans, key=lambda span: (span.first, span.last, span.title, span.place))
    unread = dict.fromkeys(_title(event) for event in repeating if event not in readable)
    return Reading(tuple(in_order), len(events) - len(candidates), tuple(unread))


def _parse(text: str) -> "icalendar.Calendar":
    import icalendar

    try:
        parsed = icalendar.Calendar.from_ical(text)
    except _CROOKED as error:
        raise Refused("The file is not a calendar that can be read; export it again as .ics.") from error
    return parsed


def _may_be_trip(event: "icalendar.Component") -> bool:
    if str(event.get("STATUS", "")).upper() == "CANCELLED" or _is_habit(event):
        return False
    begins, ends = _bounds(event)
    if not isinstance(begins, dt.datetime) or not isinstance(ends, dt.datetime):
        return type(begins) is type(ends) and begins <= ends
    if (begins.tzinfo is None) != (ends.tzinfo is None):
        begins, ends = begins.replace(tzinfo=None), ends.replace(tzinfo=None)
    return ends - begins >= _LONG_ENOUGH


def _is_habit(event: "icalendar.Component") -> bool:
    """A day that comes back for ever: somebody's birthday, the weekly day off, a night shift; and no trip."""
    if all({"COUNT", "UNTIL"} & set(rule) for rule in _rules(event)):
        return False
    begins, ends = (
        each.replace(tzinfo=None) if isinstance(each, dt.datetime) else each for each in _bounds(event)
    )
    return type(begins) is type(ends) and ends - begins < _LONG_ENOUGH_TO_REPEAT


def _bounds(event: "icalendar.Component") -> tuple[dt.date, dt.date]:
    """Where an event begins and ends, as it is written; a whole day lasts one day where nothing else is said."""
    begins = event.decoded("DTSTART")
    if not isinstance(begins, dt.date):
        raise Refused(
            f"The event '{_title(event)}' does not say on which date it begins; mend it in your calendar."
        )
    if "DTEND" in event:
        ends = event.decoded("DTEND")
    elif "DURATION" in event:
        ends = begins + event.decoded("DURATION")
    else:
        ends = begins if isinstance(begins, dt.datetime) else begins + dt.timedelta(days=1)
    if not isinstance(ends, dt.date):
        raise Refused(
            f"The event '{_title(event)}' does not say on which date it ends; mend it in your calendar."
        )
    return begins, ends


def _title(event: "icalendar.Component") -> str:
    return str(event.get("SUMMARY", "")).strip() or "without a title"


def _rules(event: "icalendar.Component") -> "list[icalendar.vRecur]":
    rules = event.get("RRULE", [])
    return rules if isinstance(rules, list) else [rules]


def _is_little_work(event: "icalendar.Component", until: dt.date) -> bool:
    """Whether an event repeats in a plain way, and not too often to be followed up to a date."""
    days = max((until - _date(_bounds(event)[0], "UTC")).days, 1)
    return all(_is_plain(rule) and _steps(rule, days) <= _MOST_STEPS for rule in _rules(event))


def _steps(rule: "icalendar.vRecur", days: int) -> float:
    """How often it takes place in so many days, at the most."""
    weekdays, dates = len(_values(rule, "BYDAY")), len(_values(rule, "BYMONTHDAY"))
    match str(_values(rule, "FREQ")[0]).upper():
        case "YEARLY":
            return days / 365 * max(53 * weekdays, 1)
        case "MONTHLY":
            return days / 28 * max(5 * weekdays, dates, 1)
        case "WEEKLY":
            return days / 7 * max(weekdays, 1)
        case _:
            return days


def _is_plain(rule: "icalendar.vRecur") -> bool:
    """Whether a rule is one that people use: no seconds, no sixth Mondays."""
    frequency = str(_values(rule, "FREQ")[0]).upper()
    parts = _RULE_PARTS | ({"BYMONTHDAY"} if frequency == "MONTHLY" else set())
    interval, count = (int((_values(rule, part) or ["1"])[0]) for part in ("INTERVAL", "COUNT"))
    return (
        set(rule) <= parts
        and frequency in _FREQUENCIES
        and 1 <= interval <= _LONGEST_INTERVAL
        and 1 <= count <= _MOST_REPEATS
        and all(_WEEKDAY.fullmatch(day) for day in _values(rule, "BYDAY"))
        and all(1 <= int(day) <= 31 for day in _values(rule, "BYMONTHDAY"))
    )


def _values(rule: "icalendar.vRecur", part: str) -> list[str]:
    values = rule.get(part, [])
    return [str(value) for value in (values if isinstance(values, list) else [values])]


def _spans(event: "icalendar.Component", since: dt.date, until: dt.date, zone: str) -> Iterator[Span]:
    """Each occurrence of an event that touches the dates."""
    begins, ends = _bounds(event)
    first, last = _date(begins, zone), _last_date(ends, zone)
    length = max(last - first, dt.timedelta(0))
    for day in _repeated(event, since - length, until, zone) if "RRULE" in event else [first]:
        if day <= until and since <= day + length:
            yield Span(title=_title(event), place=_place(event), first=day, last=day + length)


def _repeated(event: "icalendar.Component", since: dt.date, until: dt.date, zone: str) -> list[dt.date]:
    """The first dates of an event that repeats, in the dates given."""
    import icalendar
    import recurring_ical_events

    alone = icalendar.Calendar()
    alone.add_component(event)
    occurrences = recurring_ical_events.of(alone).between(since, until + dt.timedelta(days=1))
    return [_date(_bounds(each)[0], zone) for each in itertools.islice(occurrences, _MOST_REPEATS)]


def _place(event: "icalendar.Component") -> str:
    return str(event.get("LOCATION", "")).strip() or str(event.get("SUMMARY", "")).strip()


def _date(at: dt.date, zone: str) -> dt.date:
    """The date that is meant: as it is written, but a time in UTC is read in the client's zone."""
    if not isinstance(at, dt.datetime):
        return at
    return zones.local(at, zone).date() if at.tzinfo is not None and at.tzname() == "UTC" else at.date()


def _last_date(ends: dt.date, zone: str) -> dt.date:
    """The last date before an end that is itself not part of it."""
    if isinstance(ends, dt.datetime):
        return _date(ends - dt.timedelta(microseconds=1), zone)
    return ends - dt.timedelta(days=1)
