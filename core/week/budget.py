"""How many unasked messages a client gets, and which go first.

At most two a day and twelve a week (settable). They are given first to the weekly message, then to prompts, sleep, follow-ups; all
else waits. After an unanswered day only prompts go out. Safety messages and what the coach sends are outside it.
"""

import datetime as dt
import enum
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from core.terms import Outcome
from core.week.count import of_promise
from core.week.model import Ask


class Unasked(enum.StrEnum):
    """The kinds of message that we send unasked, the most needed first."""

    WEEKLY = "weekly"
    PROMPT = "prompt"
    SLEEP = "sleep"
    FOLLOW_UP = "follow-up"
    OFFER = "offer"


RANK = {kind: place for place, kind in enumerate(Unasked)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Spent:
    """What has gone out, and what more needed messages are still to come."""

    today: int
    this_week: int
    to_come_today: Mapping[Unasked, int] = field(default_factory=dict)
    to_come_this_week: Mapping[Unasked, int] = field(default_factory=dict)


def is_after_unanswered_day(asks: Iterable[Ask], today: dt.date) -> bool:
    """Whether the last asked day before today went without any answer."""
    asked = [a for a in of_promise(asks) if a.prompted_at is not None and a.day < today]
    last = [a.outcome for a in asked if a.day == asked[-1].day] if asked else []
    return bool(last) and all(outcome is Outcome.UNANSWERED for outcome in last)


def _held_back(kind: Unasked, to_come: Mapping[Unasked, int]) -> int:
    """Messages that go before this kind, and for which room is kept."""
    return sum(count for other, count in to_come.items() if RANK[other] < RANK[kind])


def may_send(kind: Unasked, spent: Spent, *, daily: int, weekly: int, after_unanswered_day: bool) -> bool:
    """Whether a message of this kind still has room, with room kept for the more needed ones to come."""
    if after_unanswered_day and kind not in {Unasked.PROMPT, Unasked.WEEKLY}:
        return False
    return (
        spent.today + _held_back(kind, spent.to_come_today) < daily
        and spent.this_week + _held_back(kind, spent.to_come_this_week) < weekly
    )
