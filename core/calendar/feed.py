"""A client's asks as an iCalendar feed (RFC 5545).

A session is written in UTC: every calendar shows that in the zone of the phone that looks at it, which is the one where the
client is, and it needs no VTIMEZONE. A day without an hour is written as a date, which is the same date anywhere.
"""

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import icalendar

_REFRESH = dt.timedelta(hours=1)  # how often a calendar may look again (RFC 7986 §5.7)
_CONTROL = re.compile(r"[\x00-\x09\x0b-\x1f\x7f]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """An ask as it stands in a client's calendar.

    ``key`` names the ask for ever, so that a move changes the entry rather than adding one; ``revision`` rises with each change;
    ``begins`` is an instant, or None where only the day is known: then the whole day.
    """

    key: str
    revision: int
    day: dt.date
    begins: dt.datetime | None
    minutes: int
    title: str
    text: str = ""


def write_feed(entries: Iterable[Entry], *, name: str, revised_at: dt.datetime) -> bytes:
    """The feed of one client; the same bytes for the same arguments."""
    import icalendar  # some megabytes, for the few who subscribe

    calendar = icalendar.Calendar()
    calendar.add("prodid", "-//Keptword//Sessions//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", _plain(name))
    calendar.add("refresh-interval", _REFRESH, parameters={"VALUE": "DURATION"})
    for entry in entries:
        calendar.add_component(_event(entry, revised_at))
    return bytes(calendar.to_ical())


def _event(entry: Entry, revised_at: dt.datetime) -> "icalendar.Event":
    import icalendar

    event = icalendar.Event()
    event.add("uid", f"{entry.key}@keptword")
    event.add("sequence", entry.revision)
    event.add("dtstamp", revised_at.astimezone(dt.UTC))
    event.add("summary", _plain(entry.title))
    if entry.text:
        event.add("description", _plain(entry.text))
    if entry.begins is None:
        event.add("dtstart", entry.day)
        event.add("transp", "TRANSPARENT")
        return event
    event.add("dtstart", entry.begins.astimezone(dt.UTC))
    event.add("duration", dt.timedelta(minutes=entry.minutes))
    return event


def _plain(text: str) -> str:
    return _CONTROL.sub(" ", text)
