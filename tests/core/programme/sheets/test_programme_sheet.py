"""A programme goes out and comes back, and every bad cell is named at once."""

import dataclasses
import datetime as dt
import io
import zipfile
from collections.abc import Callable

import openpyxl
import pytest

from core.errors import Refused
from core.programme.build import build_session
from core.programme.movements import our_library
from core.programme.session import SessionRequest
from core.programme.sheets.cells import LARGEST, harmless, read_sheets, write_csv
from core.programme.sheets.programme import (
    COLUMNS,
    ProgrammeRow,
    nearest_exercise,
    programme_csv,
    programme_xlsx,
    read_programme,
    rows_of,
)
from core.terms import Block, Room

LIBRARY = our_library()
ROW = ProgrammeRow(
    block=Block.STRENGTH,
    week=1,
    session=2,
    exercise="Goblet squat",
    sets=3,
    low=8,
    high=12,
    rir=2,
    rest_s=90,
    kg=22.5,
)


def a_programme() -> list[ProgrammeRow]:
    built = [
        build_session(SessionRequest(block=b, minutes=45, room=Room.HOTEL_GYM), LIBRARY)
        for b in (Block.STRENGTH, Block.POWER)
    ]
    return [
        row
        for number, session in enumerate(built, start=1)
        for row in rows_of(session, week=1, number=number)
    ]


@pytest.mark.parametrize(("write", "name"), [(programme_xlsx, "p.xlsx"), (programme_csv, "p.csv")])
def test_a_programme_comes_back_as_it_went_out(
    write: Callable[[list[ProgrammeRow]], bytes], name: str
) -> None:
    rows = a_programme()
    assert len(rows) > 10
    assert list(read_programme(write(rows), name, LIBRARY)) == rows


def csv_of(*lines: str) -> bytes:
    return "\n".join([",".join(COLUMNS), *lines]).encode()


def faults_of(content: bytes, name: str = "p.csv") -> list[str]:
    with pytest.raises(Refused) as refused:
        read_programme(content, name, LIBRARY)
    return list(refused.value.lines)


def test_every_bad_cell_is_named_with_sheet_row_and_column() -> None:
    lines = faults_of(
        csv_of(
            "strenght,1,1,Goblet squat,3,8 to 12,repetitions,2,90,20,",
            "strength,0,1,Gobblet squat,three,12 to 8,reps,2,90,heavy,",
            "strength,1,1.5,Goblet squat,3,8,,,,,",
        )
    )
    said = "\n".join(lines)
    assert "sheet 1, row 2, column A (block): 'strenght' is none of" in said
    assert "sheet 1, row 3, column B (week): '0' is not a whole number from 1 to 104" in said
    assert (
        "sheet 1, row 3, column D (exercise): there is no exercise 'Gobblet squat': did you mean 'Goblet squat'?"
        in said
    )
    assert "sheet 1, row 3, column E (sets): 'three'" in said
    assert "row 3, column F (repetitions): '12 to 8'" in said
    assert "row 3, column G (unit): 'reps'" in said
    assert "row 3, column J (kg): 'heavy'" in said
    assert "row 4, column C (session): '1.5' is not a whole number" in said
    assert len(lines) == 8


def test_in_a_workbook_the_sheet_is_named_and_a_date_for_repetitions_is_explained() -> None:
    book = openpyxl.Workbook()
    page = book.active
    assert page is not None
    page.title = "Week one"
    page.append(list(COLUMNS))
    page.append(
        [
            "strength",
            1,
            1,
            "Goblet squat",
            3,
            dt.date(2027, 8, 12),
            None,
            None,
            None,
            None,
            None,
        ]
    )
    out = io.BytesIO()
    book.save(out)
    (line,) = faults_of(out.getvalue(), "p.xlsx")
    assert line.startswith(
        "sheet Week one, row 2, column F (repetitions): your spreadsheet program has made a date of it"
    )


def test_semicolons_decimal_commas_and_missing_optional_columns_are_read() -> None:
    content = (
        "block;week;session;exercise;sets;repetitions;kg\nStrength;1;2;goblet SQUAT;3;8-12;22,5\n\n".encode(
            "utf-8-sig"
        )
    )
    assert read_programme(content, "p.csv", LIBRARY) == (dataclasses.replace(ROW, rir=None, rest_s=None),)


def test_missing_and_unknown_columns() -> None:
    lines = faults_of(b"block,week,exercise,sets,repetitions,tempo\nstrength,1,Goblet squat,3,8,x\n")
    assert any("row 1, column F: there is no column 'tempo'" in line for line in lines)
    assert any("the column session must be there" in line for line in lines)


def test_formulas_are_neutralised_on_the_way_out_and_come_back_as_words() -> None:
    evil = ['=HYPERLINK("http://x")', "+1", "-2", "@SUM(A1)", "\tx", "＝1"]
    for text in evil:
        assert harmless(text) == "'" + text
    assert harmless(-2) == -2
    assert harmless("1+1") == "1+1"
    rows = [dataclasses.replace(ROW, note=text) for text in evil if not text.startswith("\t")]
    for write, name in ((programme_xlsx, "p.xlsx"), (programme_csv, "p.csv")):
        assert list(read_programme(write(rows), name, LIBRARY)) == rows
    page = openpyxl.load_workbook(io.BytesIO(programme_xlsx(rows))).active
    assert page is not None
    assert all(cell.data_type != "f" for row in page.iter_rows() for cell in row)
    assert b"\n=" not in write_csv([["=1"]])


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "no exercises"),
        (b"x" * (LARGEST + 1), "5.0 MB"),
        (b"PK\x03\x04 not a zip", "not a whole .xlsx"),
        (b"\xd0\xcf\x11\xe0 old", "old .xls file"),
        (b"\xff\xfe\x00\x01", "not UTF-8"),
        (b"\x00\x01", "neither .xlsx nor .csv"),
        (b"a," * 100, "more than 60 columns"),
        (b"block\n" + b"x\n" * 1_000_000, "more than 20000 rows"),
    ],
)
def test_files_that_are_no_programme(content: bytes, said: str) -> None:
    assert said in "\n".join(faults_of(content))


def test_a_small_file_that_unfolds_into_a_huge_one_is_refused() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b" " * 70_000_000)
    with pytest.raises(Refused, match="unfolds to 70 MB"):
        read_sheets(out.getvalue(), "p.xlsx")


def test_the_nearest_name() -> None:
    assert nearest_exercise("bulgarian split squat", LIBRARY) is not None
    assert nearest_exercise("Back sqat", LIBRARY) == "Back squat"
    assert nearest_exercise("zzzz", LIBRARY) is None
