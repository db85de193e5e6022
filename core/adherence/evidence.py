"""Rows as arrays: what each client was asked, week by week, slot by slot.

Week 0 is a client's own first week; weeks after ``as_of``'s are not there; a week without evidence has no asks. Of a very long
history the last ``LONGEST`` weeks are kept.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

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
    weeks, clients = max(lengths, default=0), len(told)
    arrays = _Arrays(weeks, clients, _fullest_week(told), kind)
    for client, rows in enumerate(told):
        _fill(arrays, client, rows, start=end - 7 * (lengths[client] - 1))
    return arrays.frozen(np.array(lengths, dtype=int))


def sleep_above_usual(hours: float) -> float:
    """Hours above seven, cut where more or less of it would say nothing more."""
    return min(max(hours - USUAL_SLEEP, -3.0), 2.0)


def log_minutes(minutes: float) -> float:
    """Doublings of the usual 45 minutes."""
    return float(np.log2(min(max(minutes, 10.0), 180.0) / USUAL_MINUTES))


def _fullest_week(told: Sequence[Sequence[HistoryRow]]) -> int:
    fullest = 1
    for rows in told:
        week, count = dt.date.min, 0
        for row in rows:
            if row.outcome not in CODES:
                continue
            count = count + 1 if row.date - week < dt.timedelta(days=7) else 1
            week = week if count > 1 else row.monday
            fullest = max(fullest, count)
    return fullest


class _Arrays:
    """The arrays while they are filled."""

    def __init__(self, weeks: int, clients: int, slots: int, kind: type[np.floating]) -> None:
        asks, by_week = (weeks, slots, clients), (weeks, clients)
        self.outcome = np.zeros(asks, dtype=np.int8)
        self.away, self.weekend, self.minutes, self.sleep, self.after_miss = (
            np.zeros(asks, dtype=kind) for _ in range(5)
        )
        self.promised, self.extras, self.closed = (np.zeros(by_week, dtype=kind) for _ in range(3))
        self.alive, self.asked = (np.zeros(by_week, dtype=bool) for _ in range(2))
        self.filled = np.zeros(by_week, dtype=np.int8)
        self.first_promise = np.full(clients, 3, dtype=kind)

    def frozen(self, length: Whole) -> Evidence:
        done = (self.outcome == DONE).any(axis=1)
        broken = (self.outcome >= MISSED).any(axis=1)
        return Evidence(
            outcome=self.outcome,
            away=self.away,
            weekend=self.weekend,
            minutes=self.minutes,
            sleep=self.sleep,
            after_miss=self.after_miss,
            promised=self.promised,
            extras=self.extras,
            alive=self.alive,
            asked=self.asked,
            closed=np.where(broken, -1, done).astype(self.promised.dtype),
            length=length,
            first_promise=self.first_promise,
        )


def _fill(arrays: _Arrays, client: int, rows: Sequence[HistoryRow], *, start: int) -> None:
    nights, slept = SLEEP_TRUST, 0.0
    for row in rows:
        day = row.date.toordinal()
        week = (day - start) // 7
        if week < 0:
            continue
        arrays.asked[week, client] = True
        arrays.promised[week, client] = row.promised
        if row.outcome is Outcome.EXTRA:
            arrays.extras[week, client] += 1
        code = CODES.get(row.outcome) if row.outcome else None
        if code is None:
            arrays.alive[week, client] = True
            continue
        if row.slept_h is not None:
            above = sleep_above_usual(row.slept_h)
            nights, slept = nights + 1, slept + above
        else:
            above = slept / nights
        slot = arrays.filled[week, client]
        arrays.filled[week, client] = slot + 1
        arrays.outcome[week, slot, client] = code
        arrays.away[week, slot, client] = row.away
        arrays.weekend[week, slot, client] = row.date.isoweekday() >= SATURDAY
        arrays.minutes[week, slot, client] = log_minutes(row.minutes)
        arrays.sleep[week, slot, client] = above
        arrays.after_miss[week, slot, client] = (arrays.outcome[week, :slot, client] >= MISSED).any()
    first = next((row.promised for row in rows if row.promised), None)
    if first is not None:
        arrays.first_promise[client] = first
