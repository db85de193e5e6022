"""What is odd about a history that can be forecast from all the same, in sentences: it is said, and then done sensibly."""

import datetime as dt
from collections.abc import Sequence

from core.adherence.evidence import LONGEST
from core.adherence.history import Cohort, HistoryRow, monday_of
from core.adherence.weeks import WEEK
from core.terms import Outcome

NAMED = 5  # of those that a sentence is about


def notes(cohort: Cohort, as_of: dt.date, today: dt.date) -> list[str]:
    """``today`` is the last date that it is anywhere on earth."""
    found = (
        _future(cohort, as_of, today),
        _nothing_known(cohort, as_of),
        _long(cohort, as_of),
        _excused(cohort, as_of),
    )
    return [f"Note: {note}" for note in found if note]


def _future(cohort: Cohort, as_of: dt.date, today: dt.date) -> str | None:
    late = [
        f"{row.client} {row.date}"
        for rows in cohort.values()
        for row in rows
        if row.outcome is not None and today < row.date <= as_of
    ]
    if not late:
        return None
    return f"{_outcomes(len(late))} of a day after today, {today}: {_some(late)}. Taken as it stands; is the date right?"


def _nothing_known(cohort: Cohort, as_of: dt.date) -> str | None:
    if any(_told(rows, as_of) for rows in cohort.values()):
        return None
    return f"no outcome is known up to {as_of}, so everybody gets what is usual, and nobody's own odds."


def _long(cohort: Cohort, as_of: dt.date) -> str | None:
    long = [name for name, rows in cohort.items() if _weeks(rows, as_of) > LONGEST]
    return f"of more than {LONGEST} weeks only the last {LONGEST} are used: {_some(long)}." if long else None


def _excused(cohort: Cohort, as_of: dt.date) -> str | None:
    excused = [
        name
        for name, rows in cohort.items()
        if (told := _told(rows, as_of)) and all(row.outcome is Outcome.EXCUSED for row in told)
    ]
    if not excused:
        return None
    return f"everything was excused, so the odds are those of somebody new: {_some(excused)}."


def _told(rows: Sequence[HistoryRow], as_of: dt.date) -> list[HistoryRow]:
    return [row for row in rows if row.outcome is not None and row.date <= as_of]


def _weeks(rows: Sequence[HistoryRow], as_of: dt.date) -> int:
    told = _told(rows, as_of)
    return (monday_of(as_of) - told[0].monday) // WEEK + 1 if told else 0


def _outcomes(count: int) -> str:
    return "1 outcome is" if count == 1 else f"{count} outcomes are"


def _some(named: Sequence[str]) -> str:
    more = f" and {len(named) - NAMED} more" if len(named) > NAMED else ""
    return ", ".join(named[:NAMED]) + more
