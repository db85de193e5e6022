"""Days, hours and counts, the way people write them."""

import datetime as dt
import html
from collections.abc import Iterable, Sequence

from core.calendar.countries import region_name
from core.calendar.places import PlaceFound
from core.calendar.weeks import IsoWeek
from core.how_many import how_many
from core.people.names import in_its_own_direction
from core.programme.words import ROOM_WORDS
from core.terms import Room

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LONG_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def safe(words: str, most: int = 600) -> str:
    """What a person wrote, fit to stand in a message: escaped, no longer than it need be, and turning round nothing but itself."""
    cut = words if len(words) <= most else words[: most - 1].rstrip() + "…"
    return html.escape(in_its_own_direction(cut), quote=False)


def weekday(day: dt.date | int) -> str:
    number = day if isinstance(day, int) else day.isoweekday()
    return DAYS[number - 1]


def long_weekday(day: dt.date | int) -> str:
    number = day if isinstance(day, int) else day.isoweekday()
    return LONG_DAYS[number - 1]


def date(day: dt.date) -> str:
    """'Wed 25 Nov'."""
    return f"{weekday(day)} {day.day} {day:%b}"


def hour(at: dt.time) -> str:
    return f"{at:%H:%M}"


def near_day(day: dt.date, today: dt.date) -> str:
    """'today', 'tomorrow', 'yesterday', else 'Wed 25 Nov'."""
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    return near.get((day - today).days, date(day))


def begun(words: str) -> str:
    """Words as a sentence begins: its first letter large, the others as they are ('Fri 1 Jan')."""
    return words[:1].upper() + words[1:]


def span(week: IsoWeek) -> str:
    """'30 Nov to 6 Dec'."""
    first, last = week.monday, week.sunday
    start = f"{first.day}" if first.month == last.month else f"{first.day} {first:%b}"
    return f"{start} to {last.day} {last:%b}"


def dates(first: dt.date, last: dt.date | None) -> str:
    """'3 to 7 Dec', 'from 3 Dec' while the end is open."""
    if last is None:
        return f"from {first.day} {first:%b}"
    if first == last:
        return f"{first.day} {first:%b}"
    start = (
        f"{first.day}" if (first.month, first.year) == (last.month, last.year) else f"{first.day} {first:%b}"
    )
    return f"{start} to {last.day} {last:%b}"


def sessions(number: int) -> str:
    return how_many(number, "session")


def listed(words: Iterable[str], last: str = "and") -> str:
    """'a', 'a and b', 'a, b and c'."""
    all_words = list(words)
    if len(all_words) < 2:
        return "".join(all_words)
    return f"{', '.join(all_words[:-1])} {last} {all_words[-1]}"


def days_listed(days: Sequence[dt.date]) -> str:
    """'Mon and Wed', 'Mon and twice on Wed'."""
    once = dict.fromkeys(days)
    return listed(weekday(d) if days.count(d) == 1 else f"twice on {weekday(d)}" for d in once)


def days_at(when: Sequence[tuple[dt.date, dt.time]]) -> str:
    """'Mon and Wed at 07:30', 'Mon at 07:30 and Wed at 18:00'."""
    if len({at for _, at in when}) > 1:
        return listed(f"{weekday(day)} at {hour(at)}" for day, at in when)
    return f"{days_listed([day for day, _ in when])} at {hour(when[0][1])}" if when else ""


def place(found: PlaceFound) -> str:
    """A place told apart from others of its name: 'Springfield, Illinois, United States'."""
    region = region_name(found.country, found.region)
    return ", ".join(part for part in (found.name, region, found.country_name) if part)


def told_apart(found: Iterable[PlaceFound], most: int = 6) -> list[PlaceFound]:
    """The first so many places that can be told apart by what is said of them: nobody chooses between two equal buttons."""
    first: dict[str, PlaceFound] = {}
    for each in found:
        first.setdefault(place(each), each)
    return list(first.values())[:most]


def room_label(room: Room) -> str:
    """'hotel gym', 'no equipment': a room on a button."""
    return ROOM_WORDS[room].removeprefix("a ")


def hours_of_sleep(hours: float) -> str:
    """'6.5 h'."""
    return f"{hours:g} h"
