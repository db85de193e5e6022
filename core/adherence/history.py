"""The history file: one row an ask or an extra, read whole or refused whole.

A row says what was asked of a client on a day and how it ended. The file is what a coach sees in a spreadsheet, so every bad
row is named by its line, all at once.
"""

import csv
import datetime as dt
import io
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from core.csv_text import decode, separator_of
from core.errors import Refused
from core.terms import Outcome

COLUMNS = ("client", "date", "promised", "outcome", "minutes", "away", "slept_h", "lowered")
MAY_BE_ABSENT = "lowered"
LARGEST_PROMISE = 7
LONGEST_SESSION = 480  # minutes; a working day is no session
YEARS = range(1600, 3000)  # what lies beyond is a slip of the pen
OUTCOMES = {outcome.value: outcome for outcome in Outcome} | {"": None}
FLAGS = {"0": False, "1": True}


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryRow:
    """One ask, or one extra.

    ``date`` is local; ``promised`` the sessions agreed in that ISO week; ``minutes`` planned; ``slept_h`` hours in the night
    before, None where unknown; ``outcome`` None for an ask without an outcome yet; ``lowered`` where the week's promise was
    made smaller in mid-week.
    """

    client: str
    date: dt.date
    promised: int
    outcome: Outcome | None
    minutes: int
    away: bool = False
    slept_h: float | None = None
    lowered: bool = False

    @property
    def is_ask(self) -> bool:
        return self.outcome is not Outcome.EXTRA

    @property
    def monday(self) -> dt.date:
        """The Monday of its ISO week."""
        return monday_of(self.date)


Cohort = Mapping[str, Sequence[HistoryRow]]
"""Every client's rows, by name, in order of date."""


def monday_of(day: dt.date) -> dt.date:
    return day - dt.timedelta(days=day.weekday())


def by_client(rows: Iterable[HistoryRow]) -> dict[str, tuple[HistoryRow, ...]]:
    """The rows of each client in order of date; clients in order of first appearance."""
    sorted_out: defaultdict[str, list[HistoryRow]] = defaultdict(list)
    for row in rows:
        sorted_out[row.client].append(row)
    return {client: tuple(sorted(own, key=lambda row: row.date)) for client, own in sorted_out.items()}


def last_known_day(rows: Sequence[HistoryRow]) -> dt.date:
    """The last day with an outcome; where there is none, the eve of the first week, so that its rows are plans."""
    told = [row.date for row in rows if row.outcome is not None]
    return max(told) if told else monday_of(min(row.date for row in rows)) - dt.timedelta(days=1)


def read_history(path: Path) -> list[HistoryRow]:
    """Read a history file.

    Raises:
        Refused: the file cannot be read or a row is malformed; one line for every bad row, nothing of it used.

    """
    try:
        content = path.read_bytes()
    except FileNotFoundError:
        raise Refused(f"There is no file {path}. Give the path of a history in CSV.") from None
    except OSError as error:
        raise Refused(
            f"{path} cannot be read ({error.strerror}). Give the path of a history in CSV."
        ) from None
    return parse_history(io.StringIO(decode(content, path.name), newline=""), name=path.name)


def parse_history(lines: Iterable[str], *, name: str = "the history") -> list[HistoryRow]:
    """Like :func:`read_history`, from lines of text; ``name`` is what messages call the file.

    Cells may be separated by commas, semicolons or tabs; hours of sleep may then have a decimal comma.
    """
    separator, lines = separator_of(lines)
    table = csv.reader(lines, delimiter=separator)
    try:
        header = next(table, None)
        order = _order_of(header, name)
        rows, faults = _parse_rows(table, order)
    except csv.Error as error:
        raise Refused(
            f"{name}, line {table.line_num}: this is not CSV ({error}). Save it again as CSV."
        ) from None
    faults += _faults_of_weeks(rows)
    if faults:
        raise Refused(*(f"{name}, line {line}: {fault}" for line, fault in sorted(faults)))
    if not rows:
        raise Refused(f"{name} has a header and no rows. Put in one row for every ask or extra.")
    return [row for _, row in rows]


def write_history(rows: Iterable[HistoryRow], file: TextIO) -> None:
    """Write rows in the format that :func:`read_history` reads."""
    table = csv.writer(file, lineterminator="\n")
    table.writerow(COLUMNS)
    table.writerows(_cells_of(row) for row in rows)


def _cells_of(row: HistoryRow) -> tuple[str, ...]:
    return (
        row.client,
        row.date.isoformat(),
        str(row.promised),
        row.outcome.value if row.outcome else "",
        str(row.minutes),
        str(int(row.away)),
        "" if row.slept_h is None else f"{row.slept_h:g}",
        str(int(row.lowered)),
    )


