"""Laying a promise out on days, and changing the layout without losing what was already asked or answered."""

import datetime as dt
from collections.abc import Callable, Sequence
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


def lay_out(
    asks: Sequence[Ask], days: Sequence[dt.date], at: dt.time, minutes: int | None, *, number: int
) -> Layout:
    """Lay the open asks of a week on these days: stay where a day stays, move what can move, withdraw what is over.

    Asks that have an outcome are left alone and count towards `number`; a day of theirs gets no new one. The weekly message of a
    silent week is no session: it goes. ``minutes`` None: each takes as long as it was planned to.
    """
    ended = [a for a in of_promise(asks) if not a.is_open]
    waiting = [a for a in of_promise(asks) if a.is_open and not a.weekly]
    room = max(0, number - len(ended))
    staying, loose, free = _match(waiting, days, room)
    spent = {a.day for a in ended}
    places = [day for day in free if day not in spent][: room - len(staying)]
    kept = [move(a, a.day, at) for a in staying]
    moved = [move(a, day, at) for a, day in zip(loose, places, strict=False)]
    gone = [*loose[len(places) :], *(a for a in of_promise(asks) if a.is_open and a.weekly)]
    resized = [a if minutes is None else replace(a, minutes=minutes) for a in (*kept, *moved)]
    return Layout(changed=(*resized, *(withdraw(a) for a in gone)), new_days=tuple(places[len(loose) :]))


def _match(
    waiting: Sequence[Ask], days: Sequence[dt.date], room: int
) -> tuple[list[Ask], list[Ask], list[dt.date]]:
    """Part the asks into those that stay on one of the days and the others; and the days that are left. Two may share a day."""
    free = list(days)
    staying: list[Ask] = []
    loose: list[Ask] = []
    for ask in waiting:
        if ask.day in free and len(staying) < room:
            free.remove(ask.day)
            staying.append(ask)
        else:
            loose.append(ask)
    return staying, loose, free


def withdraw(ask: Ask) -> Ask:
    """Take an ask back: no evidence, no row in the history."""
    return replace(ask, withdrawn=True, revision=ask.revision + 1)


def come_back(asks: Sequence[Ask], number: int, regained: Callable[[dt.date], bool]) -> list[Ask]:
    """The asks of a week that were taken back, on days that can be used again, as far as the promise has room for them.

    What was prompted before is left alone, and so is a day that holds an ask by now.
    """
    standing = of_promise(asks)
    taken = {ask.day for ask in standing}
    gone = [
        ask
        for ask in sorted(asks, key=lambda ask: (ask.day, ask.at, ask.id))
        if ask.withdrawn and not ask.extra and not ask.weekly and ask.outcome is None and ask.prompted is None
    ]
    back = [ask for ask in gone if regained(ask.day) and ask.day not in taken]
    return [
        replace(ask, withdrawn=False, revision=ask.revision + 1)
        for ask in back[: max(number - len(standing), 0)]
    ]


def new_ask(client_id: int, week: IsoWeek, day: dt.date, at: dt.time, minutes: int) -> Ask:
    return Ask(id=0, client_id=client_id, week=week, day=day, at=at, minutes=minutes)
