"""The command as it is typed."""

import argparse
import json

import pytest

from bot.commands import build_session
from core.errors import Refused


def typed(*words: str) -> int:
    parser = argparse.ArgumentParser()
    build_session.configure(parser)
    return build_session.run(parser.parse_args(words))


def test_json_has_the_promised_keys_and_nothing_else_on_standard_output(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert (
        typed(
            "--block",
            "power endurance",
            "--minutes",
            "20",
            "--room",
            "hotel gym",
            "--avoid",
            "knee",
            "--format",
            "json",
        )
        == 0
    )
    out = capsys.readouterr()
    said = json.loads(out.out)
    assert out.err == ""
    promised = {
        "block",
        "minutes",
        "room",
        "level",
        "estimated_seconds",
        "warm_up",
        "exercises",
        "finish",
        "left_out",
        "cautions",
    }
    assert promised <= said.keys()
    assert (said["block"], said["minutes"], said["room"], said["level"]) == (
        "power endurance",
        20,
        "hotel gym",
        "intermediate",
    )
    of_an_exercise = {"name", "pattern", "sets", "repetitions", "unit", "rir", "rest_s", "work_s"}
    assert all(of_an_exercise <= each.keys() for each in said["exercises"])
    assert said["estimated_seconds"] <= 20 * 60
    assert any("knee" in line for line in said["cautions"])


def test_text_reads_as_messages(capsys: pytest.CaptureFixture[str]) -> None:
    assert typed("--block", "strength", "--minutes", "60", "--room", "full gym", "--level", "advanced") == 0
    said = capsys.readouterr().out
    assert said.startswith("Strength, about ")
    assert "Warm-up" in said
    assert "A. Back squat, 5 × 3 to 5, 2 left in reserve" in said
    assert "rest 3 min" in said


def test_every_wrong_word_is_named_at_once() -> None:
    with pytest.raises(Refused) as refused:
        typed(
            "--block", "strenth", "--minutes", "3", "--room", "cellar", "--level", "expert", "--avoid", "kne"
        )
    assert len(refused.value.lines) == 5
    assert "10 to 180 minutes, not 3" in refused.value.lines[1]
    assert "hotel gym" in refused.value.lines[2]


def test_minutes_that_are_no_number() -> None:
    with pytest.raises(Refused, match="whole number"):
        typed("--block", "strength", "--minutes", "half an hour", "--room", "none")
