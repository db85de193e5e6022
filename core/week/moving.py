"""Moving asks within their week: never into another one, never onto a day that is over."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace

from core.week.circumstances import Circumstances
from core.week.count import of_promise
from core.week.model import Ask


def days_to_move_to(ask: Ask, asks: Iterable[Ask], life: Circumstances, *, today: dt.date) -> list[dt.date]:
    """List the days of the ask's week that it could move to: from today on, in reach, free of other open asks."""
    taken = {a.day for a in of_promise(asks) if a.id != ask.id and (a.is_open or a.took_place)}
    return [d for d in ask.week.days() if d >= today and d != ask.day and d not in taken and life.usable(d)]


def holder_of(day: dt.date, asks: Iterable[Ask], *, but: Ask) -> Ask | None:
    """Find the open ask that already stands on a day: it is met with a question, both or swap."""
    return next((a for a in of_promise(asks) if a.id != but.id and a.day == day and a.is_open), None)


def move(ask: Ask, day: dt.date, at: dt.time | None = None) -> Ask:
    """Move an ask to a day of its own week. The new revision makes it prompted at its last place, and only there."""
    if day not in ask.week.days():
        msg = f"{day} is not in {ask.week}"
        raise ValueError(msg)
    hour = ask.at if at is None else at
    if (day, hour) == (ask.day, ask.at) and ask.outcome is None:
        return ask
    return replace(
        ask,
        day=day,
        at=hour,
        revision=ask.revision + 1,
        outcome=None,
        answered_at=None,
        said_at=None,
        prompted_at=None,
        followed_up_at=None,
    )


def swap(one: Ask, other: Ask) -> tuple[Ask, Ask]:
    """Exchange the days of two asks."""
    return move(one, other.day), move(other, one.day)


def to_go(asks: Sequence[Ask], number: int) -> list[Ask]:
    """Tell which asks go when a promise is lowered and the client did not say: the last open ones, until so many are left."""
    held = of_promise(asks)
    waiting = [a for a in held if a.is_open]
    return waiting[max(0, len(waiting) - max(0, len(held) - number)) :]


def gone_last(asks: Iterable[Ask], life: Circumstances, *, today: dt.date) -> Ask | None:
    """Find the ask that a lowering took away and that could still come back in the place of another: the first one still to come."""
    gone = (a for a in asks if a.withdrawn and not a.weekly and a.prompted_at is None and a.day >= today)
    return min((a for a in gone if life.usable(a.day)), key=lambda a: (a.day, a.at, a.id), default=None)


def instead(goes: Ask, stays: Ask) -> tuple[Ask, Ask]:
    """Let another ask of the same week go: the one comes back on its day, to be prompted there, the other is withdrawn."""
    return (
        replace(goes, withdrawn=True, revision=goes.revision + 1),
        replace(stays, withdrawn=False, revision=stays.revision + 1),
    )


def next_free_day(ask: Ask, asks: Iterable[Ask], life: Circumstances) -> dt.date | None:
    """Find the nearest later free day of the ask's week, for a date that cannot be kept (skipped by a flight, out of reach)."""
    later = [d for d in days_to_move_to(ask, asks, life, today=ask.day) if d > ask.day]
    return later[0] if later else None
