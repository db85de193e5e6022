"""The rules see what is wrong with a transcript: each is broken here by hand."""

import dataclasses
import datetime as dt
import zoneinfo

import pytest

from bot.rehearsal import rules
from bot.rehearsal.rules import Kept, Said
from core.calendar.quiet import QuietHours

LISBON = zoneinfo.ZoneInfo("Europe/Lisbon")
MARA = "Mara Lindqvist"


def at(day: int, hour: int, minute: int = 0) -> dt.datetime:
    """An hour of a day of December 2026 in Lisbon."""
    return dt.datetime(2026, 12, day, hour, minute, tzinfo=LISBON)


def said(when: dt.datetime, kind: str, key: str, text: str = "", author: str = "bot") -> Said:
    return Said(local=when, chat=MARA, author=author, kind=kind, key=key, text=text)


ORDERLY = [
    said(at(7, 7), "weekly", "week:1:2026-W50", "7 to 13 Dec: 2 sessions"),
    said(at(7, 17, 30), "prompt", "ask:1:0:prompt"),
    said(at(7, 19), "press", "ask:1:0:prompt", "Done", "client"),
    said(at(7, 19), "reply", "re:1:1:1", "Today: done. Noted."),
    said(at(9, 17, 30), "prompt", "ask:2:0:prompt"),
    said(at(9, 19, 30), "follow_up", "ask:2:0:follow-up"),
    said(at(10, 8), "message", "", "done, sorry, late", "client"),
]


def counts(lines: list[Said], quiet: dict[str, QuietHours] | None = None) -> dict[str, int]:
    return {name: len(found) for name, found in rules.broken(lines, quiet or {}).items() if found}


def test_an_orderly_week_breaks_nothing() -> None:
    assert counts(ORDERLY) == {}


def test_a_prompt_said_twice_is_counted() -> None:
    again = dataclasses.replace(ORDERLY[1], local=at(8, 17, 30))
    assert counts([*ORDERLY, again])["duplicates"] == 1


def test_the_same_reply_twice_is_no_duplicate_prompt() -> None:
    assert counts([*ORDERLY, ORDERLY[3]]) == {}


@pytest.mark.parametrize(("hour", "minute", "broken"), [(6, 59, 1), (7, 0, 0), (20, 59, 0), (21, 0, 1)])
def test_quiet_hours_are_those_on_the_receivers_wall(hour: int, minute: int, broken: int) -> None:
    late = said(at(11, hour, minute), "sleep", "sleep:1:2026-12-11")
    assert counts([*ORDERLY, late]).get("quiet_violations", 0) == broken


def test_everybody_has_quiet_hours_of_their_own() -> None:
    assert counts(ORDERLY, {MARA: QuietHours(dt.time(17), dt.time(9))}) == {"quiet_violations": 4}


def test_answers_are_sent_at_any_hour() -> None:
    assert counts([*ORDERLY, said(at(11, 3), "reply", "re:1:2:1", "Noted.")]) == {}


def test_a_message_that_no_row_answers_for_is_counted() -> None:
    assert counts([*ORDERLY, said(at(11, 12), "message", "", "Who sent this?")]) == {"without_a_key": 1}


def test_a_third_unasked_message_of_a_day_is_counted() -> None:
    third = said(at(9, 20), "sleep", "sleep:1:2026-12-09")
    assert counts([*ORDERLY[:6], third, ORDERLY[6]]) == {"over_budget": 1}


def test_a_thirteenth_of_a_week_is_counted() -> None:
    many = [said(at(7 + n // 2, 8 + n % 2), "sleep", f"sleep:{n}") for n in range(13)]
    heard = [said(at(7 + n, 12), "message", "", "7", "client") for n in range(7)]
    assert counts(sorted([*many, *heard], key=lambda line: line.local)) == {"over_budget": 1}


def test_asking_on_after_two_days_without_a_word_is_counted() -> None:
    silent = [said(at(day, 17), "prompt", f"ask:{day}:0:prompt") for day in (7, 8)]
    assert counts([*silent, said(at(13, 11), "weekly", "ask:9:0:weekly")]) == {}
    assert counts([*silent, said(at(12, 17), "prompt", "ask:12:0:prompt")]) == {"after_silence": 1}
    word = said(at(11, 9), "message", "", "still here", "client")
    assert counts([*silent, word, said(at(12, 17), "prompt", "ask:12:0:prompt")]) == {}


def test_asking_in_a_pause_is_counted_until_it_is_over() -> None:
    paused = said(at(7, 9), "reply", "re:1:3:1", "Paused up to and including Wed 9 Dec: I will not ask.")
    assert counts([paused, said(at(9, 17), "prompt", "ask:2:0:prompt")]) == {"while_paused": 1}
    assert counts([paused, said(at(10, 17), "prompt", "ask:2:0:prompt")]) == {}


def test_asking_whoever_stopped_is_counted_until_they_are_back() -> None:
    stopped = said(at(7, 9), "reply", "re:1:3:1", "I have stopped: nothing more will come from me.")
    back = said(at(8, 9), "reply", "re:1:4:1", "You are back on.")
    asked = said(at(9, 17), "prompt", "ask:2:0:prompt")
    assert counts([stopped, asked]) == {"while_paused": 1}
    assert counts([stopped, back, asked]) == {}


def test_asking_to_train_before_a_red_flag_is_cleared_is_counted() -> None:
    flag = said(at(7, 9), "safety", "re:1:5:1", "Stop training now.")
    cleared = said(at(8, 9), "reply", "re:1:6:1", "Your coach has cleared you to go on.")
    asked = said(at(9, 17), "prompt", "ask:2:0:prompt")
    assert counts([flag, asked]) == {"despite_a_red_flag": 1}
    assert counts([flag, cleared, asked]) == {}


def test_what_was_tapped_last_must_be_what_is_kept() -> None:
    kept = Kept(number=1, chat=MARA, outcome="done")
    quiet = ORDERLY[:4]
    assert rules.otherwise_kept(quiet, [kept]) == []
    other = dataclasses.replace(kept, outcome="missed")
    assert len(rules.otherwise_kept(quiet, [other])) == 1
    assert (
        rules.otherwise_kept([*quiet, said(at(8, 9), "message", "", "no, I didn't", "client")], [other]) == []
    )
