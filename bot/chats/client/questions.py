"""The questions of an enrolment, also put one by one under /settings: how each is put, its buttons, and how an answer is read.

An answer is the client with it, or a sentence that says what is wrong with it.
"""

import datetime as dt
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from bot.chats.buttons import Button, button
from bot.chats.phrases import enrol as say
from bot.chats.phrases.trips import unknown_place, which_place
from core.calendar import zones
from core.calendar.places import PlaceFound, find_places, the_one
from core.people.model import Client
from core.programme.words import ROOM_WORDS
from core.replies import understand
from core.replies.meaning import Asked
from core.terms import Level, Place, Room

HURTS = (
    Place.NECK,
    Place.SHOULDER,
    Place.ELBOW,
    Place.WRIST,
    Place.UPPER_BACK,
    Place.LOWER_BACK,
    Place.HIP,
    Place.KNEE,
    Place.ANKLE,
)
CLOCKS = ("Europe/London", "Europe/Berlin", "Europe/Athens", "Asia/Dubai", "Asia/Singapore", "Australia/Sydney",
          "America/New_York", "America/Chicago", "America/Los_Angeles")  # fmt: skip
DAY_PRESETS = {
    "Mon Wed Fri": (1, 3, 5),
    "Tue Thu": (2, 4),
    "Tue Thu Sat": (2, 4, 6),
    "Weekends": (6, 7),
    "Any day": (),
}
HOUR_PRESETS = ("06:00", "07:00", "12:30", "17:30", "18:30", "20:00")
GOALS = ("Keep my strength", "Get stronger", "Build muscle", "Feel well on the road")
LEVEL_LABELS = {
    Level.BEGINNER: "New, or years ago",
    Level.INTERMEDIATE: "Some months, steadily",
    Level.ADVANCED: "Years",
}

