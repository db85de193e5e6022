"""Recommended, settled, agreed: who may choose which number, and until when.

Settling closes at the later of the client's Sunday 20:00 and two hours after the digest, and by their Monday 06:00. A client whom
that would leave less than two hours is in a short list a day ahead, by the same rule.
"""

import datetime as dt

from core.calendar.weeks import IsoWeek
from core.week.circumstances import Circumstances
from core.week.model import MOST_SESSIONS

SUNDAY_EVENING = dt.time(20)
MONDAY_MORNING = dt.time(6)
MONDAY_NOON = dt.time(12)
TIME_TO_SETTLE = dt.timedelta(hours=2)
A_DAY_AHEAD = dt.timedelta(days=1)


def last_moment(coming: IsoWeek, life: Circumstances) -> dt.datetime:
    """The client's Monday 06:00 of the coming week, or the next moment that they live through."""
    return life.first_lived(coming.monday, MONDAY_MORNING)


def needs_short_list(digest: dt.datetime, coming: IsoWeek, life: Circumstances) -> bool:
    """Whether Sunday's digest would leave less than two hours to settle for this client."""
    return last_moment(coming, life) - digest < TIME_TO_SETTLE


def asked_at(digest: dt.datetime, coming: IsoWeek, life: Circumstances) -> dt.datetime:
    """When the coach is asked to settle: with the digest, or with the short list a day ahead of it."""
    return digest - A_DAY_AHEAD if needs_short_list(digest, coming, life) else digest


def settle_by(asked: dt.datetime, coming: IsoWeek, life: Circumstances) -> dt.datetime:
    """When settling closes, for a client shown to the coach at `asked`."""
    evening = life.first_lived(coming.previous().sunday, SUNDAY_EVENING)
    return min(max(evening, asked + TIME_TO_SETTLE), max(last_moment(coming, life), asked))


def assumed(
    recommended: int, last_promise: int | None, *, raise_without_me: bool, floor: int | None, talk_first: bool
) -> int:
    """Tell the number that stands when the coach did not settle in time."""
    if talk_first and floor is not None:
        return floor
    if raise_without_me or last_promise is None:
        return recommended
    return min(recommended, last_promise)


def resolved(recommended: int, if_done: int, last_promise: int | None, *, kept: bool, may_raise: bool) -> int:
    """Tell which of two cases settled at once holds, when the last open ask of the running week has ended."""
    if not kept:
        return recommended
    if may_raise or last_promise is None:
        return if_done
    return max(recommended, min(if_done, last_promise))


def late(number: int, days_left: int, *, begun: bool) -> int:
    """Tell what a week that begins late (an outage) can still hold: no more than its usual days that are left."""
    return min(number, days_left) if begun else number


def least(number: int, ended: int) -> int:
    """Tell how low a running week can go: never below the asks that have ended."""
    return max(number, ended)


def needs_yes(settled: int, last_promise: int | None) -> bool:
    """Whether the client's own yes is needed: more than one above the last promise."""
    return last_promise is not None and settled > last_promise + 1


def without_answer(settled: int, last_promise: int | None) -> int:
    """Tell the number that is assumed agreed when the client said nothing."""
    if last_promise is not None and needs_yes(settled, last_promise):
        return last_promise
    return settled


def clamp(number: int) -> int:
    return max(0, min(number, MOST_SESSIONS))


def is_free_to_choose(number: int, settled: int) -> bool:
    """Whether the client may take this number at once: less holds at once, more waits for the coach."""
    return 0 < number <= settled
