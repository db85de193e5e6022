"""Spreadsheets as rows of cells, .xlsx and .csv alike: within limits on the way in, harmless on the way out."""

import csv
import dataclasses
import datetime as dt
import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from core.csv_text import separator_in
from core.errors import Refused

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

Value = str | int | float | bool | dt.datetime | dt.date | dt.time | dt.timedelta | None

LARGEST = 5_000_000  # bytes of a file
LARGEST_UNPACKED = 40_000_000  # bytes: a small .xlsx can unfold into a huge one
MOST_ROWS, MOST_COLUMNS = 20_000, 60
_PACKED, _OLD_OFFICE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")


@dataclasses.dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet by its name, with its rows; row and column count from 0."""

    name: str
    rows: tuple[tuple[Value, ...], ...]


def cell_name(sheet: str, row: int, column: int) -> str:
    """'sheet Programme, row 4, column D', as a coach finds it; row and column from 0."""
    from openpyxl.utils import get_column_letter

    return f"sheet {sheet}, row {row + 1}, column {get_column_letter(column + 1)}"


def too_large(size: int) -> str:
    return f"The file has {size / 1e6:.1f} MB; up to {LARGEST / 1e6:.0f} MB can be read. Send only what is to be taken in."


def read_sheets(content: bytes, name: str) -> tuple[Sheet, ...]:
    """The sheets of an .xlsx or .csv file. ``Refused`` where it is neither, too large, locked or broken."""
    if len(content) > LARGEST:
        raise Refused(too_large(len(content)))
    if content.startswith(_PACKED):
        return _read_xlsx(content)
    if content.startswith(_OLD_OFFICE):
        raise Refused(f"{name} is an old .xls file or has a password: save it as .xlsx without one.")
    return (Sheet("1", _read_csv(content, name)),)


def _read_xlsx(content: bytes) -> tuple[Sheet, ...]:
    import openpyxl  # some megabytes, for the few who send a workbook
    from openpyxl.utils.exceptions import InvalidFileException

    broken = Refused("The file is not a whole .xlsx: open it in your spreadsheet program and save it again.")
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            unpacked = sum(each.file_size for each in packed.infolist())
        if unpacked > LARGEST_UNPACKED:
            raise Refused(
                f"The file unfolds to {unpacked / 1e6:.0f} MB: remove pictures and empty rows, and send it again."
            )
        book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        sheets = tuple(
            Sheet(page.title, tuple(_limited(_rows(page), page.title))) for page in book.worksheets
        )
        book.close()
    except (
        zipfile.BadZipFile,
        InvalidFileException,
        KeyError,
        ValueError,
        EOFError,
        OSError,
        SyntaxError,
    ) as error:
        raise broken from error
    return sheets


def _rows(page: "Worksheet") -> Iterator[Sequence[object]]:
    """What the sheet holds, whatever it says of its own size; no further to the right than tells that it is too wide."""
    page.reset_dimensions()  # type: ignore[attr-defined]  # of a sheet that is only read
    return page.iter_rows(max_col=MOST_COLUMNS + 1, values_only=True)


def _read_csv(content: bytes, name: str) -> tuple[tuple[Value, ...], ...]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Refused(f"{name} is not UTF-8 text: save it as .xlsx, or as CSV UTF-8.") from error
    if "\0" in text:
        raise Refused(f"{name} is neither .xlsx nor .csv.")
    delimiter = separator_in(text.split("\n", 1)[0])
    try:
        return tuple(_limited(csv.reader(io.StringIO(text), delimiter=delimiter), "1"))
    except csv.Error as error:
        raise Refused(f"{name} is not readable as CSV ({error}).") from error


def _limited(rows: Iterable[Sequence[object]], sheet: str) -> Iterator[tuple[Value, ...]]:
    """Rows without empty cells at their end, up to the limits."""
    for number, row in enumerate(rows):
        cells = _without_tail([_tidy(value) for value in row])
        if number >= MOST_ROWS and cells:
            raise Refused(f"sheet {sheet} has more than {MOST_ROWS} rows: split it.")
        if len(cells) > MOST_COLUMNS:
            raise Refused(f"sheet {sheet}, row {number + 1} has more than {MOST_COLUMNS} columns.")
        if number < MOST_ROWS:
            yield cells


def _tidy(value: object) -> Value:
    """Text without blanks around it, and without the mark that keeps it from being a formula; empty text is nothing."""
    if value is None or isinstance(value, int | float | dt.date | dt.time | dt.timedelta):
        return value
    value = str(value)
    text = value.strip()
    if text.startswith("'") and text[1:].startswith(_STARTS_A_FORMULA):
        text = text[1:]
    return text or None


def cell_text(value: Value) -> str:
    """A cell as a line of CSV has it: a date is a date whatever the spreadsheet makes of it, a whole number has no point."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(int(value))
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return " ".join(str(value).split())


def _without_tail(cells: list[Value]) -> tuple[Value, ...]:
    while cells and cells[-1] is None:
        cells.pop()
    return tuple(cells)


# --- out -----------------------------------------------------------------------------------------------------------------


def harmless(value: Value) -> Value:
    """Text that a spreadsheet would take for a formula, marked as text; anything else as it is."""
    if isinstance(value, str) and value.startswith(_STARTS_A_FORMULA):
        return f"'{value}"
    return value


def write_csv(rows: Sequence[Sequence[Value]]) -> bytes:
    """UTF-8 with the mark that spreadsheet programs look for."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows([harmless(value) for value in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def write_xlsx(sheets: Sequence[Sheet]) -> bytes:
    """A workbook; the first row of every sheet stays in sight, and no cell is a formula."""
    import openpyxl
    from openpyxl.utils import get_column_letter

    book = openpyxl.Workbook(write_only=True)
    for sheet in sheets:
        page = book.create_sheet(sheet.name)
        page.freeze_panes = "A2"
        for column, width in enumerate(_widths(sheet.rows), start=1):
            page.column_dimensions[get_column_letter(column)].width = width
        for row in sheet.rows:
            page.append([harmless(value) for value in row])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _widths(rows: Sequence[Sequence[Value]]) -> list[float]:
    """Wide enough for the longest text of a column, within reason."""
    columns = max((len(row) for row in rows), default=0)
    longest = [
        max((len(str(row[c])) for row in rows if c < len(row) and row[c] is not None), default=0)
        for c in range(columns)
    ]
    return [min(60, max(8, length + 2)) for length in longest]
