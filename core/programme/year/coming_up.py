"""What is coming up: events, holidays and trips, read from a spreadsheet; one line for everything that is wrong with it."""

import csv
import dataclasses
import datetime as dt
import enum
import io
import itertools
import re
from collections.abc import Mapping, Sequence

from core.csv_text import separator_in
from core.errors import Refused
from core.terms import Block

COLUMNS = ("name", "from", "to", "kind", "importance", "wants")
WANTED = (Block.HYPERTROPHY, Block.STRENGTH, Block.POWER, Block.POWER_ENDURANCE)
LARGEST = 1_000_000  # bytes of a year file
MOST_WEEKS = 104
YEARS = range(2000, 2100)  # others are slips of the pen
WEEK = dt.timedelta(days=7)


class Kind(enum.StrEnum):
    EVENT = "event"
    HOLIDAY = "holiday"
    TRIP = "trip"


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class ComingUp:
    """Something in the calendar; ``importance`` (3: peak for it) and ``wants`` only of an event; ``last`` inclusive."""

    name: str
    first: dt.date
    last: dt.date
    kind: Kind
    importance: int = 0
    wants: Block | None = None
    line: int = 0


def monday_of(day: dt.date) -> dt.date:
    return day - dt.timedelta(days=day.weekday())


def read_coming_up(
    content: bytes, start: dt.date, weeks: int, *, first_line: int = 2
) -> tuple[ComingUp, ...]:
    """The rows of a year file, in order of date. ``Refused`` names every bad row with its line.

    ``first_line`` is what the first row is called: 1 where nobody wrote the line of column names.
    """
    faults = span_faults(start, weeks)
    rows = _rows(content, faults, shift=first_line - 2)
    read = [_row(line, row, faults) for line, row in rows]
    found = [each for each in read if each is not None]
    faults += _past(found, start) + _overlaps(found)
    if faults:
        raise Refused(*sorted(faults, key=_line_of))
    return tuple(sorted(found, key=lambda each: (each.first, each.line)))


def _line_of(fault: str) -> int:
    """The line that a fault is about; 0 where it is about all of it."""
    found = re.match(r"line (\d+):", fault)
    return int(found[1]) if found else 0


def span_faults(start: dt.date, weeks: int) -> list[str]:
    faults = []
    if start.year not in YEARS:
        faults.append(f"--from lies between {YEARS[0]} and {YEARS[-1]}, not in {start.year}.")
    if start.weekday() != 0:
        faults.append(
            f"--from is a Monday; {start} is a {start:%A}. The Monday of that week is {monday_of(start)}."
        )
    if not 1 <= weeks <= MOST_WEEKS:
        faults.append(f"--weeks is 1 to {MOST_WEEKS}, not {weeks}.")
    return faults


def too_large(size: int) -> str:
    return f"The file has {size / 1e6:.1f} MB; a year file is a few lines. Is it the right one?"


def _rows(content: bytes, faults: list[str], *, shift: int) -> list[tuple[int, Mapping[str, str]]]:
    """The rows that have all columns, with their lines."""
    if len(content) > LARGEST:
        faults.append(too_large(len(content)))
        return []
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        faults.append(f"The file is not UTF-8 text (byte {error.start}): save it as CSV, UTF-8.")
        return []
    if not text.strip():
        faults.append(f"The file is empty. Its first line is {','.join(COLUMNS)}.")
        return []
    reader = csv.reader(io.StringIO(text), delimiter=separator_in(text.partition("\n")[0]))
    header = [cell.strip().casefold() for cell in next(reader, [])]
    if header != list(COLUMNS):
        faults.append(f"line 1: the columns are {','.join(COLUMNS)}, not {','.join(header)}.")
        return []
    return _whole_rows(reader, faults, shift)


def _whole_rows(
    reader: "csv._reader",  # type: ignore[name-defined]
    faults: list[str],
    shift: int,
) -> list[tuple[int, Mapping[str, str]]]:
    rows: list[tuple[int, Mapping[str, str]]] = []
    try:
        for row in reader:
            line = reader.line_num + shift
            if not any(cell.strip() for cell in row):
                continue
            if len(row) != len(COLUMNS):
                faults.append(f"line {line}: {len(row)} cells, where {len(COLUMNS)} are wanted.")
                continue
            rows.append((line, dict(zip(COLUMNS, (cell.strip() for cell in row), strict=True))))
    except csv.Error as error:
        faults.append(f"line {reader.line_num + shift}: not readable as CSV ({error}).")
    return rows


def _row(line: int, row: Mapping[str, str], faults: list[str]) -> ComingUp | None:
    """One row as a value, or None with every fault of it noted."""
    wrong: list[str] = []
    if not row["name"]:
        wrong.append("it has no name")
    first, last = _dates(row, wrong)
    kind = _kind(row["kind"], wrong)
    importance, wants = _aim(row, kind, wrong)
    faults += [f"line {line}: {said}." for said in wrong]
    if wrong or first is None or last is None or kind is None:
        return None
    return ComingUp(
        name=row["name"], first=first, last=last, kind=kind, importance=importance, wants=wants, line=line
    )


def _dates(row: Mapping[str, str], wrong: list[str]) -> tuple[dt.date | None, dt.date | None]:
    first = _date("from", row["from"], wrong)
    last = _date("to", row["to"], wrong) if row["to"] else first
    if first and last and last < first:
        wrong.append(f"it ends on {last}, before it begins on {first}")
    return first, last


def _date(column: str, said: str, wrong: list[str]) -> dt.date | None:
    try:
        day = dt.date.fromisoformat(said)
    except ValueError:
        wrong.append(f"'{column}' is a date such as 2027-03-15, not '{said}'")
        return None
    if day.year not in YEARS:
        wrong.append(f"'{column}' lies between {YEARS[0]} and {YEARS[-1]}, not in {day.year}")
    return day


def _kind(said: str, wrong: list[str]) -> Kind | None:
    try:
        return Kind(said.casefold())
    except ValueError:
        wrong.append(f"'kind' is event, holiday or trip, not '{said}'")
        return None


def _aim(row: Mapping[str, str], kind: Kind | None, wrong: list[str]) -> tuple[int, Block | None]:
    """Importance and wish of an event; both empty of anything else."""
    importance, wants = row["importance"], row["wants"].casefold()
    if kind is not Kind.EVENT:
        if kind is not None and (importance or wants):
            wrong.append(f"'importance' and 'wants' are for events; leave them empty for a {kind}")
        return 0, None
    if importance not in {"1", "2", "3"}:
        wrong.append(f"'importance' of an event is 1, 2 or 3, not '{importance}'")
    if wants not in {str(block) for block in WANTED}:
        wrong.append(f"'wants' of an event is one of {', '.join(WANTED)}, not '{wants}'")
    return (0, None) if wrong else (int(importance), Block(wants))


def _past(found: Sequence[ComingUp], start: dt.date) -> list[str]:
    return [
        f"line {each.line}: '{each.name}' is over on {each.last}, before the plan begins on {start}: "
        "take it out, or begin earlier."
        for each in found
        if each.last < start
    ]


def _overlaps(found: Sequence[ComingUp]) -> list[str]:
    holidays = sorted(
        (each for each in found if each.kind is Kind.HOLIDAY), key=lambda each: (each.first, each.line)
    )
    return [
        f"line {later.line}: the holiday '{later.name}' begins on {later.first}, "
        f"while '{earlier.name}' (line {earlier.line}) lasts until {earlier.last}. Make them one, or move one."
        for earlier, later in itertools.pairwise(holidays)
        if later.first <= earlier.last
    ]
