"""How much of what clients write is read right: on the sentences the rules were built with, and on those set aside."""

import statistics
import time
from collections import Counter
from typing import get_args

import pytest

from core.calendar.places import find_places, place_at
from core.replies import Asked, understand
from tests.core.replies.corpora import WEDNESDAY, Half, flag_verdicts, reply_verdicts, rows, trip_verdicts

pytestmark = pytest.mark.benchmark


def test_shares_read_right() -> None:
    print()
    for half in get_args(Half):
        print(half)
        _print_shares("  replies", reply_verdicts(half), ("right", "cautious", "left out", "wrong"))
        _print_shares("  trips", trip_verdicts(half), ("right", "cautious", "wrong"))
        flags = flag_verdicts(half)
        _print_shares("  red flags", _taken(flags, ("alarm", "ask")), ("alarm", "ask", "nothing"))
        _print_shares("  harmless", _taken(flags, ("nothing",)), ("alarm", "ask", "nothing"))


def test_time_to_understand() -> None:
    texts = [(row["text"], Asked(row["asked"])) for row in rows("replies", "built with")]
    find_places("Oslo")
    spent = sorted(_seconds(text, asked) for text, asked in texts)
    middle, late, last = (
        1e3 * part for part in (statistics.median(spent), spent[len(spent) * 99 // 100], spent[-1])
    )
    print(f"\nmedian {middle:.2f} ms, 99th of 100 {late:.2f} ms, longest {last:.1f} ms")
    longest = max(
        _seconds(text * 1000, Asked.NOTHING) for text in ("chest pain ", "in Paris ", ", ", "5 - ", "not ")
    )
    print(f"4,000 characters of one phrase, the worst of five: {longest * 1e3:.0f} ms")


def test_time_to_look_up_a_place() -> None:
    find_places("Oslo")
    for name in ("Lisbon", "lisbonn", "Springfield", "Qwxzkia"):
        start = time.perf_counter()
        find_places(name)
        print(f"\n{name}: {(time.perf_counter() - start) * 1e3:.1f} ms", end="")
    start = time.perf_counter()
    place_at(38.7, -9.1)
    print(f"\na position: {(time.perf_counter() - start) * 1e3:.1f} ms")


def _taken(flags: Counter[tuple[str, str]], kinds: tuple[str, ...]) -> Counter[str]:
    return Counter(
        {taken: sum(flags[said, taken] for said in kinds) for taken in ("alarm", "ask", "nothing")}
    )


def _print_shares(name: str, counts: Counter[str], keys: tuple[str, ...]) -> None:
    total = counts.total()
    shares = "  ".join(f"{key} {counts[key]} ({100 * counts[key] / total:.1f} %)" for key in keys)
    print(f"{name:12} n {total:5}  {shares}")


def _seconds(text: str, asked: Asked) -> float:
    start = time.perf_counter()
    understand(text, asked=asked, now=WEDNESDAY, zone="Europe/London")
    return time.perf_counter() - start
