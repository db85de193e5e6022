"""A client's weeks as the rules of the promise see them: what counted, what was kept, what was neutral."""

import datetime as dt
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from core.adherence.history import HistoryRow, monday_of
from core.terms import Outcome

WEEK = dt.timedelta(days=7)
TOOK_PLACE = frozenset({Outcome.DONE, Outcome.SHORT, Outcome.EXTRA})


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """One ISO week of one client, counted."""

    monday: dt.date
    promised: int
    lowered: bool = False
    done: int = 0
    short: int = 0
    missed: int = 0
    unanswered: int = 0
    excused: int = 0
    extra: int = 0

    @property
    def kept_asks(self) -> int:
        return self.done + self.short

    @property
    def broken_asks(self) -> int:
        return self.missed + self.unanswered

    @property
    def counted(self) -> bool:
        return self.kept_asks + self.broken_asks > 0

    @property
    def kept(self) -> bool:
        return self.kept_asks > 0 and self.broken_asks == 0


def known(rows: Sequence[HistoryRow], as_of: dt.date) -> tuple[HistoryRow, ...]:
    """The rows up to the end of ``as_of``; an ask without an outcome by then was withdrawn and says nothing."""
    return tuple(row for row in rows if row.date <= as_of)


def open_asks(rows: Sequence[HistoryRow], as_of: dt.date) -> tuple[HistoryRow, ...]:
    """The asks of the current ISO week that are still to come, their outcomes masked."""
    return tuple(
        replace(row, outcome=None)
        for row in rows
        if row.date > as_of and row.monday == monday_of(as_of) and row.is_ask
    )


def planned_asks(rows: Sequence[HistoryRow], as_of: dt.date) -> tuple[HistoryRow, ...]:
    """The asks of the coming ISO week that are planned already, their outcomes masked."""
    coming = monday_of(as_of) + WEEK
    return tuple(replace(row, outcome=None) for row in rows if row.monday == coming and row.is_ask)


def with_open_as(rows: Sequence[HistoryRow], as_of: dt.date, outcome: Outcome) -> tuple[HistoryRow, ...]:
    """What is known, and every open ask of the current week as if it had ended so."""
    return known(rows, as_of) + tuple(replace(row, outcome=outcome) for row in open_asks(rows, as_of))


def weeks_of(rows: Sequence[HistoryRow]) -> tuple[Week, ...]:
    """The weeks that have rows, oldest first. Rows must be in order of date."""
    return tuple(_count(monday, tuple(own)) for monday, own in groupby(rows, key=lambda row: row.monday))


def _count(monday: dt.date, rows: Sequence[HistoryRow]) -> Week:
    tally = Counter(row.outcome.value for row in rows if row.outcome is not None)
    return Week(
        monday=monday,
        promised=rows[0].promised,
        lowered=any(row.lowered for row in rows),
        **tally,
    )
