"""``programme-out`` and ``programme-in``: what they refuse before anything is opened."""

from pathlib import Path

import pytest

from bot.cli import main


def test_a_name_that_is_no_spreadsheet_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["programme-out", "Mara", str(tmp_path / "programme.pdf")]) == 1
    assert ".xlsx or .csv" in capsys.readouterr().err


def test_thirty_megabytes_are_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "large.csv"
    file.write_bytes(b"x" * 30_000_000)
    assert main(["programme-in", str(file), "--client", "Mara"]) == 1
    assert "30.0 MB" in capsys.readouterr().err
