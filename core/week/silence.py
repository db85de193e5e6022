"""Silence: two asked days in a row without any message begin it, any message ends it."""

import datetime as dt
from collections.abc import Iterable

from core.week.count import of_promise
from core.week.model import Ask

QUIET_DAYS = 2


def asked_days(asks: Iterable[Ask]) -> dict[dt.date, dt.datetime]:
    """Map each day on which something was asked to the instant of its first prompt, in order."""
    first: dict[dt.date, dt.datetime] = {}
    for ask in of_promise(asks):
        if ask.prompted_at is not None:
            first[ask.day] = min(first.get(ask.day, ask.prompted_at), ask.prompted_at)
    return dict(sorted(first.items()))


def falls_silent(asks: Iterable[Ask], heard_at: dt.datetime | None, *, closed: dt.date) -> dt.date | None:
    """Tell the day on which silence began, once two asked days up to `closed` brought no message at all; else None."""
    days = [(day, at) for day, at in asked_days(asks).items() if day <= closed]
    if len(days) < QUIET_DAYS:
        return None
    began, prompted_at = days[-QUIET_DAYS]
    return began if heard_at is None or heard_at < prompted_at else None
