"""Laying a promise out on days, and changing the layout without losing what was already asked or answered."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.calendar.weeks import IsoWeek
from core.week.count import of_promise
from core.week.model import Ask
from core.week.moving import move


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What changes: asks to keep in their changed form, and days that need an ask of their own."""

    changed: tuple[Ask, ...]
    new_days: tuple[dt.date, ...]


def lay_out(asks: Sequence[Ask], days: Sequence[dt.date], at: dt.time, minutes: int) -> Layout:
    """Lay the open asks of a week on these days: stay where a day stays, move what can move, withdraw what is over.

    Asks that have an outcome are left alone and their days are taken as spent.
    """
    answered = {a.day for a in of_promise(asks) if a.outcome is not None}
    wanted = [day for day in days if day not in answered]
    waiting = [a for a in of_promise(asks) if a.is_open]
    staying = {a.day: a for a in waiting if a.day in wanted}
    loose = [a for a in waiting if staying.get(a.day) is not a]
    places = [day for day in wanted if day not in staying]
    moved = [move(a, day, at) for a, day in zip(loose, places, strict=False)]
    kept = [move(a, a.day, at) for a in staying.values()]
    gone = [withdraw(a) for a in loose[len(places) :]]
    resized = [replace(a, minutes=minutes) for a in (*kept, *moved)]
    return Layout(changed=(*resized, *gone), new_days=tuple(places[len(loose) :]))


def withdraw(ask: Ask) -> Ask:
    """Take an ask back: no evidence, no row in the history."""
    return replace(ask, withdrawn=True, revision=ask.revision + 1)


def new_ask(client_id: int, week: IsoWeek, day: dt.date, at: dt.time, minutes: int) -> Ask:
    return Ask(id=0, client_id=client_id, week=week, day=day, at=at, minutes=minutes)
