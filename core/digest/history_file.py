"""A week's history to take away, as .csv and .xlsx.

A cell that a spreadsheet would take for a formula begins with a quote: names are written by people.
"""

import datetime as dt
import io
from collections.abc import Iterable
from dataclasses import replace

from core.adherence.history import COLUMNS, HistoryRow, write_history

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")
_WIDTHS = (28, 12, 10, 12, 9, 7, 9, 9)  # characters, a column


def history_csv(rows: Iterable[HistoryRow]) -> bytes:
    """The rows in the format of the history file."""
    text = io.StringIO()
    write_history((replace(row, client=harmless(row.client)) for row in rows), text)
    return text.getvalue().encode()


def history_xlsx(rows: Iterable[HistoryRow], *, made_at: dt.datetime) -> bytes:
    """The rows as a workbook of one sheet, with true dates and numbers."""
    import openpyxl  # some megabytes, for the few who ask for a workbook
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    book = openpyxl.Workbook()
    book.properties.created = made_at.astimezone(dt.UTC).replace(tzinfo=None)
    sheet = book.worksheets[0]
    sheet.title = "history"
    sheet.append(COLUMNS)
    for row in rows:
        sheet.append(_cells(row))
    for column, width in enumerate(_WIDTHS, 1):
        sheet.cell(1, column).font = Font(bold=True)
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.freeze_panes = "A2"
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def _cells(row: HistoryRow) -> tuple[str | int | float | dt.date | None, ...]:
    outcome = row.outcome.value if row.outcome else None
    return (
        harmless(row.client),
        row.date,
        row.promised,
        outcome,
        row.minutes,
        int(row.away),
        row.slept_h,
        int(row.lowered),
    )


def harmless(text: str) -> str:
    """The text, with a quote before what a spreadsheet would run as a formula, and without signs that no sheet can hold."""
    plain = "".join(sign for sign in text if sign >= " " or sign in "\t\r\n")
    return f"'{plain}" if plain.startswith(_FORMULA) else plain
