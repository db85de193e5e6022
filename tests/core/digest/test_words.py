import datetime as dt
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typing_extensions import override

from core.digest.facts import GroupWeek, Unread
from core.digest.packing import LONGEST, units
from core.digest.words import client_block, digest_messages, engagement
from core.terms import Room
from tests.core.digest import an_invented_group as some


class Reader(HTMLParser):
    """Reads what Telegram would show, and fails on a tag that is unknown or left open."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.shown, self.open = "", list[str]()
        self.feed(text)
        self.close()
        assert not self.open

    @override
    def handle_starttag(self, tag: str, attrs: object) -> None:
        assert tag in {"b", "i"}
        self.open.append(tag)

    @override
    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    @override
    def handle_data(self, data: str) -> None:
        self.shown += data


def shown(group: GroupWeek) -> str:
    return "\n".join(Reader(message).shown for message in digest_messages(group))


def test_a_client_who_needs_the_coach_is_told_of_in_full() -> None:
    assert Reader(client_block(some.SORE)).shown.splitlines() == [
        "Tomas Lindqvist: pain, not kept",
        "3 of 4 done, 1 of them short, 1 missed.",
        "Pain: knee, twice.",
        "Sleep 6.2 h a night against 8 (6 nights told, 4 under seven; 11 h short in all).",
        "Load 1240, 230 more than last week.",
        "Said: “Long get-in on Thursday, knee does not like the truck ramp.”",
        "Next week: 3 × 45 min (4 last).",
        "Odds of keeping 2: nearly sure (2.0 expected) · 3: 8 in 10 (2.8 expected) · 4: 6 in 10 (3.4 expected).",
        "Why: 5 of 6 done at home, 2 of 4 while away.",
    ]


def test_who_cannot_be_read_is_named_with_what_to_do_and_the_rest_is_as_ever() -> None:
    group = some.group()
    before, after = shown(group), shown(replace(group, unread=(Unread("Ola <b>", "something is <broken>"),)))
    said = (
        "Ola <b> cannot be read: something is <broken>.\nUntil that is mended this one is left out; "
        "please ask whoever runs this bot to look, with 'keptword doctor'.\n\n"
    )
    assert after.replace(said, "") == before
    assert said in after


def test_where_nobody_can_be_read_nobody_is_told_to_invite_the_first() -> None:
    broken = (Unread("Ola", "x"), Unread("Mara", "y"))
    said = shown(GroupWeek(week=some.WEEK, clients=(), unread=broken))
    assert "Until that is mended they are left out" in said
    assert "Nobody yet" not in said


@pytest.mark.parametrize(("spread", "told"), [(None, False), (0.9, False), (1.4, True)])
def test_how_much_the_nights_differ_is_told_where_it_is_much(spread: float | None, *, told: bool) -> None:
    assert some.SORE.sleep is not None
    uneven = replace(some.SORE, sleep=replace(some.SORE.sleep, spread=spread))
    assert ("; give or take 1.4 h a night)" in client_block(uneven)) is told


@pytest.mark.parametrize(
    ("odds", "settled", "why"),
    [
        (
            0.68,
            None,
            "Why: 4 again would be kept in 68 of 100 such weeks, and you ask for 80; 5 of 6 done at home",
        ),
        (
            0.797,
            None,
            "Why: 4 again would be kept in 79 of 100 such weeks, and you ask for 80; 5 of 6 done at home",
        ),
        (0.8, None, "Why: 5 of 6 done at home"),  # another reason holds it down, and stands there
        (0.68, 2, "Why: 5 of 6 done at home"),
    ],
)
def test_fewer_after_a_kept_week_has_a_reason_in_numbers(odds: float, settled: int | None, why: str) -> None:
    assert some.SORE.next_week is not None
    keep = {**some.SORE.next_week.keep, 4: odds}
    coming = replace(some.SORE.next_week, keep=keep, confidence=0.8, settled=settled)
    assert f"\n{why}" in client_block(replace(some.SORE, next_week=coming))


def test_a_red_flag_stands_first_with_the_words_and_what_holds_until_it_is_cleared() -> None:
    lines = Reader(client_block(some.FLAGGED)).shown.splitlines()
    assert lines[:3] == [
        "Ruth Okafor: red flag, fewer next week",
        "Said: “bit of a tight chest on the last set, fine now”",
        "Until you clear it, with a note, no session is asked for or sent.",
    ]


def test_of_a_silent_client_only_the_silence_is_told_until_there_is_more() -> None:
    mere = replace(some.SILENT, promised=1, done=0, missed=0, unanswered=0, excused=0, still_open=1)
    assert Reader(client_block(mere)).shown.splitlines()[1] == (
        "Silent since 25 Nov; asked once a week, for ten minutes."
    )
    assert "1 unanswered" in client_block(replace(mere, still_open=0, unanswered=1))


def test_the_digest_of_a_small_group_reads_from_the_top() -> None:
    text = shown(some.group(8))
    order = [
        "Week 48, 23 to 29 Nov",
        "promises kept",
        "Wins",
        "2 need you",
        "Ruth Okafor",
        "Ines Carvalho",
        "All is well with",
    ]
    assert [text.index(part) for part in order] == sorted(text.index(part) for part in order)
    assert "Of 52 promises given about 8 in 10, 41 were kept: as often as forecast." in text


def test_each_client_with_whom_all_is_well_has_one_line() -> None:
    (line,) = [line for line in shown(some.group(8)).splitlines() if line.startswith("Bo Adeyemi: 3")]
    assert line == (
        "Bo Adeyemi: 3 of 3 done, 1 extra → 4 × 45 min (3 last, never tried yet, 8 in 10, 3.7 expected). "
        "Sleep 7.4 of 7.5 h, load 980 (+40)."
    )


def test_a_list_of_some_clients_ahead_of_the_others_has_its_own_opening() -> None:
    text = digest_messages(
        GroupWeek(week=some.WEEK, clients=(some.STEADY,)), opening="<b>To settle by Sunday noon</b>"
    )[0]
    assert text.startswith("<b>To settle by Sunday noon</b>\n\n")
    assert "promises kept" not in Reader(text).shown.split("Wins")[0]


def test_a_number_without_a_forecast_has_no_odds() -> None:
    silent = replace(some.SILENT, next_week=replace(some.coming(1), keep={}, expected={}))
    assert "Odds" not in client_block(silent)
    assert "Next week: <b>1 × 45 min</b>" in client_block(silent)


def test_the_line_of_one_who_is_well_names_what_a_coach_might_do() -> None:
    client = replace(some.AWAY, engaged=0.7, trips=(), next_week=some.coming(2, previous=2, explore=3))
    text = shown(GroupWeek(week=some.WEEK, clients=(client,)))
    assert text.endswith(
        "Probably still with you, but less surely than before, 3 could be tried, as an experiment."
    )


def test_when_all_is_well_nothing_stands_between_the_heading_and_the_lines() -> None:
    text = shown(GroupWeek(week=some.WEEK, clients=(some.STEADY, some.AWAY)))
    assert "All is well.\nBo Adeyemi: 3 of 3" in text
    assert "need you" not in text
    assert (
        "Marta Vance: 2 of 2 done → 2 × 30 min (8 in 10, 1.8 expected). Dogger Bank 30 Nov to 9 Dec, out of reach."
        in text
    )


def test_open_asks_show_both_cases() -> None:
    text = shown(GroupWeek(week=some.WEEK, clients=(some.OPEN,)))
    assert "3 of 3 sessions done. 1 session still open." in text
    assert "4 × 45 min, or 5 if what is open gets done" in text
    assert "promises kept" not in text
    both = shown(GroupWeek(week=some.WEEK, clients=(some.OPEN, some.STEADY)))
    assert "1 of 1 promise kept, 6 of 6 sessions done" in both


@pytest.mark.parametrize("clients", [0, 1, 4, 20, 60])
def test_each_message_fits_and_each_client_is_there_once(clients: int) -> None:
    group = some.group(clients) if clients else GroupWeek(week=some.WEEK, clients=())
    messages = digest_messages(group)
    assert all(0 < units(message) <= LONGEST for message in messages)
    assert all("".join(messages).count(f"<b>{client.name}</b>") == 1 for client in group.clients)
    assert len(messages) <= 1 + clients // 15


@given(
    st.lists(st.text(max_size=80), min_size=1, max_size=8),
    st.lists(st.text(max_size=5000), max_size=6),
    st.sampled_from(["🎭", "<b>", "&", "ش"]),
)
def test_what_people_write_never_breaks_a_message(names: list[str], said: list[str], sign: str) -> None:
    clients = tuple(
        replace(some.SORE, name=name, said=(*said, sign * 4000), wins=(sign * 900,), red_flags=(sign * 3000,))
        for name in names
    )
    for message in digest_messages(GroupWeek(week=some.WEEK, clients=clients)):
        Reader(message)
        assert units(message) <= LONGEST


def test_no_number_is_told_as_a_share_of_a_hundred() -> None:
    assert not re.search(r"\d\s?%", shown(some.group(60)))


@pytest.mark.parametrize(
    ("engaged", "says"),
    [
        (0.9, None),
        (0.7, "Probably still with you"),
        (0.3, "May be drifting"),
        (0.1, "Has most likely drifted away"),
    ],
)
def test_drift_is_told_in_words(engaged: float, says: str | None) -> None:
    word = engagement(engaged)
    assert word is None if says is None else word is not None and word.startswith(says)


def test_the_reason_leaves_out_the_odds_that_stand_beside_it() -> None:
    why = "Three 82 % (2.6 done), two 91 % (1.9 done); 5 of 6 done at home; the last week was not kept; talk first"
    told = Reader(client_block(replace(some.SORE, next_week=some.coming(3, why=why)))).shown
    assert told.endswith("\nWhy: 5 of 6 done at home; the last week was not kept.")
    only_odds = replace(some.SORE, next_week=some.coming(3, why="Three 82 % (2.6 done)"))
    assert "Why" not in client_block(only_odds)


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"paused_until": dt.date(2026, 12, 13)}, "Pausing until 13 Dec."),
        ({"unwell": True}, "Unwell."),
        ({"unreachable": True}, "Messages do not get through"),
        ({"load": some.loaded(300, 300)}, "Load 300, as last week."),
        ({"load": some.loaded(300, sessions=3, rated=2)}, "Load 300 from 2 of 3 sessions."),
        ({"load": some.loaded(300, 340)}, "Load 300, 40 less than last week."),
        ({"promised": None, "extras": 0, "done": 0}, "Not begun yet."),
        ({"lowered": True}, "the promise was lowered in the week"),
        ({"trips": (replace(some.LISBON, last=None),)}, "Away: Lisbon from 3 Dec, a hotel gym."),
        ({"trips": (replace(some.LISBON, room=Room.NONE),)}, "Away: Lisbon 3 to 7 Dec, no equipment."),
        (
            {"trips": (replace(some.AT_SEA, room=Room.BANDS),)},
            "Away: Dogger Bank 30 Nov to 9 Dec, out of reach.",
        ),
        ({"extras": 0, "done": 1, "short": 1}, "1 of 3 done, a short one, 2 not asked."),
        ({"extras": 0, "short": 2}, "3 of 3 done, 2 of them short."),
        ({"extras": 0, "short": 3}, "3 of 3 done, all of them short."),
        ({"extras": 0, "done": 1, "missed": 1, "excused": 1}, "1 of 3 done, 1 missed, 1 excused."),
        ({"said": ("a",) * 6}, "And 2 more in the chat."),
        ({"next_week": some.coming(0)}, "Next week: a rest week (3 last)."),
        ({"next_week": some.coming(3, explore=4)}, "4 could be tried, as an experiment."),
        ({"next_week": some.coming(3, talk_first=True)}, "3 × 45 min (talk first)."),
        ({"next_week": some.coming(3, talk_first=True, settled=3)}, "3 × 45 min (settled)."),
        ({"next_week": some.coming(3, settled=2)}, "2 × 45 min (3 last, settled; 3 was recommended)."),
        ({"next_week": some.coming(3, settled=0)}, "a rest week (3 last, settled; 3 was recommended)."),
    ],
)
def test_each_fact_has_its_line(changes: dict[str, object], line: str) -> None:
    assert line in Reader(client_block(replace(some.STEADY, **changes))).shown  # type: ignore[arg-type]
