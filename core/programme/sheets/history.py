"""A history that comes back from a spreadsheet: read whole, or refused whole with every bad cell named."""

import csv
import io
import re
from collections.abc import Collection, Sequence

from rapidfuzz import process, utils

from core.adherence.history import COLUMNS, HistoryRow, parse_history
from core.errors import Refused
from core.people.names import folded
from core.programme.sheets.cells import Sheet, Value, cell_name, cell_text

_NEAR_ENOUGH = 70  # of 100, below which a suggestion would only confuse
_HERE = "\N{START OF HEADING}"  # what the parser shall call the file: a name that nobody gives one
_NEXT = re.compile(rf"; (?=(?:{'|'.join(COLUMNS)}|column) )")  # several bad cells of one row
_FAULT = re.compile(rf"{_HERE}, line (\d+): (.*)", re.DOTALL)


def history_from(sheets: Sequence[Sheet], name: str, clients: Collection[str]) -> list[HistoryRow]:
    """The rows of all sheets. ``Refused`` has a line for every bad cell: sheet, row, column, and what is wrong.

    :param clients: the names that a row may have.
    """
    faults: list[str] = []
    rows = [row for sheet in sheets for row in _rows_of(sheet, clients, faults)]
    if not rows and not faults:
        faults.append(f"{name} has no rows. The columns are {', '.join(COLUMNS)}; a row is a session.")
    if faults:
        raise Refused(*faults)
    return rows


def _rows_of(sheet: Sheet, clients: Collection[str], faults: list[str]) -> list[HistoryRow]:
    at = next((number for number, row in enumerate(sheet.rows) if row), None)
    if at is None:
        return []
    header = [_text("", value).casefold() for value in sheet.rows[at]]
    faults += _strangers(sheet, at, header, clients)
    try:
        return parse_history(_lines(sheet.rows[at:], header), name=_HERE)
    except Refused as refused:
        faults += [fault for line in refused.lines for fault in _placed(line, sheet, at, header)]
        return []


def _strangers(sheet: Sheet, at: int, header: Sequence[str], clients: Collection[str]) -> list[str]:
    """Names that are nobody's, each where it stands first."""
    if "client" not in header:
        return []
    column, known = list(header).index("client"), {folded(name) for name in clients}
    found: dict[str, list[int]] = {}
    for row, cells in enumerate(sheet.rows[at + 1 :], start=at + 1):
        name = _text("client", cells[column]) if column < len(cells) else ""
        if name and folded(name) not in known:
            found.setdefault(name, []).append(row)
    return [
        f"{cell_name(sheet.name, rows[0], column)}: there is no client '{name[:80]}'"
        f"{f' (in {len(rows)} rows)' if len(rows) > 1 else ''}: {_hint(name, clients)}"
        for name, rows in found.items()
    ]


def _hint(name: str, clients: Collection[str]) -> str:
    near = process.extractOne(name, list(clients), processor=utils.default_process, score_cutoff=_NEAR_ENOUGH)
    return f"did you mean '{near[0]}'?" if near else "mend the name, or invite them first."


def _lines(rows: Sequence[Sequence[Value]], header: Sequence[str]) -> list[str]:
    """One line of text a row, so that the parser's lines are the sheet's rows."""
    out = []
    for number, row in enumerate(rows):
        cells = list(header) if number == 0 else [_text(*pair) for pair in _paired(header, row)]
        text = io.StringIO()
        csv.writer(text, lineterminator="\n").writerow(cells if any(cells) else [])
        out.append(text.getvalue())
    return out


def _paired(header: Sequence[str], row: Sequence[Value]) -> list[tuple[str, Value]]:
    """A row's cells with the names of their columns: as many as the header has, or more where the row is too long."""
    width = max(len(header), len(row))
    names = [*header, *[""] * (width - len(header))]
    return list(zip(names, [*row, *[None] * (width - len(row))], strict=True))


def _text(column: str, value: Value) -> str:
    """A cell as the history file writes it: hours with a point."""
    text = cell_text(value)
    return text.replace(",", ".") if column == "slept_h" else text


def _placed(said: str, sheet: Sheet, at: int, header: Sequence[str]) -> list[str]:
    """A fault of the parser's with sheet, row and, where it is about one, the column."""
    found = _FAULT.fullmatch(said)
    if found is None:
        return [said.replace(_HERE, f"sheet {sheet.name}")]
    row = at + int(found[1])
    words = re.sub(r"\bline (\d+)", lambda line: f"row {at + int(line[1])}", found[2])
    return [_in_column(part, sheet, row, header) for part in _NEXT.split(words)]


def _in_column(part: str, sheet: Sheet, row: int, header: Sequence[str]) -> str:
    first = part.partition(" ")[0].rstrip(",")
    if first in COLUMNS and first in header:
        return f"{cell_name(sheet.name, row - 1, list(header).index(first))}: {part.rstrip('.')}."
    return f"sheet {sheet.name}, row {row}: {part.rstrip('.')}."
