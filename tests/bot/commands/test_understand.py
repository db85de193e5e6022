"""``keptword understand`` from the outside."""

import argparse
import json
from pathlib import Path

import pytest

from bot.commands import understand
from core.errors import Refused


def run(*arguments: str) -> int:
    parser = argparse.ArgumentParser()
    understand.configure(parser)
    return understand.run(parser.parse_args(arguments))


def test_json_alone_on_standard_output(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--asked", "sleep", "--format", "json", "6h30, rough night") == 0
    assert json.loads(capsys.readouterr().out) == {"sleep_h": 6.5, "sleep_quality": "bad"}


def test_one_line_a_fact_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    run("--asked", "session", "done, 40 min, knee hurts")
    assert capsys.readouterr().out.splitlines() == [
        "outcome: done",
        "minutes: 40",
        "pain: knee",
        "tell_coach",
    ]


def test_days_are_read_at_the_instant_and_in_the_zone_given(capsys: pytest.CaptureFixture[str]) -> None:
    run(
        "--asked",
        "days",
        "--now",
        "2026-11-25T20:00:00+00:00",
        "--zone",
        "Pacific/Auckland",
        "--format",
        "json",
        "tomorrow",
    )
    assert json.loads(capsys.readouterr().out) == {"days": ["Friday"]}


def test_a_negative_number_is_a_text(capsys: pytest.CaptureFixture[str]) -> None:
    run("--asked", "sleep", "--format", "json", "-2")
    assert json.loads(capsys.readouterr().out) == {"tell_coach": True, "unknown": True}


def test_a_file_is_answered_line_by_line_in_its_order(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = [{"id": "b", "asked": "effort", "text": "7"}, {"id": "a", "asked": "session", "text": "nope"}]
    file = tmp_path / "said.jsonl"
    file.write_text("\n".join(map(json.dumps, lines)) + "\n\n", encoding="utf-8")
    assert run("--file", str(file)) == 0
    assert [json.loads(line) for line in capsys.readouterr().out.splitlines()] == [
        {"id": "b", "means": {"effort": 7}},
        {"id": "a", "means": {"outcome": "missed"}},
    ]


def test_every_bad_line_of_a_file_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "said.jsonl"
    bad = [
        "{",
        '{"id": 1}',
        '{"id": 1, "text": "x", "asked": "mood"}',
        '{"id": 1, "text": "x", "zone": "Mars/North"}',
    ]
    file.write_text("\n".join([*bad, '{"id": 2, "text": "x", "now": "soon"}']), encoding="utf-8")
    with pytest.raises(Refused) as refused:
        run("--file", str(file))
    assert [line.partition(", line ")[2][0] for line in refused.value.lines] == ["1", "2", "3", "4", "5"]
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize("wrong", [("--zone", "Mars/North"), ("--now", "soon"), ("--now", "31 Feb")])
def test_a_wrong_zone_or_instant_is_told_in_one_line(wrong: tuple[str, str]) -> None:
    with pytest.raises(Refused) as refused:
        run(*wrong, "done")
    assert len(refused.value.lines) == 1


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="cannot be read"):
        run("--file", str(tmp_path / "nothing.jsonl"))


def test_a_file_that_an_editor_marked_as_utf8_is_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "said.jsonl"
    file.write_bytes(b"\xef\xbb\xbf" + b'{"id": 1, "text": "slept 6"}\r\n')
    assert run("--file", str(file)) == 0
    assert json.loads(capsys.readouterr().out) == {"id": 1, "means": {"sleep_h": 6}}


@pytest.mark.parametrize(
    ("content", "said"), [(b"", "is empty"), (b"\n \n", "is empty"), (b"\x89PNG", "is not UTF-8 text")]
)
def test_a_file_that_holds_no_lines_is_told_in_a_sentence(tmp_path: Path, content: bytes, said: str) -> None:
    file = tmp_path / "said.jsonl"
    file.write_bytes(content)
    with pytest.raises(Refused, match=said) as refused:
        run("--file", str(file))
    assert "codec" not in refused.value.lines[0]
