"""The history file: read whole or refused whole."""

import datetime as dt
import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.adherence.history import (
    HistoryRow,
    by_client,
    last_known_day,
    parse_history,
    read_history,
    write_history,
)
from core.errors import Refused
from core.terms import Outcome

HEADER = "client,date,promised,outcome,minutes,away,slept_h,lowered"
GOOD = "Ines,2026-03-02,3,done,45,0,7.5,0"


def refusal(*lines: str) -> list[str]:
    with pytest.raises(Refused) as refused:
        parse_history([HEADER, *lines], name="h.csv")
    return list(refused.value.lines)


def test_a_row_is_read_as_it_stands() -> None:
    (row,) = parse_history([HEADER, GOOD])
    assert row == HistoryRow(
        client="Ines",
        date=dt.date(2026, 3, 2),
        promised=3,
        outcome=Outcome.DONE,
        minutes=45,
        away=False,
        slept_h=7.5,
        lowered=False,
    )


def test_the_last_column_may_be_absent_and_columns_may_stand_in_any_order() -> None:
    lines = ["date,client,promised,outcome,minutes,away,slept_h", "2026-03-02,Ines,3,,45,1,"]
    (row,) = parse_history(lines)
    assert (row.client, row.outcome, row.away, row.slept_h, row.lowered) == ("Ines", None, True, None, False)


@pytest.mark.parametrize(
    ("cell", "value", "word"),
    [
        (0, "", "client is empty"),
        (1, "02.03.2026", "date 02.03.2026 is not a date"),
        (1, "2026-02-30", "date 2026-02-30 is not a date"),
        (1, "20260302", "date 20260302 is not a date"),
        (2, "9", "promised 9 is not"),
        (2, "-1", "promised -1 is not"),
        (2, "2.5", "promised 2.5 is not"),
        (2, "", "promised (empty) is not"),
        (3, "doen", "outcome doen is not one of done, short, missed, unanswered, excused, extra"),
        (3, "Done", "outcome Done is not one of"),
        (4, "0", "minutes 0 is not"),
        (4, "", "minutes (empty) is not"),
        (5, "yes", "away yes is not 0 or 1"),
        (6, "25", "slept_h 25 is not"),
        (6, "-1", "slept_h -1 is not"),
        (6, "nan", "slept_h nan is not"),
        (6, "seven", "slept_h seven is not"),
        (7, "2", "lowered 2 is not 0 or 1"),
    ],
)
def test_a_bad_cell_is_named_with_its_line(cell: int, value: str, word: str) -> None:
    cells = GOOD.split(",")
    cells[cell] = value
    (line,) = refusal(GOOD, ",".join(cells))
    assert line.startswith(f"h.csv, line 3: {word}")


def test_every_bad_row_is_named_and_every_bad_cell_of_it() -> None:
    lines = refusal("Ines,2026-03-02,9,doen,45,0,25,0", GOOD, "Ines,2026-03-02,3,done,45,0", ",,,,,,,", "x")
    assert [line.split(":")[0] for line in lines] == ["h.csv, line 2", "h.csv, line 4", "h.csv, line 6"]
    assert all(word in lines[0] for word in ("promised 9", "outcome doen", "slept_h 25"))
    assert "has 6 cells where the header has 8" in lines[1]


def test_more_asks_than_promised_are_refused_but_extras_beyond_are_welcome() -> None:
    one = "Ines,2026-03-0{day},1,{outcome},45,0,,0"
    done, extra = one.format(day=2, outcome="done"), one.format(day=3, outcome="extra")
    assert len(parse_history([HEADER, done, extra, extra])) == 3
    (line,) = refusal(done, one.format(day=4, outcome="missed"))
    assert line.startswith("h.csv, line 3:")
    assert "more asks than the 1 promised" in line


def test_a_rest_week_holds_extras_alone() -> None:
    assert len(parse_history([HEADER, "Ines,2026-03-02,0,extra,45,0,,0"])) == 1
    assert "more asks than the 0 promised" in refusal("Ines,2026-03-02,0,done,45,0,,0")[0]


def test_a_week_has_one_promise() -> None:
    lines = refusal(GOOD, "Ines,2026-03-08,2,done,45,0,,0", "Ines,2026-03-09,2,done,45,0,,0")
    assert len(lines) == 1
    assert "line 3" in lines[0]
    assert "line 2 says 3" in lines[0]


def test_days_may_repeat_and_stand_in_any_order() -> None:
    later = GOOD.replace("03-02", "03-06")
    rows = by_client(parse_history([HEADER, later, GOOD, GOOD, GOOD.replace("Ines", "Tomas")]))
    assert list(rows) == ["Ines", "Tomas"]
    assert [row.date.day for row in rows["Ines"]] == [2, 2, 6]


@pytest.mark.parametrize(
    ("lines", "word"),
    [
        ([], "is empty. Its first line must be: client,date"),
        ([HEADER], "has a header and no rows"),
        (["client,date"], "column promised is missing"),
        ([HEADER + ",mood"], "column mood is unknown"),
        ([HEADER + ",date"], "column date is there twice"),
        ([HEADER, '"Ines' + "\0"], "line"),
    ],
)
def test_a_file_of_another_shape_is_told_what_it_should_be(lines: list[str], word: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_history(lines, name="h.csv")
    assert word in refused.value.lines[0]


def test_a_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    latin = tmp_path / "latin.csv"
    latin.write_bytes(f"{HEADER}\nZoë,".encode("latin-1"))
    for path, word in [(tmp_path / "no.csv", "no file"), (latin, "not UTF-8"), (tmp_path, "cannot be read")]:
        with pytest.raises(Refused, match=word):
            read_history(path)


def test_a_spreadsheets_byte_order_mark_is_no_column(tmp_path: Path) -> None:
    path = tmp_path / "h.csv"
    path.write_text("\ufeff" + HEADER + "\r\n" + GOOD + "\r\n", encoding="utf-8")
    assert len(read_history(path)) == 1


def test_the_last_known_day_is_the_last_with_an_outcome() -> None:
    rows = parse_history([HEADER, GOOD, "Ines,2026-03-06,3,,45,0,,0"])
    assert last_known_day(rows) == dt.date(2026, 3, 2)


def test_without_any_outcome_the_rows_are_the_coming_weeks_plan() -> None:
    rows = parse_history([HEADER, "Ines,2026-03-06,3,,45,0,,0"])
    assert last_known_day(rows) == dt.date(2026, 3, 1)


history_rows = st.builds(
    HistoryRow,
    client=st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1),
    date=st.dates(dt.date(1990, 1, 1), dt.date(2090, 1, 1)),
    promised=st.integers(1, 7),
    outcome=st.sampled_from([None, *Outcome]),
    minutes=st.integers(1, 480),
    away=st.booleans(),
    slept_h=st.none() | st.integers(0, 240).map(lambda tenths: tenths / 10),
    lowered=st.booleans(),
)


@given(history_rows)
def test_what_is_written_is_read_back(row: HistoryRow) -> None:
    file = io.StringIO(newline="")
    write_history([row], file)
    assert parse_history(file.getvalue().splitlines(keepends=True)) == [row]
