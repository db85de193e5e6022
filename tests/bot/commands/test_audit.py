"""The command ``audit``, as it is typed."""

import argparse
import json
from dataclasses import replace
from pathlib import Path

import pytest

from bot.commands import audit
from core.adherence.audit import score
from core.adherence.history import write_history
from core.adherence.scoring import Bin
from core.errors import Fault
from tests.core.adherence.rows import weeks


@pytest.fixture
def history(tmp_path: Path) -> Path:
    path = tmp_path / "history.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        write_history(weeks(*["ddd", "ddm"] * 3) + weeks("dm", "mm", "um", client="Tomas, survey lead"), file)
    return path


def typed(*words: str) -> int:
    parser = argparse.ArgumentParser()
    audit.configure(parser)
    return audit.run(parser.parse_args(words))


def test_the_answer_has_the_agreed_shape(history: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert typed(str(history), "--format", "json") == 0
    captured = capsys.readouterr()
    told = json.loads(captured.out)
    assert list(told) == ["weeks", "methods", "issued", "all_sizes"]
    assert told["weeks"] == 5 + 2
    assert "forecast" in told["methods"]
    assert all(set(scores) == {"log_loss", "brier"} for scores in told["methods"].values())
    assert all(set(one) == {"said", "kept", "n"} for one in told["issued"] + told["all_sizes"])
    assert "client-weeks" in captured.err


def test_the_table_speaks_to_a_coach(history: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert typed(str(history)) == 0
    out = capsys.readouterr().out
    assert out.startswith("When we said ")
    assert "pooled regression" in out
    assert "reliability" in out
    assert "chosen at 80 %" in out


def test_the_table_has_a_line_for_each_tenth_of_what_was_said() -> None:
    agreed = Bin(said=0.83, kept=0.75, n=64, low=0.63, high=0.84)
    told = replace(score([]), issued=(agreed,), all_sizes=(replace(agreed, said=1.0, kept=1.0, n=9),))
    assert audit.calibrations(told)[1:] == [
        "80 to 90 %     75 % of 64 kept (63 to 84)     -",
        "90 to 100 %    -                              100 % of 9 kept (63 to 84)",
    ]


def test_a_picture_on_request(history: Path, tmp_path: Path) -> None:
    picture = tmp_path / "audit.png"
    typed(str(history), "--picture", str(picture))
    assert picture.read_bytes().startswith(b"\x89PNG")
    with pytest.raises(Fault, match="cannot be written"):
        typed(str(history), "--picture", str(tmp_path / "no" / "audit.png"))


def test_a_single_week_has_nothing_to_judge(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "one.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        write_history(weeks("ddd"), file)
    assert typed(str(path), "--format", "json") == 0
    assert json.loads(capsys.readouterr().out) == {"weeks": 0, "methods": {}, "issued": [], "all_sizes": []}
    assert typed(str(path)) == 0
    assert "no past week" in capsys.readouterr().out
