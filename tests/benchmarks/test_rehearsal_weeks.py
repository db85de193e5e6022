"""Weeks of the whole house over the local Bot API, and how many rules of the transcript they break."""

import asyncio
import time
from pathlib import Path

import pytest

from bot.rehearsal import headless, rules
from bot.rehearsal.cast import CAST, Cast
from tests.bot.rehearsal.wild import wild

SEEDS, WEEKS = (11, 12), 24
pytestmark = [pytest.mark.benchmark, pytest.mark.timeout(7200)]


@pytest.mark.parametrize(("name", "cast"), [("the usual group", CAST), ("a wild group", wild())])
def test_weeks_at_full_speed(name: str, cast: Cast, tmp_path: Path) -> None:
    print(f"\n{name}\n  seed  client-weeks  CPU s  client-weeks/s  lines  prompts  rules broken")
    for seed in SEEDS:
        started = time.process_time()
        played = asyncio.run(headless.play(WEEKS, seed, lambda _: None, cast))
        took = time.process_time() - started
        summary = headless.write(played, tmp_path / str(seed), weeks=WEEKS, seed=seed)
        lines = rules.read_transcript(tmp_path / str(seed) / "transcript.jsonl")
        broken = [said for found in rules.broken(lines, played.quiet).values() for said in found]
        kept = rules.otherwise_kept(lines, played.asks)
        print(
            f"  {seed:4}  {played.client_weeks:12}  {took:5.0f}  {played.client_weeks / took:14.1f}  {len(lines):5}  "
            f"{summary['prompts_sent']:7}  {len(broken) + len(kept):12}"
        )
        assert (broken, kept, played.updates_failed) == ([], [], 0)
