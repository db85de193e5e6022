"""A history that comes back from a spreadsheet program, in all the ways in which those write it."""

import datetime as dt
import io

import openpyxl
import pytest

from core.adherence.history import COLUMNS, HistoryRow
from core.digest.history_file import history_csv, history_xlsx
from core.errors import Refused
from core.programme.sheets.cells import read_sheets
from core.programme.sheets.history import history_from
from core.programme.sheets.kinds import SheetKind, kind_of
from core.programme.sheets.programme import programme_csv
from core.terms import Outcome

MADE = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
ROW = HistoryRow(
    client="Mara",
    date=dt.date(2026, 3, 2),
    promised=3,
    outcome=Outcome.DONE,
    minutes=45,
    away=True,
    slept_h=6.5,
    lowered=True,
)
EXTRA = HistoryRow(client="Mara", date=dt.date(2026, 3, 8), promised=3, outcome=Outcome.EXTRA, minutes=20)


def read(content: bytes, name: str = "past.csv", clients: tuple[str, ...] = ("Mara",)) -> list[HistoryRow]:
    return history_from(read_sheets(content, name), name, clients)


def faults_of(content: bytes) -> list[str]:
    with pytest.raises(Refused) as refused:
        read(content)
    return list(refused.value.lines)


def test_what_goes_out_comes_back() -> None:
    assert read(history_csv([ROW, EXTRA])) == [ROW, EXTRA]
    assert read(history_xlsx([ROW, EXTRA], made_at=MADE), "past.xlsx") == [ROW, EXTRA]


def test_semicolons_and_decimal_commas() -> None:
    content = (
        b"client;date;promised;outcome;minutes;away;slept_h;lowered\nMara;2026-03-02;3;done;45;1;6,5;1\n"
    )
    assert read(content) == [ROW]


def test_columns_in_another_order_in_capitals_and_rows_above_and_between() -> None:
    book = openpyxl.Workbook()
    page = book.worksheets[0]
    page.title = "Spring"
    order = ["Date", "Client", "Outcome", "Promised", "Minutes", "Away", "Slept_h", "Lowered"]
    when = dt.datetime(2026, 3, 2)  # noqa: DTZ001 - as a workbook has it
    for row in ([], order, [when, "Mara", "done", 3.0, 45.0, True, 6.5, 1], [], [when, "Mara", "soon", 3]):
        page.append(row)
    out = io.BytesIO()
    book.save(out)
    with pytest.raises(Refused) as refused:
        read(out.getvalue(), "past.xlsx")
    assert list(refused.value.lines) == [
        "sheet Spring, row 5, column C: outcome soon is not one of done, short, missed, unanswered, excused, extra (or empty).",
        "sheet Spring, row 5, column E: minutes (empty) is not a whole number from 1 to 480.",
        "sheet Spring, row 5, column F: away (empty) is not 0 or 1.",
        "sheet Spring, row 5, column H: lowered (empty) is not 0 or 1.",
    ]


def test_two_promises_in_a_week_and_too_many_asks_are_named_by_row() -> None:
    head = ",".join(COLUMNS) + "\n"
    twice = head + "Mara,2026-03-02,3,done,45,0,,0\n\nMara,2026-03-03,2,done,45,0,,0\n"
    assert faults_of(twice.encode()) == [
        "sheet 1, row 4, column C: promised 2, but row 2 says 3 for the week of 2026-03-02 of Mara; a week has one promise."
    ]
    many = head + "Mara,2026-03-02,1,done,45,0,,0\nMara,2026-03-03,1,done,45,0,,0\n"
    assert (
        "row 3: the week of 2026-03-02 of Mara has more asks than the 1 promised"
        in faults_of(many.encode())[0]
    )


def test_missing_columns_and_no_rows() -> None:
    assert any(
        "column minutes is missing" in line for line in faults_of(b"client,date,promised,outcome\nx,2,3,4\n")
    )
    assert "no rows" in faults_of(",".join(COLUMNS).encode())[0]


def test_a_sheet_is_known_by_its_columns() -> None:
    assert kind_of(read_sheets(history_csv([ROW]), "x.csv")) is SheetKind.HISTORY
    assert kind_of(read_sheets(programme_csv([]), "x.csv")) is SheetKind.PROGRAMME
    assert kind_of(read_sheets(b"Name,From,To,Kind\nBreak,2027-01-01,,holiday\n", "x.csv")) is SheetKind.YEAR
    assert kind_of(read_sheets(b"name,when\n", "x.csv")) is None
    assert kind_of(()) is None
