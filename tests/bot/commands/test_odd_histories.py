"""Histories as people's spreadsheets have them, through the commands: refused with every bad row named, or forecast and said so."""

import datetime as dt
import json
import math
from collections.abc import Iterable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from bot.cli import main

HEADER = "client,date,promised,outcome,minutes,away,slept_h,lowered"
GOOD = "Ines,2026-03-02,3,done,45,0,7.5,0"
MONDAY = dt.date(2026, 3, 2)


def saved(folder: Path, content: str | bytes) -> str:
    path = folder / "h.csv"
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return str(path)


def lines(*rows: str) -> str:
    return "\n".join([HEADER, *rows]) + "\n"


def every_week(weeks: int, outcomes: str, *, promised: int, first: dt.date = MONDAY) -> Iterator[str]:
    """The same week over and over, an outcome a day from Monday."""
    for week in range(weeks):
        for day, outcome in enumerate(outcomes.split()):
            yield f"Ines,{first + dt.timedelta(days=7 * week + day)},{promised},{outcome},45,0,,0"


def numbers(told: object) -> Iterator[float]:
    if isinstance(told, dict):
        for each in told.values():
            yield from numbers(each)
    elif isinstance(told, list):
        for each in told:
            yield from numbers(each)
    elif isinstance(told, float):
        yield told


def forecast(capsys: pytest.CaptureFixture[str], path: str, *words: str) -> tuple[list[dict[str, Any]], str]:
    """The clients of the answer, which are checked for what must hold of every forecast, and what was said beside it."""
    assert main(["forecast", path, "--format", "json", *words]) == 0
    said = capsys.readouterr()
    told = json.loads(said.out)
    assert all(math.isfinite(number) for number in numbers(told))
    for client in told["clients"]:
        keep = [client["next_week"]["keep"][str(k)] for k in range(1, 8)]
        assert all(0 < p < 1 for p in [*keep, client["engaged"]])
        assert all(more >= fewer for more, fewer in pairwise(keep))
        assert all(0 < client["next_week"]["expected"][str(k)] < k for k in range(1, 8))
        assert 1 <= client["recommend"] <= 7
        assert client["recommend_minutes"] >= 10
        assert client["why"]
    return told["clients"], said.err


def audit(capsys: pytest.CaptureFixture[str], path: str) -> dict[str, Any]:
    assert main(["audit", path, "--format", "json"]) == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert all(math.isfinite(number) for number in numbers(told))
    return told


def refusal(capsys: pytest.CaptureFixture[str], command: str, path: str) -> list[str]:
    assert main([command, path, "--format", "json"]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert "Something went wrong" not in said.err
    return said.err.splitlines()


BAD = {
    "an empty file": ("", ["h.csv is empty. Its first line must be: client,date"]),
    "a header alone": (HEADER + "\n", ["h.csv has a header and no rows"]),
    "blank lines": ("\n\n", ["line 1: there are no names of columns. The first line must be: client,date"]),
    "no header": (GOOD + "\n", ["line 1: there are no names of columns"]),
    "promises of 0 and 9": (
        lines(GOOD.replace(",3,", ",0,"), GOOD.replace(",3,", ",9,")),
        [
            "line 2: the week of 2026-03-02 of Ines has more asks than the 0 promised",
            "line 3: promised 9 is not",
        ],
    ),
    "outcomes misspelt": (
        lines(GOOD.replace("done", "doen"), GOOD, GOOD.replace("done", "skipped")),
        ["line 2: outcome doen is not one of done, short", "line 4: outcome skipped is not one of"],
    ),
    "sleep that no night holds": (
        lines(*(GOOD.replace("7.5", hours) for hours in ("25", "-1", "nan", "inf"))),
        [
            f"line {at}: slept_h {hours} is not"
            for at, hours in enumerate(("25", "-1", "nan", "inf"), start=2)
        ],
    ),
    "dates of many kinds": (
        lines(
            *(
                GOOD.replace("2026-03-02", day)
                for day in ("02.03.2026", "2026-02-30", "9999-12-31", "0001-01-01")
            )
        ),
        [
            *("line 2: date 02.03.2026 is not a date", "line 3: date 2026-02-30 is not a date"),
            *("line 4: date 9999-12-31 is not in the years", "line 5: date 0001-01-01 is not in the years"),
        ],
    ),
    "Latin-1": (
        lines(GOOD, GOOD.replace("Ines", "Zoë"), GOOD, GOOD.replace("Ines", "José")).encode("latin-1"),
        ["line 3: is not UTF-8 text. Save it as CSV (UTF-8)", "line 5: is not UTF-8 text"],
    ),
    "no text at all": (bytes(range(256)) * 4, ["h.csv is not UTF-8 text"]),
    "a sign that nobody can read": (
        lines(GOOD.replace("Ines", "In\0es")),
        ["line 2: client has signs in it"],
    ),
    "a quotation mark left open": (lines('"' + GOOD, GOOD), ["line 3: has 1 cell where the header has 8"]),
    "a decimal comma between commas": (lines(GOOD.replace("7.5", "7,5")), ["line 2: has 9 cells where"]),
}


@pytest.mark.parametrize("command", ["forecast", "audit"])
@pytest.mark.parametrize(("content", "named"), BAD.values(), ids=BAD.keys())
def test_what_cannot_be_read_is_refused_with_every_bad_row_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str, content: str | bytes, named: list[str]
) -> None:
    told = refusal(capsys, command, saved(tmp_path, content))
    assert len(told) == len(named)
    for line, start in zip(told, named, strict=True):
        assert start in line


