"""Spreadsheets within limits: what would unfold into something huge is refused, or costs nothing."""

import io
import zipfile

import openpyxl
import pytest

from core.errors import Refused
from core.programme.sheets.cells import LARGEST, MOST_COLUMNS, MOST_ROWS, read_sheets

SHEET = "xl/worksheets/sheet1.xml"


def workbook(rows: str, size: str = "") -> bytes:
    """A workbook of one sheet whose rows, and what it says of its size, are written by hand."""
    book, out, changed = openpyxl.Workbook(), io.BytesIO(), io.BytesIO()
    book.save(out)
    with zipfile.ZipFile(out) as given, zipfile.ZipFile(changed, "w", zipfile.ZIP_DEFLATED) as packed:
        for each in given.namelist():
            content = given.read(each)
            if each == SHEET:
                content = content.replace(b'<dimension ref="A1:A1"/>', size.encode())
                content = content.replace(b"<sheetData/>", f"<sheetData>{rows}</sheetData>".encode())
                content = content.replace(
                    b"<sheetData></sheetData>", f"<sheetData>{rows}</sheetData>".encode()
                )
            packed.writestr(each, content)
    return changed.getvalue()


def row(number: int, last: str, value: str = "") -> str:
    inner = f"<v>{value}</v>" if value else ""
    return f'<row r="{number}"><c r="A{number}"><v>1</v></c><c r="{last}{number}">{inner}</c></row>'


@pytest.mark.timeout(20)
def test_empty_cells_at_the_far_end_of_every_row_cost_nothing() -> None:
    """A spreadsheet that was formatted to its last column has such cells; unfolded they are three hundred millions."""
    content = workbook("".join(row(n, "XFD") for n in range(1, MOST_ROWS + 1)))
    assert len(content) < LARGEST
    (sheet,) = read_sheets(content, "wide.xlsx")
    assert len(sheet.rows) == MOST_ROWS
    assert set(sheet.rows) == {(1,)}


def test_a_value_beyond_the_columns_is_refused() -> None:
    with pytest.raises(Refused, match=f"row 2 has more than {MOST_COLUMNS} columns"):
        read_sheets(workbook(row(1, "B", "2") + row(2, "BI", "3")), "wide.xlsx")


def test_a_sheet_that_says_that_it_is_smaller_than_it_is_is_read_whole() -> None:
    """As some programs write it: what lies beyond was passed over without a word."""
    content = workbook(row(1, "B", "2") + row(2, "B", "3"), '<dimension ref="A1:A1"/>')
    assert read_sheets(content, "small.xlsx")[0].rows == ((1, 2), (1, 3))
