"""``programme-out``, ``programme-in`` and ``history-in``, run as an operator runs them: what is in the files, and what is kept."""

import csv
import io
from pathlib import Path

import openpyxl
import pytest

from bot.cli import main
from core.programme.movements import our_library
from core.programme.sheets.programme import COLUMNS, ProgrammeRow, read_programme
from core.store import house
from core.store import programme as shelves
from tests.bot.commands.installation import Installation

WRITTEN = """block,week,session,exercise,sets,repetitions,unit,rir,rest_s,kg,note
strength,1,1,Goblet squat,3,8 to 12,repetitions,2,60,20,'=slowly
strength,1,2,Dumbbell hip thrust,3,10,repetitions,2,60,,
"""
PAST = """client,date,promised,outcome,minutes,away,slept_h
Mara,2025-03-03,2,done,45,0,6.5
Mara,2025-03-05,2,short,45,0,
Mara,2025-03-10,2,missed,45,1,
"""


async def test_a_programme_goes_out_with_every_session_of_the_next_weeks(installed: Installation) -> None:
    read: dict[str, tuple[ProgrammeRow, ...]] = {}
    for name in ("out.xlsx", "out.csv"):
        file = installed.folder / name
        code, out, err = await installed.run("programme-out", "Mara", str(file))
        assert (code, err) == (0, "")
        read[name] = read_programme(file.read_bytes(), name, our_library())
        assert out == f"{len(read[name])} rows in {file}\n"
        assert file.stat().st_mode & 0o777 == 0o600
    assert read["out.xlsx"] == read["out.csv"]
    assert {(row.week, row.session) for row in read["out.csv"]} == {
        (week, session) for week in (1, 2, 3, 4) for session in (1, 2, 3)
    }


async def test_the_workbook_and_the_text_are_what_a_coach_opens(installed: Installation) -> None:
    await installed.run("programme-out", "Mara", str(installed.folder / "out.xlsx"))
    await installed.run("programme-out", "Mara", str(installed.folder / "out.csv"))
    page = openpyxl.load_workbook(installed.folder / "out.xlsx")["Programme"]
    assert tuple(cell.value for cell in page[1]) == COLUMNS
    assert page.freeze_panes == "A2"
    text = (installed.folder / "out.csv").read_text(encoding="utf-8-sig")
    header, first, *_ = csv.reader(io.StringIO(text))
    assert tuple(header) == COLUMNS
    assert [str(cell.value if cell.value is not None else "") for cell in page[2]] == first
    assert not any(cell.data_type == "f" for row in page.iter_rows() for cell in row)


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
async def test_a_programme_comes_in_as_sessions_for_the_client(installed: Installation, ending: str) -> None:
    file = installed.folder / f"in.{ending}"
    if ending == "csv":
        file.write_text(WRITTEN)
    else:
        book = openpyxl.Workbook()
        for row in csv.reader(io.StringIO(WRITTEN)):
            book.worksheets[0].append([float(cell) if cell.isdigit() else cell or None for cell in row])
        book.save(file)
    code, out, err = await installed.run("programme-in", str(file), "--client", "Mara")
    assert (code, err) == (0, "")
    assert out == "2 sessions kept for Mara; they come before built ones, wherever they fit.\n"
    async with installed.store() as store, store.reading() as tx:
        first, second = await shelves.own_sessions.list(tx)
        [client] = await house.clients.list(tx)
    assert first.title == "Strength, week 1, session 1"
    assert first.words.endswith(
        "Goblet squat, 3 × 8 to 12 repetitions, 2 left in reserve, 20 kg, =slowly; rest 60 s"
    )
    assert second.words.endswith("Dumbbell hip thrust, 3 × 10 repetitions, 2 left in reserve; rest 60 s")
    assert {first.client_id, second.client_id} == {client.id}


async def test_what_went_out_comes_in_again(installed: Installation) -> None:
    file = installed.folder / "round.xlsx"
    await installed.run("programme-out", "Mara", str(file))
    code, out, _ = await installed.run("programme-in", str(file), "--client", "mara")
    assert (code, out.split()[0]) == (0, "12")


async def test_every_bad_cell_is_a_line_and_nothing_is_kept(installed: Installation) -> None:
    file = installed.folder / "bad.csv"
    file.write_text(
        WRITTEN.replace("Goblet squat,3", "Goblet sqat,30").replace("thrust,3,10", "thrust,3,many")
    )
    code, out, err = await installed.run("programme-in", str(file), "--client", "Mara")
    assert (code, out) == (1, "")
    assert err.splitlines() == [
        "sheet 1, row 2, column D (exercise): there is no exercise 'Goblet sqat': did you mean 'Goblet squat'?",
        "sheet 1, row 2, column E (sets): '30' is not a whole number from 1 to 12.",
        "sheet 1, row 3, column F (repetitions): 'many' is not a number such as 8 or a range such as '8 to 12'.",
    ]
    async with installed.store() as store, store.reading() as tx:
        assert await shelves.own_sessions.list(tx) == []


async def test_a_history_is_looked_at_taken_in_and_goes_out_again(installed: Installation) -> None:
    file, again = installed.folder / "past.csv", installed.folder / "again.csv"
    file.write_text(PAST)
    code, out, err = await installed.run("history-in", str(file), "--look")
    assert (code, err) == (0, "")
    assert out.splitlines() == [
        "Mara, 2 weeks from 3 Mar 2025 to 16 Mar 2025: 2 of 3 promised sessions done, 1 of them short, 1 missed.",
        "Nothing was changed: leave out --look to take it in.",
    ]
    await installed.run("history", str(again))
    assert len(again.read_text().splitlines()) == 1
    assert (await installed.run("history-in", str(file)))[1].endswith("Taken in.\n")
    await installed.run("history", str(again))
    assert again.read_text().splitlines() == [
        "client,date,promised,outcome,minutes,away,slept_h,lowered",
        "Mara,2025-03-03,2,done,45,0,6.5,0",
        "Mara,2025-03-05,2,short,45,0,,0",
        "Mara,2025-03-10,2,missed,45,1,,0",
    ]
    code, out, _ = await installed.run("history-in", str(file))
    assert "An earlier file had 2 weeks of these; this one takes their place." in out


async def test_a_history_with_faults_is_refused_whole(installed: Installation) -> None:
    file = installed.folder / "past.csv"
    file.write_text(PAST + "Marah,2025-03-12,2,done,45,0,\nMara,2025-03-13,8,done,45,0,\n")
    code, out, err = await installed.run("history-in", str(file))
    assert (code, out) == (1, "")
    assert err.splitlines() == [
        "sheet 1, row 5, column A: there is no client 'Marah': did you mean 'Mara'?",
        "sheet 1, row 6, column C: promised 8 is not a whole number from 0 to 7.",
    ]


def test_a_name_that_is_no_spreadsheet_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["programme-out", "Mara", str(tmp_path / "programme.pdf")]) == 1
    assert ".xlsx or .csv" in capsys.readouterr().err


@pytest.mark.parametrize("command", [["programme-in", "--client", "Mara"], ["history-in"]])
def test_thirty_megabytes_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: list[str]
) -> None:
    file = tmp_path / "large.csv"
    file.write_bytes(b"x" * 30_000_000)
    assert main([*command, str(file)]) == 1
    assert "30.0 MB" in capsys.readouterr().err


def test_a_file_that_is_not_there_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["history-in", str(tmp_path / "nothing.csv")]) == 1
    assert "nothing.csv cannot be read: no such file or directory." in capsys.readouterr().err
