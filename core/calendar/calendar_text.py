"""A calendar file (RFC 5545) cut down to what may be a trip, as text: whole calendars are exported, years of them.

The file is a stranger's, so its size is measured before anything else, every line of it is looked at once, and what is left for the
library to parse is small whatever the file holds: no zone definitions (we have our own), no alarms, no descriptions, and no event
that is over or far away.
"""

import datetime as dt
import re
from collections.abc import Iterator, Sequence

from core.errors import Refused

LARGEST = 5_000_000  # bytes of a file that is read at all; a calendar of ten years or so
MOST_EVENTS = 1000  # near enough to be looked at
_DEEPEST = 4
_KEPT = frozenset(
    {
        "DTSTART",
        "DTEND",
        "DURATION",
        "SUMMARY",
        "LOCATION",
        "STATUS",
        "RRULE",
        "RDATE",
        "EXDATE",
        "UID",
        "RECURRENCE-ID",
    }
)
_LONGEST_LINE = 2_000  # signs; an event that needs more says no trip
_MOST_LINES = 100  # of one event
_LONGEST_DURATION = dt.timedelta(days=400)  # of an event that says how long it lasts and not when it ends
_DATE = re.compile(r"(\d{4})(\d{2})(\d{2})")
_UNTIL = re.compile(r"UNTIL=(\d{8})", re.IGNORECASE)
_A_DAY = dt.timedelta(days=1)

Event = Sequence[str]  # its lines, without BEGIN and END


def nearby(data: bytes, since: dt.date, until: dt.date) -> str:
    """The events of a file that may touch the dates, as a calendar of their own. ``Refused`` where it is none, or too large."""
    if len(data) > LARGEST:
        raise Refused(
            f"The calendar file is larger than {LARGEST // 1_000_000} MB; send one with only the trips in it."
        )
    text = re.sub(r"\r?\n[ \t]", "", data.decode("utf-8-sig", errors="replace"))
    kept = [event for event in _events(text.splitlines()) if _is_near(event, since - _A_DAY, until + _A_DAY)]
    if len(kept) > MOST_EVENTS:
        raise Refused(
            f"The calendar file holds more than {MOST_EVENTS} events of the coming year; send one with only the trips in it."
        )
    body = [line for event in kept for line in ("BEGIN:VEVENT", *event, "END:VEVENT")]
    return "\r\n".join(["BEGIN:VCALENDAR", *body, "END:VCALENDAR", ""])


def _events(lines: Sequence[str]) -> Iterator[Event]:
    inside, event = list[str](), list[str]()
    found = False
    for line in lines:
        name, _, value = line.partition(":")
        name, what = name.partition(";")[0].strip().upper(), value.strip().upper()
        if name == "BEGIN":
            inside.append(what)
            found = found or what == "VCALENDAR"
            event = [] if what == "VEVENT" else event
            if len(inside) > _DEEPEST:
                raise Refused(
                    "The calendar file is nested too deeply to be a calendar of trips; export it again."
                )
        elif name == "END" and inside:
            if inside.pop() == "VEVENT":
                yield event
        elif inside[-1:] == ["VEVENT"] and name in _KEPT:
            event.append(line)
    if not found:
        raise Refused("The file is not a calendar (it has no BEGIN:VCALENDAR); export it again as .ics.")
    if inside:
        raise Refused("The calendar file breaks off before its end; export it again as .ics.")


def _is_near(event: Event, since: dt.date, until: dt.date) -> bool:
    """Whether an event may touch the dates; what its dates do not tell plainly is for the library to read."""
    if len(event) > _MOST_LINES or any(len(line) > _LONGEST_LINE for line in event):
        return False
    first, last = _date_in(event, "DTSTART"), _date_in(event, "DTEND")
    if first is None:
        return True
    rules = [line for line in event if line.upper().startswith("RRULE")]
    if rules or any(line.upper().startswith("RDATE") for line in event):
        over = [_as_date(found[1]) for line in rules if (found := _UNTIL.search(line))]
        last = max((day for day in over if day is not None), default=dt.date.max) if over else dt.date.max
        return first <= until and last >= since - _LONGEST_DURATION
    lasts = any(line.upper().startswith("DURATION") for line in event)
    if last is None and lasts:
        return first <= until and first >= since - _LONGEST_DURATION
    return first <= until and max(first, last or first) >= since


def _date_in(event: Event, name: str) -> dt.date | None:
    """The date that a line of this name holds, in whichever zone; None where there is none, or it is crooked."""
    found = [line.rpartition(":")[2] for line in event if line.upper().startswith(name)]
    return _as_date(found[0]) if len(found) == 1 else None


def _as_date(digits: str) -> dt.date | None:
    found = _DATE.match(digits.strip())
    try:
        return dt.date(*map(int, found.groups())) if found else None
    except ValueError:
        return None
