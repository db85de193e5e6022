"""What went well, named: the best of it first."""

from collections.abc import Iterator, Sequence

from core.adherence.weeks import Week

_WORTH_NAMING = (3, 4, 6, 8, 12, 16, 20, 26, 39, 52)  # promises kept in a row
_LONG_ENOUGH = 3  # weeks, before a best week says anything


def wins(weeks: Sequence[Week]) -> tuple[str, ...]:
    """What the last of a client's weeks (oldest first) is worth naming for."""
    counted = [week for week in weeks if week.counted or week.extra]
    return tuple(_found(counted)) if counted and counted[-1] == weeks[-1] else ()


def _found(weeks: list[Week]) -> Iterator[str]:
    last, before = weeks[-1], weeks[:-1]
    row = _kept_in_a_row(weeks)
    if row in _WORTH_NAMING:
        yield f"{row} promises kept in a row"
    if last.kept and before and before[-1].counted and not before[-1].kept:
        yield "kept again after a week that was not"
    most = max((week.kept_asks + week.extra for week in before), default=0)
    if len(before) >= _LONG_ENOUGH and last.kept_asks + last.extra > most:
        yield f"{last.kept_asks + last.extra} sessions, the most in a week so far"
    if last.extra and not any(week.extra for week in before):
        yield "the first extra"


def _kept_in_a_row(weeks: list[Week]) -> int:
    row = 0
    for week in reversed(weeks):
        if week.counted and not week.kept:
            break
        row += week.kept
    return row
