"""The invented sentences: those that the rules were built with, and those set aside, which are only ever counted.

The sentences set aside were written blind, by people who had seen neither the rules nor the other sentences, and no label of theirs
was changed. Every earlier batch was set aside when it was written, counted, and then read and learned from. What is set aside now:

* 480 replies by two hands (p1, p2), counted once, when nothing more was changed, and read by nobody. 108 of them are also among
  those that were learned from, word for word ('done', '7'); of the other 372, 92.2 % are right and 1.1 % wrong.
* 300 sentences for red flags by two hands (n4, n5): read by nobody, but counted several times while rules and thresholds changed, which
  flatters a little. When they were counted first, signs were found or asked about in 93.8 %, harmless words alarmed in 0.7 % and
  asked about in 2.9 %.
* 340 trips by five hands (b1 to b3, n4, n5), likewise.
"""

import datetime as dt
import json
from collections import Counter
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, Literal

from core.replies import Asked, understand

HERE = Path(__file__).parent / "corpus"
Row = dict[str, Any]
Half = Literal["built with", "set aside"]

WEDNESDAY = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
"""When the replies are read: a Wednesday."""

FACTS = frozenset(
    [
        "outcome",
        "move_to",
        "time",
        "minutes",
        "effort",
        "sleep_h",
        "sleep_quality",
        "days",
        "promise",
        "pain",
        "trip",
        "stop",
        "pause",
        "unwell",
        "urgent",
    ]
)
"""What gets recorded; a question, a doubt or a word to the coach records nothing."""


def rows(name: str, half: Half) -> list[Row]:
    file = f"{name}.jsonl" if half == "built with" else f"{name}_set_aside.jsonl"
    return list(map(json.loads, (HERE / file).read_text(encoding="utf-8").splitlines()))


def meant(row: Row) -> Row:
    """What the parser takes a row to mean."""
    now = dt.datetime.fromisoformat(row["now"]) if "now" in row else WEDNESDAY
    asked = Asked(row.get("asked", "nothing"))
    return understand(row["text"], asked=asked, now=now, zone=row.get("zone", "Europe/London")).to_json()


def verdict(means: Row, said: Row) -> str:
    """'right' in every key; 'wrong' if a fact is recorded that was not said; else whether somebody hears of what is lacking."""
    if means == said:
        return "right"
    recorded = {fact for fact in FACTS & means.keys() if means[fact] != said.get(fact)}
    if recorded - _only_asked(means):
        return "wrong"
    lacking = FACTS & said.keys() - means.keys()
    passed_on = means.keys() & {"unknown", "question", "tell_coach"} or _only_asked(means)
    return "cautious" if passed_on or not lacking else "left out"


def _only_asked(means: Row) -> set[str]:
    """Facts that are merely asked about."""
    asking = {"urgent"} if means.get("urgent") == "ask" else set()
    return asking | ({"trip"} if "ask" in (means.get("trip") or {}) else set())


def reply_verdicts(replies: Iterable[Row]) -> Counter[str]:
    return Counter(verdict(meant(row), row["means"]) for row in replies)


def flag_verdicts(flags: Iterable[Row]) -> Counter[tuple[str, str]]:
    """(what a sentence is, what it was taken for), each alarm, ask or nothing."""
    names: Mapping[object, str] = {True: "alarm", "ask": "ask", None: "nothing"}
    return Counter((row["flag"], names[meant(row).get("urgent")]) for row in flags)


def trip_verdicts(trips: Iterable[Row]) -> Counter[str]:
    """A trip taken for none, or asked about, is 'cautious'; a trip that was not said is 'wrong'."""
    return Counter(_trip_verdict(meant(row).get("trip"), row["trip"]) for row in trips)


def written_by(row: Row) -> str:
    """The set that a sentence was written for, by its name: one hand's, of one day."""
    return str(row["id"]).split("-", maxsplit=1)[0]


def _trip_verdict(got: Row | None, said: Row | None) -> str:
    if got == said:
        return "right"
    return "cautious" if got is None or "ask" in got else "wrong"
