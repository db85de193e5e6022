"""Invented asks, promises and circumstances for the tables of the week's rules. The week is Monday 30 November 2026's."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from core.calendar.quiet import QuietHours
from core.calendar.trips import Stay, Trip, Whereabouts
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Stage
from core.terms import Outcome
from core.week.agenda import Known
from core.week.circumstances import Circumstances
from core.week.model import Ask, Promise

WEEK = IsoWeek(2026, 49)
WEEKDAYS = {name: n for n, name in enumerate(("mon", "tue", "wed", "thu", "fri", "sat", "sun"))}
OUTCOMES = {
    "done": Outcome.DONE,
    "short": Outcome.SHORT,
    "missed": Outcome.MISSED,
    "unanswered": Outcome.UNANSWERED,
    "excused": Outcome.EXCUSED,
    "open": None,
}


def day(name: str, week: IsoWeek = WEEK) -> dt.date:
    return week.monday + dt.timedelta(days=WEEKDAYS[name])


def days(names: str, week: IsoWeek = WEEK) -> list[dt.date]:
    return [day(name, week) for name in names.split()]


def utc(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text + "+00:00")


def ask(number: int, weekday: str, ended: str = "open", **fields: Any) -> Ask:
    usual: dict[str, Any] = {"client_id": 1, "week": WEEK, "at": dt.time(7), "minutes": 45}
    one = Ask(id=number, day=day(weekday, fields.get("week", WEEK)), **{**usual, **fields})
    if ended == "extra":
        return replace(one, extra=True, outcome=Outcome.EXTRA)
    if ended == "withdrawn":
        return replace(one, withdrawn=True)
    return replace(one, outcome=OUTCOMES[ended], missed_once=one.missed_once or ended == "missed")


def asks(words: str) -> list[Ask]:
    """Asks from 'mon done, wed open': numbered from 1 in the order in which they are written."""
    return [ask(n, *part.split()) for n, part in enumerate(filter(None, words.split(", ")), 1)]


def told(found: Sequence[Ask]) -> str:
    """The same the other way round, in the order of their numbers."""
    names = list(WEEKDAYS)
    return ", ".join(
        f"{names[a.day.weekday()]} {'withdrawn' if a.withdrawn else a.outcome or 'open'}"
        for a in sorted(found, key=lambda a: a.id)
    )


def prompted(one: Ask, at: str, **fields: Any) -> Ask:
    return replace(one, prompted=one.revision, prompted_at=utc(at), **fields)


def life(
    zone: str = "Europe/Lisbon",
    *trips: Trip,
    quiet: QuietHours | None = None,
    paused_until: dt.date | None = None,
) -> Circumstances:
    return Circumstances(Whereabouts(Stay(zone=zone), trips), quiet or QuietHours(), paused_until)


def trip(zone: str, first: str, last: str | None, *, in_reach: bool = True) -> Trip:
    return Trip(
        place="Elsewhere",
        zone=zone,
        first=dt.date.fromisoformat(first),
        last=None if last is None else dt.date.fromisoformat(last),
        in_reach=in_reach,
    )


def client(**fields: Any) -> Client:
    usual: dict[str, Any] = {
        "coach_id": 1,
        "name": "Mara",
        "telegram_id": 7101,
        "stage": Stage.ACTIVE,
        "zone": "Europe/Lisbon",
    }
    return Client(id=1, **{**usual, **fields})


def promise(week: IsoWeek = WEEK, **fields: Any) -> Promise:
    return Promise(id=9, client_id=1, week=week, **fields)


def known(
    *found: Ask, promises: Sequence[Promise] = (), where: Circumstances | None = None, **fields: Any
) -> Known:
    nights = fields.pop("nights_known", frozenset())
    return Known(
        client=client(**fields),
        life=where or life(),
        promises=promises,
        asks=found,
        nights_known=nights,
    )
