"""The command ``forecast``, as it is typed."""

import argparse
import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from bot.commands import forecast
from core.adherence.history import write_history
from core.errors import Refused
from tests.core.adherence.rows import weeks


@pytest.fixture
def history(tmp_path: Path) -> Path:
    path = tmp_path / "history.csv"
    rows = weeks(*["ddd"] * 5) + weeks("dm", "mm", "um", client="Tomas, survey lead")
    rows += weeks("eee", client="Ines, lights")
    with path.open("w", encoding="utf-8", newline="") as file:
        write_history(rows, file)
    return path


def typed(*words: str) -> int:
    parser = argparse.ArgumentParser()
    forecast.configure(parser)
    return forecast.run(parser.parse_args(words))


def answer(capsys: pytest.CaptureFixture[str], *words: str) -> Any:
    assert typed(*words, "--format", "json") == 0
    return json.loads(capsys.readouterr().out)


def test_the_answer_has_the_agreed_shape(history: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = answer(capsys, str(history))
    assert set(told) == {"as_of", "clients"}
    assert told["as_of"] == "2026-04-03"
    assert [client["client"] for client in told["clients"]] == [
        "Noor, rigger",
        "Tomas, survey lead",
        "Ines, lights",
    ]
    sizes = [str(k) for k in range(1, 8)]
    for client in told["clients"]:
        assert set(client) == {"client", "engaged", "next_week", "recommend", "recommend_minutes"} | {
            "previous",
            "never_tried",
            "why",
        }
        keep, expected = client["next_week"]["keep"], client["next_week"]["expected"]
        assert list(keep) == sizes
        assert list(expected) == sizes
        assert all(0 < keep[k] < 1 and 0 < expected[k] < int(k) for k in sizes)
        assert all(keep[a] >= keep[b] for a, b in pairwise(sizes))
        assert 0 < client["engaged"] < 1
        assert 1 <= client["recommend"] <= 7
    assert told["clients"][2]["previous"] is None


def test_progress_goes_to_standard_error(history: Path, capsys: pytest.CaptureFixture[str]) -> None:
    typed(str(history), "--format", "json")
    captured = capsys.readouterr()
    assert "3 clients, 24 rows" in captured.err
    json.loads(captured.out)


def test_the_table_names_everybody_and_their_promise(
    history: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert typed(str(history)) == 0
    table = capsys.readouterr().out.splitlines()
    assert len(table) == 5
    assert table[2].startswith("Noor, rigger")
    assert " x 45'" in table[2]


def test_as_of_masks_what_came_later(history: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = answer(capsys, str(history), "--as-of", "2026-03-08")
    assert told["as_of"] == "2026-03-08"
    assert told["clients"][0]["previous"] == 3


def test_more_confidence_never_recommends_more(history: Path, capsys: pytest.CaptureFixture[str]) -> None:
    promises = [
        [client["recommend"] for client in answer(capsys, str(history), "--confidence", sure)["clients"]]
        for sure in ("0.5", "0.8", "0.95")
    ]
    assert all(bold >= careful for bold, careful in zip(promises[0], promises[2], strict=True))
    assert promises[0] != promises[2]


@pytest.mark.parametrize("words", [["--confidence", "1.2"], ["--confidence", "x"], ["--as-of", "soon"]])
def test_wrong_usage_says_what_was_wanted(
    history: Path, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        typed(str(history), *words)
    assert left.value.code == 2
    assert "is not a" in capsys.readouterr().err


def test_a_bad_file_is_refused_before_anything_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.csv"
    bad.write_text("client,date\n", encoding="utf-8")
    with pytest.raises(Refused):
        typed(str(bad))
    assert capsys.readouterr().out == ""