PLAIN = lines(GOOD)
SAME = {
    "as it should be": PLAIN,
    "a byte order mark": "\ufeff" + PLAIN,
    "lines that end in CR LF": PLAIN.replace("\n", "\r\n"),
    "lines that end in CR": PLAIN.replace("\n", "\r"),
    "semicolons": PLAIN.replace(",", ";"),
    "semicolons and a decimal comma": PLAIN.replace(",", ";").replace("7.5", "7,5"),
    "tabs": PLAIN.replace(",", "\t"),
    "UTF-16": PLAIN.encode("utf-16"),
    "capitals in the header": PLAIN.replace(HEADER, HEADER.upper()),
    "blanks round the cells": PLAIN.replace(",", " , "),
    "empty columns at the end": PLAIN.replace("\n", ",,\n"),
    "empty lines": PLAIN.replace("\n", "\n\n"),
}


@pytest.mark.parametrize("content", SAME.values(), ids=SAME.keys())
def test_what_can_be_read_is_read_however_it_was_saved(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: str | bytes
) -> None:
    plain, _ = forecast(capsys, saved(tmp_path, PLAIN))
    assert forecast(capsys, saved(tmp_path, content))[0] == plain


def test_one_row_is_forecast_and_has_nothing_to_audit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (client,), said = forecast(capsys, saved(tmp_path, PLAIN))
    assert client["previous"] == 3
    assert "1 client, 1 row, known up to 2026-03-02" in said
    assert "Note" not in said
    assert audit(capsys, saved(tmp_path, PLAIN))["weeks"] == 0


def test_somebody_with_only_excused_weeks_is_forecast_as_new_and_it_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [*every_week(4, "excused excused", promised=2), GOOD.replace("Ines", "Tomas")]
    (ines, _), said = forecast(capsys, saved(tmp_path, lines(*rows)))
    assert ines["previous"] is None
    assert ines["recommend"] <= 2
    assert "only 8 sessions excused so far" in ines["why"]
    assert "Note: everything was excused, so the odds are those of somebody new: Ines." in said
    assert audit(capsys, saved(tmp_path, lines(*rows)))["weeks"] == 0


def test_asks_without_any_outcome_are_plans_and_nothing_to_audit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = saved(tmp_path, lines(GOOD.replace("done", "")))
    (client,), said = forecast(capsys, path)
    assert client["previous"] is None
    assert "Note: no outcome is known up to 2026-03-01" in said
    assert audit(capsys, path)["weeks"] == 0


@pytest.mark.parametrize(
    ("outcome", "least", "most"), [("done", 0.9, 1), ("missed", 0, 0.5), ("unanswered", 0, 0.2)]
)
def test_all_done_none_done_and_none_answered_stay_inside_0_and_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], outcome: str, least: float, most: float
) -> None:
    path = saved(tmp_path, lines(*every_week(26, " ".join([outcome] * 7), promised=7)))
    (client,), _ = forecast(capsys, path)
    assert least < client["next_week"]["keep"]["1"] < most
    assert main(["forecast", path]) == 0
    table = capsys.readouterr().out
    assert " 100 " not in table
    assert " 0 %" not in table
    assert "100 %" not in table


def test_asks_of_the_same_day_all_count(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (client,), _ = forecast(capsys, saved(tmp_path, lines(GOOD, GOOD, GOOD)))
    assert "3 of the last 3 sessions done" in client["why"]
    assert refusal(capsys, "forecast", saved(tmp_path, lines(GOOD, GOOD, GOOD, GOOD))) == [
        "h.csv, line 5: the week of 2026-03-02 of Ines has more asks than the 3 promised; raise the promise or call the row extra"
    ]


def test_the_order_of_the_rows_says_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = list(every_week(5, "done missed done", promised=3))
    assert forecast(capsys, saved(tmp_path, lines(*rows))) == forecast(
        capsys, saved(tmp_path, lines(*reversed(rows)))
    )


def test_outcomes_of_a_day_to_come_are_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, lines(GOOD, GOOD.replace("2026", "2926")))
    _, said = forecast(capsys, path)
    assert "Note: 1 outcome is of a day after today, " in said
    assert "Ines 2926-03-02. Taken as it stands; is the date right?" in said
    _, said = forecast(capsys, path, "--as-of", "2026-03-08")
    assert "after today" not in said


def test_ten_thousand_weeks_are_forecast_from_the_last_and_it_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first = dt.date(1830, 1, 4)
    path = saved(tmp_path, lines(*every_week(10_000, "done done", promised=2, first=first)))
    (client,), said = forecast(capsys, path)
    assert client["next_week"]["keep"]["2"] > 0.9
    assert "Note: of more than 260 weeks only the last 260 are used: Ines." in said


@pytest.mark.parametrize("day", ["2026-02-01", "2026-03-02", "2027-03-02", "2226-03-02"])
def test_as_of_may_be_any_day(tmp_path: Path, capsys: pytest.CaptureFixture[str], day: str) -> None:
    path = saved(tmp_path, lines(*every_week(3, "done done missed", promised=3)))
    (client,), said = forecast(capsys, path, "--as-of", day)
    assert ("Note: no outcome is known up to 2026-02-01" in said) == (day == "2026-02-01")
    assert client["client"] == "Ines"


def test_a_thousand_clients_show_their_progress(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows: Iterable[str] = (GOOD.replace("Ines", f"client {at}") for at in range(250))
    clients, said = forecast(capsys, saved(tmp_path, lines(*rows)))
    assert len(clients) == 250
    assert [line for line in said.splitlines() if " of 250" in line] == [
        "100 of 250 clients",
        "200 of 250 clients",
    ]
