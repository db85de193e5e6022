"""Where an answer belongs, and what it changes.

A reply belongs to the prompt that it answers (a button, or Telegram's reply), else to the day that its words name, else to the day
of its arrival. An answer can be corrected until the following Wednesday; a forecast once issued is never rewritten.
"""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace

from core.calendar.weeks import IsoWeek
from core.terms import Outcome
from core.week.count import of_promise
from core.week.model import Ask

TOOK_PLACE = frozenset({Outcome.DONE, Outcome.SHORT})


def may_correct(ask: Ask, today: dt.date) -> bool:
    """Whether the ask can still be answered or corrected: until the Wednesday of the week after its own."""
    return today <= last_day_to_correct(ask.week)


def last_day_to_correct(week: IsoWeek) -> dt.date:
    """Tell the last day on which a week's answers can change: the following Wednesday."""
    return week.next().monday + dt.timedelta(days=2)


def ask_meant(
    asks: Iterable[Ask], *, today: dt.date, named: dt.date | None = None, replied_to: int | None = None
) -> Ask | None:
    """Find the ask that an answer belongs to, or None: then it is a session of its own, or about nothing asked."""
    known = [a for a in asks if not a.extra]
    if replied_to is not None:
        return next((a for a in known if a.id == replied_to), None)
    if named is not None:
        return _first_on(known, named)
    return _first_on(known, today) or _waiting(known, today)


def _first_on(asks: Sequence[Ask], day: dt.date) -> Ask | None:
    """The ask of a day; of two, the one that still waits for an answer."""
    there = [a for a in of_promise(asks) if a.day == day]
    return next((a for a in there if a.outcome is None), there[0] if there else None)


def _waiting(asks: Sequence[Ask], today: dt.date) -> Ask | None:
    """Yesterday's ask, while it waits: it is open until noon."""
    asked = [a for a in of_promise(asks) if a.outcome is None and a.prompted_at is not None and a.day < today]
    return asked[-1] if asked else None


def others_waiting(asks: Iterable[Ask], ask: Ask, today: dt.date) -> list[Ask]:
    """List the other asks of the same day that still wait for an answer, once one of two has ended: each is asked about."""
    return [
        a for a in of_promise(asks) if a.id != ask.id and a.day == ask.day and a.is_open and a.day <= today
    ]


def day_meant(ask: Ask | None, named: dt.date | None, today: dt.date) -> dt.date:
    """Tell the day of a session that fills no ask of its own day: the one named, else that of the prompt, else today."""
    if named is not None:
        return named
    return ask.day if ask is not None and ask.day < today else today


def unanswered_as(ask: Ask, *, unwell: bool) -> Outcome:
    """Tell how an ask without a word ends: who is unwell, and was asked 'better?', is excused."""
    return Outcome.EXCUSED if unwell and not ask.weekly else Outcome.UNANSWERED


def answer(ask: Ask, outcome: Outcome, *, at: dt.datetime, minutes: int | None = None) -> Ask:
    """Write down how an ask ended. Answering again with the same words changes nothing but the time.

    An extra stays one, done or short; one that did not take place is none.
    """
    if ask.extra:
        took_place = outcome in TOOK_PLACE
        outcome_or_none, withdrawn = (Outcome.EXTRA if took_place else None), not took_place
    else:
        outcome_or_none, withdrawn = outcome, False
    return replace(
        ask,
        outcome=outcome_or_none,
        answered_at=at,
        withdrawn=withdrawn,
        took_minutes=minutes if minutes is not None else ask.took_minutes,
        missed_once=ask.missed_once or outcome_or_none is Outcome.MISSED,
    )


def filled_by_unplanned(asks: Iterable[Ask], week: IsoWeek) -> Ask | None:
    """Find the ask that an unplanned session fills: its week's first missed, unanswered or open one. None: it is an extra."""
    fillable = {Outcome.MISSED, Outcome.UNANSWERED, None}
    return next((a for a in of_promise(asks) if a.week == week and a.outcome in fillable), None)


def fill(ask: Ask, day: dt.date, outcome: Outcome, *, at: dt.datetime, minutes: int | None = None) -> Ask:
    """Fill an ask with an unplanned session: it takes that day, and its prompt is cancelled by the new revision."""
    moved = ask if ask.day == day else replace(ask, day=day, revision=ask.revision + 1)
    return answer(moved, outcome, at=at, minutes=minutes)


def has_missed(asks: Iterable[Ask]) -> bool:
    """Whether the week has had a miss, repaired or not: from then on it keeps its number."""
    return any(a.missed_once or a.outcome in {Outcome.MISSED, Outcome.UNANSWERED} for a in of_promise(asks))
