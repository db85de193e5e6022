"""Rules of the week, told once more from the asks alone, so that the house is not judged by its own functions."""

import datetime as dt
from collections.abc import Sequence

from core.people.model import Client
from core.terms import Outcome
from core.week.model import Ask, Promise

TOOK_PLACE = {Outcome.DONE, Outcome.SHORT, Outcome.EXTRA}
BROKEN = {Outcome.MISSED, Outcome.UNANSWERED}
EVIDENCE = {Outcome.DONE, Outcome.SHORT, *BROKEN}


def wants_quiet(client: Client, wall: dt.time) -> bool:
    """Whether a wall time lies in a client's quiet hours, over midnight if need be."""
    since, until = client.quiet_from, client.quiet_to
    return since <= wall < until if since <= until else wall >= since or wall < until


def last_day_unanswered(asks: Sequence[Ask], today: dt.date) -> bool:
    """Whether the last asked day of the two weeks before today brought nothing at all."""
    since = today - dt.timedelta(days=14)
    asked = [a for a in held(asks) if a.prompted_at is not None and since <= a.day < today]
    last = max((a.day for a in asked), default=None)
    return bool(asked) and all(a.outcome is Outcome.UNANSWERED for a in asked if a.day == last)


def took_place(ask: Ask | None) -> bool:
    return ask is not None and ask.outcome in TOOK_PLACE


def is_left(ask: Ask) -> bool:
    """Whether an unplanned session would fill this ask: missed, unanswered or open."""
    return not ask.withdrawn and (ask.outcome is None or ask.outcome in BROKEN)


def held(asks: Sequence[Ask]) -> list[Ask]:
    """The asks of a promise: extras and withdrawn ones are none."""
    return [a for a in asks if not a.extra and not a.withdrawn]


def last_number(earlier: Sequence[Promise], asks: Sequence[Ask]) -> int | None:
    """The agreed number of the last week that counted: in which something was done, short, missed or unanswered."""
    counted = [
        p.agreed
        for p in earlier
        if p.agreed is not None and any(a.outcome in EVIDENCE for a in held(asks) if a.week == p.week)
    ]
    return counted[-1] if counted else None


def most_allowed(
    client: Client, earlier: Sequence[Promise], asks: Sequence[Ask], eve: dt.date
) -> tuple[int, str]:
    """The most that may be recommended after these weeks, and why; what is still open counts as not done."""
    floor = client.floor or 0
    last: Promise | None = None
    least, forbidden = 7, False
    for promise in earlier:
        week = [a for a in held(asks) if a.week == promise.week and promise.number]
        done = sum(a.outcome is Outcome.DONE for a in week)
        short = sum(a.outcome is Outcome.SHORT for a in week)
        excused = any(a.outcome is Outcome.EXCUSED for a in week)
        broken = any(a.outcome in BROKEN or a.is_open for a in week)
        if done + short or broken:
            last, least, forbidden = promise, 7, broken
        if week and promise.number:
            least = min(least, promise.number)
        lowered = bool(week) and promise.lowered  # a week without a row tells nothing, not even that
        forbidden = forbidden or lowered or excused or short > done
    if last is None or last.number is None:
        first = 2 if client.lately is None else max(1, client.lately)
        return max(first, floor), "newcomer"
    most, why = min(last.number, least) + (not forbidden), "no raise" if forbidden else "one more at most"
    half = half_after_lay_off(earlier, asks, eve)
    if half is not None and half < most:
        most, why = half, "lay-off"
    return max(most, floor), why


def half_after_lay_off(earlier: Sequence[Promise], asks: Sequence[Ask], eve: dt.date) -> int | None:
    """Fourteen days or more after the last session: half the promise of that week, rounded up; once."""
    done = [a.day for a in asks if a.outcome in TOOK_PLACE and a.day <= eve]
    if not done or eve - max(done) < dt.timedelta(days=14):
        return None
    of_then = [p.number for p in earlier if p.number and p.week.monday <= max(done) and _has_rows(p, asks)]
    half = ((of_then[-1] if of_then else 1) + 1) // 2
    halved = any(
        (p.number or 0) <= half
        for p in earlier
        if p.week.monday > max(done) and any(a.outcome in EVIDENCE for a in held(asks) if a.week == p.week)
    )
    return None if halved else max(1, half)


def _has_rows(promise: Promise, asks: Sequence[Ask]) -> bool:
    return any(a.week == promise.week and not a.withdrawn for a in asks)