def _order_of(header: Sequence[str] | None, name: str) -> list[int]:
    """Where each column stands; -1 for the one that may be absent."""
    wanted = ",".join(COLUMNS)
    if header is None:
        raise Refused(f"{name} is empty. Its first line must be: {wanted}")
    found = [cell.strip().casefold() for cell in _without_tail(header)]
    if not set(found) & set(COLUMNS):
        raise Refused(f"{name}, line 1: there are no names of columns. The first line must be: {wanted}")
    missing = [column for column in COLUMNS if column not in found and column != MAY_BE_ABSENT]
    strange = [cell or "(no name)" for cell in found if cell not in COLUMNS]
    twice = sorted({cell for cell in found if found.count(cell) > 1})
    faults = [f"column {column} is missing" for column in missing] + [
        f"column {cell} is unknown" for cell in strange
    ]
    faults += [f"column {cell} is there twice" for cell in twice if cell in COLUMNS]
    if faults:
        raise Refused(f"{name}, line 1: {'; '.join(faults)}. The first line must be: {wanted}")
    return [found.index(column) if column in found else -1 for column in COLUMNS]


Numbered = tuple[int, HistoryRow]
Fault = tuple[int, str]


def _parse_rows(table: Iterator[list[str]], order: Sequence[int]) -> tuple[list[Numbered], list[Fault]]:
    rows: list[Numbered] = []
    faults: list[Fault] = []
    width = max(order) + 1
    for read in table:
        line, cells = table.line_num, _without_tail(read, width)  # type: ignore[attr-defined]
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != width:
            faults.append(
                (line, f"has {len(cells)} cell{'s' * (len(cells) != 1)} where the header has {width}")
            )
            continue
        try:
            rows.append((line, _parse_row([cells[at].strip() if at >= 0 else "0" for at in order])))
        except _BadCellsError as bad:
            faults.append((line, str(bad)))
    return rows, faults


def _without_tail(cells: Sequence[str], least: int = 0) -> list[str]:
    """Without the empty cells that a spreadsheet leaves at the end of a row."""
    size = len(cells)
    while size > least and not cells[size - 1].strip():
        size -= 1
    return list(cells[:size])


class _BadCellsError(ValueError):
    pass


def _parse_row(cells: Sequence[str]) -> HistoryRow:
    client, date, promised, outcome, minutes, away, slept, lowered = cells
    faults = _faults_of_name(client)
    day = _date_of(date)
    if day is None:
        faults.append(f"date {date or '(empty)'} is not a date like 2026-03-02")
    elif day.year not in YEARS:
        faults.append(f"date {date} is not in the years {YEARS[0]} to {YEARS[-1]}")
    size = _whole(promised, 0, LARGEST_PROMISE)
    if size is None:
        faults.append(f"promised {promised or '(empty)'} is not a whole number from 0 to {LARGEST_PROMISE}")
    if outcome not in OUTCOMES:
        faults.append(f"outcome {outcome} is not one of {', '.join(Outcome)} (or empty)")
    length = _whole(minutes, 1, LONGEST_SESSION)
    if length is None:
        faults.append(f"minutes {minutes or '(empty)'} is not a whole number from 1 to {LONGEST_SESSION}")
    if away not in FLAGS:
        faults.append(f"away {away or '(empty)'} is not 0 or 1")
    hours = _hours(slept)
    if slept and hours is None:
        faults.append(f"slept_h {slept} is not a number of hours from 0 to 24 (or empty)")
    if lowered not in FLAGS:
        faults.append(f"lowered {lowered or '(empty)'} is not 0 or 1")
    if faults or day is None or size is None or length is None:
        raise _BadCellsError("; ".join(faults))
    return HistoryRow(
        client=client,
        date=day,
        promised=size,
        outcome=OUTCOMES[outcome],
        minutes=length,
        away=FLAGS[away],
        slept_h=hours,
        lowered=FLAGS[lowered],
    )


def _faults_of_name(client: str) -> list[str]:
    if not client:
        return ["client is empty"]
    unreadable = any(unicodedata.category(sign) == "Cc" for sign in client)
    return ["client has signs in it that nobody can read"] if unreadable else []


def _date_of(text: str) -> dt.date | None:
    if len(text) != len("2026-03-02"):  # Python also reads 20260302 and 2026-W10-1
        return None
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        return None


def _whole(text: str, least: int, most: int) -> int | None:
    if not (text.isascii() and text.isdigit()) or len(text) > 4:
        return None
    number = int(text)
    return number if least <= number <= most else None


def _hours(text: str) -> float | None:
    try:
        hours = float(text.replace(",", "."))
    except ValueError:
        return None
    return hours if 0 <= hours <= 24 else None


def _faults_of_weeks(rows: Sequence[Numbered]) -> list[Fault]:
    """What is wrong between the rows of one client's ISO week."""
    weeks: defaultdict[tuple[str, dt.date], list[Numbered]] = defaultdict(list)
    for line, row in rows:
        weeks[row.client, row.monday].append((line, row))
    return [fault for week in weeks.values() for fault in _faults_of_week(week)]


def _faults_of_week(week: Sequence[Numbered]) -> list[Fault]:
    first_line, first = week[0]
    name = f"the week of {first.monday} of {first.client}"
    differing = [
        (
            line,
            f"promised {row.promised}, but line {first_line} says {first.promised} for {name}; a week has one promise",
        )
        for line, row in week
        if row.promised != first.promised
    ]
    if differing:
        return differing
    asks = [line for line, row in week if row.is_ask]
    return [
        (
            line,
            f"{name} has more asks than the {first.promised} promised; raise the promise or call the row extra",
        )
        for line in asks[first.promised :]
    ]
