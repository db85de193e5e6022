"""A promise and its asks, as values.

A promise goes through three hands: *recommended* by the forecast, *settled* by the coach, *agreed* by the client. Each hand leaves
its own number, so that nothing is overwritten and the history can say who chose what.
"""

import datetime as dt
import enum
from dataclasses import dataclass, field

from core.calendar.weeks import IsoWeek
from core.terms import Outcome

MOST_SESSIONS = 7


class Hand(enum.StrEnum):
    """Who chose a number."""

    COACH = "coach"
    CLIENT = "client"
    ASSUMED = "assumed"  # nobody did in time
    SILENCE = "silence"  # the client has fallen silent: one, and its only ask is the weekly message
    BROUGHT = "brought"  # a week of before, out of a history that the coach brought in


@dataclass(frozen=True, slots=True, kw_only=True)
class Promise:
    """What one client promises for one ISO week. `settled` 0 is a rest week."""

    id: int
    client_id: int
    week: IsoWeek
    recommended: int | None = None
    recommended_minutes: int | None = None
    recommended_if_done: int | None = None  # the other case, while asks of the running week are open
    talk_first: bool = False
    well: bool = False  # the digest called it well: accepted with the others by one tap
    why: str = ""
    odds: dict[str, float] = field(default_factory=dict)  # as issued, never rewritten
    expected: dict[str, float] = field(default_factory=dict)
    engaged: float | None = None
    issued_at: dt.datetime | None = None
    settle_by: dt.datetime | None = None
    settled: int | None = None
    settled_by: Hand | None = None
    settled_at: dt.datetime | None = None
    told_at: dt.datetime | None = None
    tellings: int = 0  # how often the client was told a number: a changed one is told again
    # Settled as 'so many if the last one is done, else fewer', and not yet known which.
    both_cases: bool = False
    # More than one above the last promise: without the client's yes the last one stands.
    needs_yes: bool = False
    agreed: int | None = None
    agreed_by: Hand | None = None
    agreed_at: dt.datetime | None = None
    minutes: int = 45
    lowered: bool = False
    extra_offered: bool = False

    @property
    def number(self) -> int | None:
        """The number that holds now: the last hand that chose."""
        return self.agreed if self.agreed is not None else self.settled


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One planned session of a promise, or an extra. It keeps its identity when it moves, and stays in its week."""

    id: int
    client_id: int
    week: IsoWeek
    day: dt.date
    at: dt.time
    minutes: int
    revision: int = 0
    extra: bool = False
    weekly: bool = False  # the only ask of a silent week: the weekly message itself
    withdrawn: bool = False
    outcome: Outcome | None = None
    answered_at: dt.datetime | None = None
    prompted: int | None = None  # the revision that was prompted last
    prompted_at: dt.datetime | None = None
    followed_up_at: dt.datetime | None = None
    # 'Later', 'on my way': no outcome yet, but no follow-up needed before the close.
    said_at: dt.datetime | None = None
    missed_once: bool = False
    took_minutes: int | None = None
    effort: float | None = None  # CR-10
    session_id: int | None = None

    @property
    def is_open(self) -> bool:
        return self.outcome is None and not self.withdrawn

    @property
    def took_place(self) -> bool:
        return self.outcome in {Outcome.DONE, Outcome.SHORT, Outcome.EXTRA}

    @property
    def needs_prompt(self) -> bool:
        return self.is_open and self.prompted != self.revision