Answer = Client | str  # the client with the answer in it, or what is wrong with it


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One question: how it is put, its buttons, and how an answer is read."""

    name: str
    question: str
    rows: Callable[[Client, dt.datetime], Sequence[Sequence[Button]]]
    read: Callable[[Client, str], Answer]
    label: str  # under /settings


def _rows(labels: Sequence[tuple[str, str]], step: str, wide: int) -> list[list[Button]]:
    buttons = [button(label, "e", step, value) for label, value in labels]
    return [buttons[i : i + wide] for i in range(0, len(buttons), wide)]


def _clocks(_client: Client, at: dt.datetime) -> list[list[Button]]:
    labels = [
        (f"{zones.local(at, z):%H:%M} {z.split('/')[1].replace('_', ' ')}", str(n))
        for n, z in enumerate(CLOCKS)
    ]
    return _rows(labels, "zone", 3)


def _read_zone(client: Client, words: str) -> Answer:
    if words.isdecimal() and int(words) < len(CLOCKS):
        zone = CLOCKS[int(words)]
        found = find_places(zone.split("/")[1].replace("_", " "))
        return (
            at_home(client, next((p for p in found if p.zone == zone), None))
            if found
            else replace(client, zone=zone)
        )
    found = find_places(words)
    clear = the_one(found)
    return say_which(words, found) if clear is None else at_home(client, clear)


def say_which(words: str, found: Sequence[PlaceFound]) -> str:
    return which_place(words) if found else unknown_place(words)


def at_home(client: Client, place: PlaceFound | None) -> Client:
    if place is None:
        return client
    return replace(client, place=place.name, country=place.country, zone=place.zone)


def _number(words: str) -> float | None:
    found = re.fullmatch(r"\s*(\d{1,3}(?:[.,]\d{1,2})?)\s*[a-z ]*", words.lower())
    return float(found.group(1).replace(",", ".")) if found else None


def _read_lately(client: Client, words: str) -> Answer:
    between = re.fullmatch(
        r"\s*(\d)\s*(?:-|–|to|or)\s*\d\b[a-z ]*", words.lower()
    )  # the first promise is at most that
    number = _number(between.group(1) if between else words)
    if number is None or not 0 <= number <= 7 or number != int(number):
        return say.bad_count(words)
    return replace(client, lately=int(number))


def _read_minutes(client: Client, words: str) -> Answer:
    number = _minutes_in(words) or _number(words)
    if number is None or not 10 <= number <= 120:
        return say.bad_minutes(words)
    return replace(client, minutes=int(number))


def _minutes_in(words: str) -> float | None:
    """'1 hour', 'an hour and a half'."""
    now = dt.datetime(2026, 1, 5, 12, tzinfo=dt.UTC)
    return understand(words, asked=Asked.EFFORT, now=now, zone="UTC").minutes


def _hours_in(words: str) -> float | None:
    """'about eight', '7 to 8'."""
    now = dt.datetime(2026, 1, 5, 12, tzinfo=dt.UTC)
    return understand(words, asked=Asked.SLEEP, now=now, zone="UTC").sleep_h


def _read_room(client: Client, words: str) -> Answer:
    by_words = {**{r.value: r for r in Room}, **{v.removeprefix("a "): r for r, v in ROOM_WORDS.items()}}
    room = by_words.get(words.strip().lower().removeprefix("a "))
    return replace(client, room=room) if room else say.tap_one()


def _read_level(client: Client, words: str) -> Answer:
    level = next((lv for lv in Level if lv.value == words.strip().lower()), None)
    return replace(client, level=level) if level else say.tap_one()


def _read_complaints(client: Client, words: str) -> Answer:
    if words == "none":
        return replace(client, complaints=())
    if words == "done":
        return client
    if words.isdecimal() and int(words) < len(HURTS):
        place = HURTS[int(words)].value
        kept = tuple(c for c in client.complaints if c != place)
        return replace(
            client, complaints=kept if len(kept) < len(client.complaints) else (*client.complaints, place)
        )
    named = {p.value for p in HURTS if p.value in words.lower()}
    return replace(client, complaints=tuple(sorted(named))) if named else say.tap_one()


def _read_goal(client: Client, words: str) -> Answer:
    goal = GOALS[int(words)] if words.isdecimal() and int(words) < len(GOALS) else words.strip()
    return replace(client, goal=goal[:300])


def _read_days(client: Client, words: str) -> Answer:
    if words in DAY_PRESETS:
        return replace(client, usual_days=DAY_PRESETS[words])
    days = _days_in(words, client)
    return replace(client, usual_days=days) if days else say.bad_days(words)


def _days_in(words: str, client: Client) -> tuple[int, ...]:
    meaning = understand(
        words, asked=Asked.DAYS, now=dt.datetime(2026, 1, 5, 12, tzinfo=dt.UTC), zone=client.zone
    )
    return tuple(int(d) for d in meaning.days)


def read_hour(words: str) -> dt.time | None:
    """Read a time of day as people write it."""
    found = re.fullmatch(r"\s*(\d{1,2})(?:[:.h ]\s*(\d{2}))?\s*(am|pm|h)?\s*", words.lower())
    if found is None:
        now = dt.datetime(2026, 1, 5, 12, tzinfo=dt.UTC)
        read = (understand(words, asked=asked, now=now, zone="UTC") for asked in (Asked.DAYS, Asked.SESSION))
        return next((meaning.time for meaning in read if meaning.time is not None), None)
    hours, minutes = int(found.group(1)), int(found.group(2) or 0)
    hours += 12 if found.group(3) == "pm" and hours < 12 else 0
    hours -= 12 if found.group(3) == "am" and hours == 12 else 0
    return dt.time(hours % 24 if hours == 24 else hours, minutes) if hours <= 24 and minutes < 60 else None


def _read_hour(client: Client, words: str) -> Answer:
    at = read_hour(words.replace("_", ":"))
    return replace(client, usual_time=at) if at else say.bad_hour(words)


def _read_sleep(client: Client, words: str) -> Answer:
    number = _number(words) or _hours_in(words)
    if number is None or not 4 <= number <= 12:
        return say.bad_sleep(words)
    return replace(client, sleep_need=number)


def _read_quiet(client: Client, words: str) -> Answer:
    if words == "yes":
        return client
    parts = re.split(r"\s*(?:-|–|to|until|till)\s*", words.strip().lower().removeprefix("from "))
    hours = [read_hour(p) for p in parts]
    if len(hours) != 2 or hours[0] is None or hours[1] is None or hours[0] == hours[1]:
        return say.bad_quiet(words)
    return replace(client, quiet_from=hours[0], quiet_to=hours[1])


def _complaint_rows(client: Client, _at: dt.datetime) -> list[list[Button]]:
    labels = [
        (f"{p.value} •" if p.value in client.complaints else p.value, str(n)) for n, p in enumerate(HURTS)
    ]
    rows = _rows(labels, "complaints", 3)
    last = (say.GO_ON, "done") if client.complaints else (say.NONE_HURT, "none")
    return [*rows, [button(last[0], "e", "complaints", last[1])]]


def _fixed(
    step: str, labels: Sequence[tuple[str, str]], wide: int
) -> Callable[[Client, dt.datetime], list[list[Button]]]:
    return lambda _client, _at: _rows(labels, step, wide)


STEPS: tuple[Step, ...] = (
    Step(name="zone", label="where I live", question=say.ZONE, rows=_clocks, read=_read_zone),
    Step(
        name="lately",
        label="sessions lately",
        question=say.LATELY,
        rows=_fixed("lately", [(str(n), str(n)) for n in range(6)], 6),
        read=_read_lately,
    ),
    Step(
        name="minutes",
        label="minutes",
        question=say.MINUTES,
        rows=_fixed("minutes", [(str(n), str(n)) for n in (20, 30, 45, 60, 75, 90)], 3),
        read=_read_minutes,
    ),
    Step(
        name="room",
        label="equipment",
        question=say.ROOM,
        rows=_fixed("room", [(ROOM_WORDS[r], r.value) for r in Room], 2),
        read=_read_room,
    ),
    Step(
        name="level",
        label="experience",
        question=say.LEVEL,
        rows=_fixed("level", [(LEVEL_LABELS[lv], lv.value) for lv in Level], 1),
        read=_read_level,
    ),
    Step(
        name="complaints",
        label="what hurts",
        question=say.COMPLAINTS,
        rows=_complaint_rows,
        read=_read_complaints,
    ),
    Step(
        name="goal",
        label="goal",
        question=say.GOAL,
        rows=_fixed("goal", [(g, str(n)) for n, g in enumerate(GOALS)], 2),
        read=_read_goal,
    ),
    Step(
        name="days",
        label="best days",
        question=say.DAYS,
        rows=_fixed("days", [(d, d) for d in DAY_PRESETS], 2),
        read=_read_days,
    ),
    Step(
        name="hour",
        label="hour",
        question=say.HOUR,
        rows=_fixed("hour", [(h, h.replace(":", "_")) for h in HOUR_PRESETS], 3),
        read=_read_hour,
    ),
    Step(
        name="sleep",
        label="sleep",
        question=say.SLEEP,
        rows=_fixed("sleep", [(f"{n:g} h", f"{n:g}") for n in (6.5, 7, 7.5, 8, 8.5, 9)], 3),
        read=_read_sleep,
    ),
    Step(
        name="quiet",
        label="quiet hours",
        question=say.QUIET,
        rows=_fixed("quiet", [("Yes, that suits me", "yes")], 1),
        read=_read_quiet,
    ),
)
BY_NAME = {step.name: step for step in STEPS}
NAMES = [step.name for step in STEPS]
