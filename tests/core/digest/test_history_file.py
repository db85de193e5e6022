import datetime as dt
import io

import openpyxl
import pytest

from core.adherence.history import COLUMNS, HistoryRow, parse_history
from core.digest.history_file import harmless, history_csv, history_xlsx
from core.terms import Outcome

MADE = dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC)
ROWS = [
    HistoryRow(
        client="Bo Adeyemi",
        date=dt.date(2026, 11, 23),
        promised=2,
        outcome=Outcome.DONE,
        minutes=45,
        slept_h=7.5,
    ),
    HistoryRow(
        client="Bo Adeyemi", date=dt.date(2026, 11, 28), promised=2, outcome=None, minutes=30, away=True
    ),
    HistoryRow(
        client="Ruth, Okafor",
        date=dt.date(2026, 11, 24),
        promised=3,
        outcome=Outcome.EXCUSED,
        minutes=20,
        lowered=True,
    ),
]


def test_the_csv_reads_back_as_the_history_that_it_was() -> None:
    assert parse_history(history_csv(ROWS).decode().splitlines()) == ROWS


def test_the_workbook_holds_dates_and_numbers() -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(history_xlsx(ROWS, made_at=MADE)))["history"]
    header, first, second, third = sheet.iter_rows(values_only=True)
    assert header == COLUMNS
    assert isinstance(first[1], dt.datetime)
    assert (first[1].date(), *first[2:]) == (dt.date(2026, 11, 23), 2, "done", 45, 0, 7.5, 0)
    assert second[3] is None
    assert third[7] == 1


@pytest.mark.parametrize("name", ['=HYPERLINK("http://x")', "+1", "-1", "@SUM(A1)", "\tx", "\r=1"])
def test_a_name_that_a_spreadsheet_would_run_is_quoted(name: str) -> None:
    row = HistoryRow(client=name, date=dt.date(2026, 11, 23), promised=1, outcome=None, minutes=30)
    sheet = openpyxl.load_workbook(io.BytesIO(history_xlsx([row], made_at=MADE)))["history"]
    assert sheet["A2"].data_type == "s"
    assert str(sheet["A2"].value).startswith("'")
    assert history_csv([row]).decode().splitlines()[1].lstrip('"').startswith("'")


def test_signs_that_no_sheet_can_hold_are_left_out() -> None:
    assert harmless("Bo\x00\x0bAdeyemi") == "BoAdeyemi"
    assert harmless("Bo") == "Bo"
