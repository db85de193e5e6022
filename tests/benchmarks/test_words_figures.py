"""How much of what clients write is read right: on the sentences the rules were built with, and on those set aside."""

import statistics
import time
from collections import Counter
from typing import get_args

import pytest

from core.calendar.places import find_places, place_at
from core.replies import Asked, second_opinion, understand
from tests.core.replies import training
from tests.core.replies.corpora import (
    WEDNESDAY,
    Half,
    Row,
    flag_verdicts,
    reply_verdicts,
    rows,
    trip_verdicts,
    written_by,
)

pytestmark = pytest.mark.benchmark


def test_shares_read_right() -> None:
    print()
    for half in get_args(Half):
        print(half)
        _print_replies_and_flags(rows("replies", half), rows("red_flags", half))
        _print_shares("  trips", trip_verdicts(rows("trips", half)), ("right", "cautious", "wrong"))


LEFT_OUT = (("t1", "t2", "t3"), ("b1", "b2", "b3"), ("n1", "n2", "n3"), ("m1", "m2", "m3", "m4", "m5"))
"""Sets of sentences by hands of their own."""


@pytest.mark.parametrize("left_out", LEFT_OUT)
def test_shares_read_right_by_models_that_learned_without_a_set(
    left_out: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The models are judged by this, and their thresholds were chosen by it.

    The rules have seen every set, and so had whoever wrote the last sentences at the desk: where nobody has, it is less.
    """
    replies, flags = rows("replies", "built with"), rows("red_flags", "built with")
    made = training.weights_from(
        [row for row in replies if written_by(row) not in left_out],
        [row for row in flags if written_by(row) not in left_out],
    )
    weights = {name: second_opinion.weights_in(text) for name, text in made.items()}
    monkeypatch.setattr(second_opinion, "_weights", weights.__getitem__)
    print(f"\nlearned without {', '.join(left_out)}")
    _print_replies_and_flags(
        [row for row in replies if written_by(row) in left_out],
        [row for row in flags if written_by(row) in left_out],
    )


def _print_replies_and_flags(replies: list[Row], flags: list[Row]) -> None:
    _print_shares("  replies", reply_verdicts(replies), ("right", "cautious", "left out", "wrong"))
    if not flags:
        return
    taken = flag_verdicts(flags)
    _print_shares("  red flags", _taken(taken, ("alarm", "ask")), ("alarm", "ask", "nothing"))
    _print_shares("  harmless", _taken(taken, ("nothing",)), ("alarm", "ask", "nothing"))


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
