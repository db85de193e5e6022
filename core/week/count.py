"""Honest count: what a week's asks add up to."""

from collections.abc import Iterable, Sequence

from core.terms import Outcome
from core.week.model import Ask

EVIDENCE = frozenset({Outcome.DONE, Outcome.SHORT, Outcome.MISSED, Outcome.UNANSWERED})
BROKEN = frozenset({Outcome.MISSED, Outcome.UNANSWERED})


def of_promise(asks: Iterable[Ask]) -> list[Ask]:
    """The asks of the promise itself, in order of their days; extras and withdrawn ones left out."""
    return sorted((a for a in asks if not a.extra and not a.withdrawn), key=lambda a: (a.day, a.at, a.id))


def done(asks: Iterable[Ask]) -> int:
    """Asks that were done or short. An extra is counted apart."""
    return sum(a.outcome in {Outcome.DONE, Outcome.SHORT} for a in of_promise(asks))


def short(asks: Iterable[Ask]) -> int:
    return sum(a.outcome is Outcome.SHORT for a in of_promise(asks))


def extras(asks: Iterable[Ask]) -> int:
    return sum(a.outcome is Outcome.EXTRA for a in asks)


def excused(asks: Iterable[Ask]) -> int:
    return sum(a.outcome is Outcome.EXCUSED for a in of_promise(asks))


def still_open(asks: Iterable[Ask]) -> list[Ask]:
    return [a for a in of_promise(asks) if a.is_open]


def is_kept(asks: Sequence[Ask]) -> bool:
    """Whether at least one ask was done or short and none missed or unanswered."""
    return done(asks) > 0 and not any(a.outcome in BROKEN for a in of_promise(asks))


def may_raise_after(asks: Sequence[Ask], *, lowered: bool) -> bool:
    """Whether a week leaves room for a raise: kept, not lowered, nothing excused, and not more asks short than done."""
    fully = done(asks) - short(asks)
    return is_kept(asks) and not lowered and not excused(asks) and short(asks) <= fully


def is_neutral(asks: Sequence[Ask]) -> bool:
    """Whether the week says nothing: nothing done, short, missed or unanswered. A rest week is one."""
    return not any(a.outcome in EVIDENCE for a in of_promise(asks))
