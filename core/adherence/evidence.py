"""Rows as arrays: what each client was asked, week by week, slot by slot.

Week 0 is a client's own first week; weeks after ``as_of``'s are not there; a week without evidence has no asks. Of a very long
history the last ``LONGEST`` weeks are kept.
"""

import datetime as dt
import math
from array import array
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from core.adherence.history import HistoryRow, monday_of
from core.terms import Outcome

Array = NDArray[np.floating]
Whole = NDArray[np.integer]

LONGEST: Final = 260  # weeks
NOTHING, DONE, MISSED, UNANSWERED = range(4)
CODES: Final = {
    Outcome.DONE: DONE,
    Outcome.SHORT: DONE,
    Outcome.MISSED: MISSED,
    Outcome.UNANSWERED: UNANSWERED,
}
USUAL_SLEEP: Final = 7.0  # hours
USUAL_MINUTES: Final = 45.0
SATURDAY: Final = 6
UNKNOWN_PROMISE: Final = 3  # of somebody who was never promised anything
SLEEP_TRUST: Final = 4.0  # nights that the usual sleep counts as


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """``clients`` C, ``weeks`` T of the longest history, ``slots`` J of the fullest week.

    Shapes: ``outcome`` (T, J, C) codes; ``away``, ``weekend``, ``minutes`` (log2 of the usual), ``sleep`` (hours above the
    usual), ``after_miss`` (T, J, C); ``promised``, ``extras`` (T, C); ``alive`` (T, C) an excuse or an extra: proof of life;
    ``asked`` (T, C) any evidence; ``closed`` (T, C) 1 kept, -1 broken, 0 neither; ``length`` (C,) weeks up to ``as_of``'s;
    ``first_promise`` (C,).
    """

    outcome: Whole
    away: Array
    weekend: Array
    minutes: Array
    sleep: Array
    after_miss: Array
    promised: Array
    extras: Array
    alive: NDArray[np.bool_]
    asked: NDArray[np.bool_]
    closed: Array
    length: Whole
    first_promise: Array

    @property
    def clients(self) -> int:
        return int(self.length.size)


def evidence_of(
    histories: Sequence[Sequence[HistoryRow]], as_of: dt.date, kind: type[np.floating] = np.float64
) -> Evidence:
    """Gather the rows known at the end of ``as_of``, in numbers of this kind; each history in order of date."""
    told = [[row for row in rows if row.date <= as_of and row.outcome is not None] for rows in histories]
    end = monday_of(as_of).toordinal()
    lengths = [
        min((end - monday_of(rows[0].date).toordinal()) // 7 + 1, LONGEST) if rows else 0 for rows in told
    ]
    asks, rows_told = array("d"), array("d")
    for client, rows in enumerate(told):
        _gather(asks, rows_told, client, rows, start=end - 7 * (lengths[client] - 1))
    return _evidence(asks, rows_told, lengths, [_first_promise(rows) for rows in told], kind)


@lru_cache(maxsize=4096)
def sleep_above_usual(hours: float) -> float:
    """Hours above seven, cut where more or less of it would say nothing more."""
    return min(max(hours - USUAL_SLEEP, -3.0), 2.0)


@lru_cache(maxsize=4096)
def log_minutes(minutes: float) -> float:
    """Doublings of the usual 45 minutes."""
    return math.log2(min(max(minutes, 10.0), 180.0) / USUAL_MINUTES)


ASK: Final = ["week", "slot", "client", "outcome", "away", "weekend", "minutes", "sleep", "after_miss"]
ROW: Final = ["week", "client", "promised", "extra", "alive"]
"""What is gathered of an ask with an outcome, and of a row of any kind, as numbers side by side: so many small objects of their
own would take longer to make than all the rest.
"""


def _gather(
    asks: "array[float]", told: "array[float]", client: int, rows: Sequence[HistoryRow], *, start: int
) -> None:
    """One client's rows; a night that nobody told of is as long as the client's nights so far, on average."""
    nights, slept = SLEEP_TRUST, 0.0
    this_week, slot, missed = -1, 0, False
    for row in rows:
        week, weekday = divmod(row.date.toordinal() - start, 7)  # the start is a Monday
        if week < 0:
            continue
        if week != this_week:
            this_week, slot, missed = week, 0, False
        code = CODES.get(row.outcome) if row.outcome else None
        told.extend((week, client, row.promised, row.outcome is Outcome.EXTRA, code is None))
        if code is None:
            continue
        if row.slept_h is not None:
            above = sleep_above_usual(row.slept_h)
            nights, slept = nights + 1, slept + above
        else:
            above = slept / nights
        minutes = log_minutes(row.minutes)
        weekend = weekday + 1 >= SATURDAY
        asks.extend((week, slot, client, code, row.away, weekend, minutes, above, missed))
        slot, missed = slot + 1, missed or code >= MISSED


def _evidence(
    asks: "array[float]",
    told: "array[float]",
    lengths: Sequence[int],
    first_promises: Sequence[int],
    kind: type[np.floating],
) -> Evidence:
    """Columns into arrays, all at once."""
    weeks, clients = max(lengths, default=0), len(lengths)
    by_ask, by_row = _columns(asks, len(ASK)), _columns(told, len(ROW))
    week, slot, client = by_ask[:3].astype(int)
    at = (week, slot, client)
    slots = int(slot.max(initial=0)) + 1

    def spread(column: Array, kind: type[np.generic] = kind) -> NDArray[Any]:
        filled = np.zeros((weeks, slots, clients), dtype=kind)
        filled[at] = column
        return filled

    outcome = spread(by_ask[3], np.int8)
    week, client = by_row[:2].astype(int)
    promised, extras = np.zeros((weeks, clients), dtype=kind), np.zeros((weeks, clients), dtype=kind)
    promised[week, client] = by_row[2]
    np.add.at(extras, (week, client), by_row[3])
    asked, alive = np.zeros((weeks, clients), dtype=bool), np.zeros((weeks, clients), dtype=bool)
    asked[week, client] = True
    alive[week[by_row[4] > 0], client[by_row[4] > 0]] = True
    done, broken = (outcome == DONE).any(axis=1), (outcome >= MISSED).any(axis=1)
    return Evidence(
        outcome=outcome,
        away=spread(by_ask[4]),
        weekend=spread(by_ask[5]),
        minutes=spread(by_ask[6]),
        sleep=spread(by_ask[7]),
        after_miss=spread(by_ask[8]),
        promised=promised,
        extras=extras,
        alive=alive,
        asked=asked,
        closed=np.where(broken, -1, done).astype(kind),
        length=np.array(lengths, dtype=int),
        first_promise=np.array(first_promises, dtype=kind),
    )


def _columns(numbers: "array[float]", side_by_side: int) -> Array:
    return np.array(numbers, dtype=float).reshape(-1, side_by_side).T


def _first_promise(rows: Sequence[HistoryRow]) -> int:
    return next((row.promised for row in rows if row.promised), UNKNOWN_PROMISE)
