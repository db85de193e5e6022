"""The command as it is typed."""

import argparse
import json
from pathlib import Path

import pytest

from bot.commands import lay_out_year
from core.errors import Fault, Refused

ROWS = "name,from,to,kind,importance,wants\nOpening night,2027-05-20,,event,3,strength\nLeave,2027-07-12,2027-08-01,holiday,,\n"


def typed(*words: str) -> int:
    parser = argparse.ArgumentParser()
    lay_out_year.configure(parser)
    return lay_out_year.run(parser.parse_args(words))


@pytest.fixture
def events(tmp_path: Path) -> str:
    path = tmp_path / "events.csv"
    path.write_text(ROWS, encoding="utf-8")
    return str(path)


def test_json_as_promised(events: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert typed(events, "--from", "2027-01-04", "--weeks", "40", "--format", "json") == 0
    out = capsys.readouterr()
    said = json.loads(out.out)
    assert out.err == ""
    assert said.keys() == {"from", "weeks", "blocks", "given_up"}
    assert (said["from"], said["weeks"]) == ("2027-01-04", 40)
    assert said["blocks"][0]["from"] == "2027-01-04"
    assert all(each.keys() == {"block", "from", "to", "deload", "for"} for each in said["blocks"])
    assert {"block": "taper", "to": "2027-05-23"}.items() <= next(
        b for b in said["blocks"] if b["block"] == "taper"
    ).items()


def test_text_and_picture(events: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "year.png"
    assert typed(events, "--from", "2027-01-04", "--weeks", "40", "--picture", str(picture)) == 0
    assert "taper" in capsys.readouterr().out
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_wrong_words_and_missing_files(events: str, tmp_path: Path) -> None:
    with pytest.raises(Refused) as refused:
        typed(events, "--from", "soon", "--weeks", "many")
    assert len(refused.value.lines) == 2
    with pytest.raises(Fault, match="cannot be read"):
        typed(str(tmp_path / "none.csv"), "--from", "2027-01-04", "--weeks", "4")
    with pytest.raises(Refused, match="is a Tuesday"):
        typed(events, "--from", "2027-01-05", "--weeks", "4")


def test_a_file_of_thirty_megabytes_is_refused_without_reading_it(tmp_path: Path) -> None:
    path = tmp_path / "film.csv"
    with path.open("wb") as file:
        file.truncate(30_000_000)
    with pytest.raises(Refused, match=r"30\.0 MB"):
        typed(str(path), "--from", "2027-01-04", "--weeks", "4")


def test_what_is_wrong_is_said_with_the_name_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "events.csv"
    path.write_text(ROWS.replace("2027-05-20", "31 Feb"), encoding="utf-8")
    with pytest.raises(Refused) as refused:
        typed(str(path), "--from", "2027-01-04", "--weeks", "40")
    assert refused.value.lines[0].startswith(f"{path}, line 2:")
