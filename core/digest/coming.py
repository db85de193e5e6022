"""The coming week in words: the number that is recommended, its odds, and why."""

import math
from collections.abc import Iterator

from core.digest.audit import ROUNDING, in_ten
from core.digest.facts import NextWeek
from core.digest.phrases import LONGEST_QUOTE, cut


def lines_of(coming: NextWeek, *, of: str = "Next week") -> Iterator[str]:
    """``of``: what the week is called."""
    yield f"{of}: <b>{size_of(coming)}</b>{beside(coming)}."
    if coming.sizes:
        yield "Odds of keeping " + " · ".join(_odds(coming, size) for size in coming.sizes) + "."
    if reasons := "; ".join([*_why_fewer(coming), *_reasons(coming.why)]):
        yield f"Why: {cut(reasons, LONGEST_QUOTE)}."
    if coming.explore:
        yield f"{coming.explore} could be tried, as an experiment."


def _why_fewer(coming: NextWeek) -> Iterator[str]:
    """After a week that was kept the rest of the sentence speaks of what went well: that the last number is not sure enough is said."""
    last, asked = coming.previous, coming.confidence
    if last is None or asked is None or not coming.is_lower or coming.number != coming.recommended:
        return
    odds = coming.keep.get(last, 1.0)
    if odds < asked:
        yield f"{last} again would be kept in {_of_a_hundred(odds)} of 100 such weeks, and you ask for {_of_a_hundred(asked)}"


def _of_a_hundred(odds: float) -> int:
    """Never more than they are: beside 80 asked for, 79.6 is 79."""
    return math.floor(odds * 100 + ROUNDING)


def _reasons(why: str) -> Iterator[str]:
    """The sentence without the odds and the advice to talk, which stand beside it already."""
    parts = why.rstrip(". ").split("; ")
    return (part for part in parts if part and " %" not in part and part != "talk first")


def size_of(coming: NextWeek) -> str:
    if coming.number == 0:
        return "a rest week"
    number = f"{coming.number} × {coming.minutes} min"
    if coming.if_open_done in {None, coming.number} or coming.number != coming.recommended:
        return number
    return f"{number}, or {coming.if_open_done} if what is open gets done"


def beside(coming: NextWeek, *, with_odds: bool = False) -> str:
    """What stands beside the number: what it was, and what to know of it."""
    as_recommended = coming.number == coming.recommended
    notes = [] if coming.previous in {None, coming.number} else [f"{coming.previous} last"]
    notes += ["never tried yet"] if coming.never_tried and as_recommended else []
    notes += ["talk first"] if coming.talk_first and coming.settled is None else []
    if coming.settled is not None:
        notes.append("settled" if as_recommended else f"settled; {coming.recommended} was recommended")
    if with_odds and coming.number in coming.sizes:
        notes += [in_ten(coming.keep[coming.number]), _expected(coming, coming.number)]
    return f" ({', '.join(notes)})" if notes else ""


def _odds(coming: NextWeek, size: int) -> str:
    told = f"{size}: {in_ten(coming.keep[size])} ({_expected(coming, size)})"
    return f"<b>{told}</b>" if size == coming.number else told


def _expected(coming: NextWeek, size: int) -> str:
    return f"{coming.expected[size]:.1f} expected"
