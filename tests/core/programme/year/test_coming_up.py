"""The year file: read whole or refused whole, with every bad row named."""

import datetime as dt

import pytest

from core.errors import Refused
from core.programme.year.coming_up import LARGEST, Kind, read_coming_up
from core.terms import Block

MONDAY = dt.date(2027, 1, 4)
HEADER = "name,from,to,kind,importance,wants\n"


def read(*rows: str, start: dt.date = MONDAY, weeks: int = 52) -> tuple[object, ...]:
    return read_coming_up((HEADER + "\n".join(rows)).encode(), start, weeks)


def refused(*rows: str, start: dt.date = MONDAY, weeks: int = 52) -> list[str]:
    with pytest.raises(Refused) as fault:
        read(*rows, start=start, weeks=weeks)
    return list(fault.value.lines)


def test_rows_become_values_in_order_of_date() -> None:
    found = read_coming_up(
        (
            HEADER
            + "Tour,2027-05-03,2027-05-20,trip,,\n\nOpening night,2027-04-02,,event,3,power endurance\n"
        ).encode("utf-8-sig"),
        MONDAY,
        52,
    )
    assert [each.name for each in found] == ["Opening night", "Tour"]
    assert (found[0].kind, found[0].importance, found[0].wants) == (Kind.EVENT, 3, Block.POWER_ENDURANCE)
    assert found[0].first == found[0].last == dt.date(2027, 4, 2)


def test_every_bad_row_is_named_with_its_line() -> None:
    lines = refused(
        "Survey,2027-13-01,,event,2,strength",
        ",2027-02-01,2027-01-20,holiday,,",
        "Fit-out,2027-03-01,,fair,,",
        "Gala,2027-03-08,,event,4,size",
        "Leave,2027-05-01,,holiday,2,strength",
        "Short,2027-05-01",
    )
    text = "\n".join(lines)
    for line in range(2, 8):
        assert f"line {line}:" in text
    assert "not '2027-13-01'" in text
    assert "it has no name" in text
    assert "before it begins" in text
    assert "'fair'" in text
    assert "not '4'" in text
    assert "not 'size'" in text
    assert "leave them empty for a holiday" in text
    assert "2 cells, where 6 are wanted" in text


def test_an_event_in_the_past_is_refused() -> None:
    assert refused("Premiere,2026-12-01,,event,3,power") == [
        "line 2: 'Premiere' is over on 2026-12-01, before the plan begins on 2027-01-04: take it out, or begin earlier."
    ]


def test_overlapping_holidays_are_refused_and_neighbours_are_not() -> None:
    (line,) = refused("Beach,2027-07-01,2027-07-14,holiday,,", "Family,2027-07-14,2027-07-20,holiday,,")
    assert "'Family'" in line
    assert "'Beach' (line 2)" in line
    assert len(read("Beach,2027-07-01,2027-07-13,holiday,,", "Family,2027-07-14,2027-07-20,holiday,,")) == 2


def test_the_span_must_begin_on_a_monday_and_be_sensible() -> None:
    assert "2027-01-05 is a Tuesday" in refused(start=dt.date(2027, 1, 5))[0]
    assert refused(weeks=0) == ["--weeks is 1 to 104, not 0."]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"a,b\n", "the columns are name,from,to,kind,importance,wants"),
        (b"", "The file is empty"),
        (b"  \r\n", "The file is empty"),
        (b"\xff\xfe\x00", "not UTF-8"),
        (b"x" * (LARGEST + 1), "MB"),
    ],
)
def test_a_file_that_is_no_year_file(content: bytes, said: str) -> None:
    with pytest.raises(Refused, match=said):
        read_coming_up(content, MONDAY, 52)


@pytest.mark.parametrize("separator", [";", "\t"])
def test_a_spreadsheet_may_part_its_columns_otherwise(separator: str) -> None:
    content = "name,from,to,kind,importance,wants\r\nPremiere,2027-03-20,,event,3,power\r\n"
    [event] = read_coming_up(content.replace(",", separator).encode("utf-8-sig"), MONDAY, 52)
    assert (event.name, event.wants) == ("Premiere", "power")
