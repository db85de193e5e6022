"""Weeks with nobody before the page: the same seed plays the same, and no rule is broken."""

import asyncio
import dataclasses
import datetime as dt
import json
from collections import Counter
from pathlib import Path

import pytest

from bot.cli import main
from bot.rehearsal import headless, rules
from bot.rehearsal.cast import CAST, Cast
from bot.rehearsal.headless import Played
from core.adherence.history import parse_history

WEEKS, SEED = 2, 7
A_FEW = ("Imogen Ashdown", "Kofi Darko", "Freya Nordahl", "Ruaridh Sinclair")
pytestmark = pytest.mark.timeout(240)


def few() -> Cast:
    return dataclasses.replace(CAST, members=tuple(m for m in CAST.members if m.name in A_FEW))


def play(seed: int = SEED, weeks: int = WEEKS) -> Played:
    return asyncio.run(headless.play(weeks, seed, lambda _: None, few()))


@pytest.fixture(scope="module")
def played() -> Played:
    return play()


@pytest.fixture(scope="module")
def folder(played: Played, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("played")
    headless.write(played, out, weeks=WEEKS, seed=SEED)
    return out


def test_it_writes_digests_a_history_a_transcript_and_a_summary(folder: Path) -> None:
    assert sorted(path.name for path in folder.iterdir()) == [
        "digest-2026-W47.png",
        "digest-2026-W47.txt",
        "digest-2026-W48.png",
        "digest-2026-W48.txt",
        "history.csv",
        "summary.json",
        "transcript.jsonl",
    ]
    assert (folder / "digest-2026-W48.png").read_bytes().startswith(b"\x89PNG")
    assert "Freya Nordahl" in (folder / "digest-2026-W48.txt").read_text(encoding="utf-8")


def test_the_same_seed_writes_the_same_bytes(folder: Path, tmp_path: Path) -> None:
    headless.write(play(), tmp_path, weeks=WEEKS, seed=SEED)
    for path in folder.iterdir():
        assert (tmp_path / path.name).read_bytes() == path.read_bytes(), path.name


def test_no_rule_is_broken(folder: Path, played: Played) -> None:
    lines = rules.read_transcript(folder / "transcript.jsonl")
    assert {name: found for name, found in rules.broken(lines, played.quiet).items() if found} == {}
    assert rules.otherwise_kept(lines, played.asks) == []
    assert played.updates_failed == 0


def test_the_summary_counts_what_was_said(folder: Path) -> None:
    summary = json.loads((folder / "summary.json").read_text(encoding="utf-8"))
    lines = [
        json.loads(line) for line in (folder / "transcript.jsonl").read_text(encoding="utf-8").splitlines()
    ]
    assert summary["prompts_sent"] == sum(line["kind"] == "prompt" for line in lines) > 5
    assert summary["client_weeks"] == WEEKS * 5  # the four, and the one whom the coach invited
    assert summary["digests_sent"] == WEEKS
    assert summary["kept"] <= summary["promises"]
    assert all(isinstance(value, int) for value in summary.values())


def test_a_violation_put_into_the_transcript_is_counted(folder: Path, played: Played) -> None:
    lines = rules.read_transcript(folder / "transcript.jsonl")
    prompt = next(line for line in lines if line.kind == "prompt")
    night = dataclasses.replace(prompt, local=prompt.local.replace(hour=3))
    summary = headless.summed_up(played, [*lines, night], weeks=WEEKS, seed=SEED)
    assert (summary["duplicates"], summary["quiet_violations"]) == (1, 1)


def test_its_history_is_a_history(folder: Path) -> None:
    with (folder / "history.csv").open(encoding="utf-8", newline="") as file:
        rows = parse_history(file)
    assert {row.client for row in rows} >= set(A_FEW)
    assert min(row.date for row in rows) < dt.date(2026, 10, 1)


def test_every_line_says_where_it_was_heard(folder: Path) -> None:
    for line in (folder / "transcript.jsonl").read_text(encoding="utf-8").splitlines():
        entry = json.loads(line)
        assert set(entry) == {"utc", "local", "chat", "from", "kind", "key", "text"}
        instant = dt.datetime.fromisoformat(entry["utc"])
        assert dt.datetime.fromisoformat(entry["local"]) == instant


def test_a_week_reads_like_life(played: Played) -> None:
    """By button and in words, and the newcomer came in by the coach's link."""
    did = Counter(entry.what for entry in played.entries if entry.author == "client")
    assert did["press"] > 10
    assert did["message"] > 10
    joss = [entry.text for entry in played.entries if entry.chat == CAST.newcomer.name]
    assert any("That is all. You told me" in text for text in joss)


def test_another_seed_is_another_life(played: Played) -> None:
    other = [entry.text for entry in play(seed=8, weeks=1).entries]
    assert other != [entry.text for entry in played.entries][: len(other)]


def test_a_folder_that_cannot_be_written_is_told_before_anything_is_played(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    taken = tmp_path / "week"
    taken.write_text("a file of this name", encoding="utf-8")
    assert main(["rehearse", "--headless", "--weeks", "1", "--out", str(taken)]) == 1
    said = capsys.readouterr().err
    assert f"{taken} cannot be written" in said
    assert "week 1 of 1" not in said
