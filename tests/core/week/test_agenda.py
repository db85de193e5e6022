"""What is due, and when."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from core.calendar.quiet import QuietHours
from core.people.model import SleepAsked, Stage
from core.week.agenda import (
    Due,
    Moment,
    agenda,
    carried_already,
    carries_sleep,
    first_due,
    first_prompts,
    in_order,
    next_due,
    prompt_key,
    sleep_moments,
    to_come,
    week_key,
)
from core.week.budget import Unasked
from core.week.model import Hand
from tests.core.week.some_weeks import WEEK, ask, day, known, life, promise, prompted, trip, utc

P, F, C = Moment.PROMPT, Moment.FOLLOW_UP, Moment.CLOSE_ASK


def told(moments: list[Due]) -> list[tuple[str, str]]:
    return [(due.moment.value, f"{due.at:%d %H:%M}") for due in moments]


@pytest.mark.parametrize(
    ("hour", "minutes", "moments"),
    [
        # half an hour before; an hour after its end; noon of the next local day
        (dt.time(7, 30), 45, [(P, "30 07:00"), (F, "30 09:15"), (C, "01 12:00")]),
        (dt.time(18), 60, [(P, "30 17:30"), (F, "30 20:00"), (C, "01 12:00")]),
        # at seven the quiet hours have just ended
        (dt.time(7), 45, [(P, "30 07:00"), (F, "30 08:45"), (C, "01 12:00")]),
        # who trains at six hears the evening before, an hour before quiet hours begin
        (dt.time(6), 45, [(P, "29 20:00"), (F, "30 07:45"), (C, "01 12:00")]),
        (dt.time(5), 30, [(P, "29 20:00"), (F, "30 07:00"), (C, "01 12:00")]),
        # a follow-up that would fall into quiet hours comes when they end
        (dt.time(20), 60, [(P, "30 19:30"), (F, "01 07:00"), (C, "01 12:00")]),
        (dt.time(21, 30), 45, [(P, "30 20:00"), (F, "01 07:00"), (C, "01 12:00")]),
        # at an evening hour whose half hour before is not quiet
        (dt.time(21, 15), 45, [(P, "30 20:45"), (F, "01 07:00"), (C, "01 12:00")]),
    ],
)
def test_a_prompt_before_a_follow_up_after_and_a_close_at_noon(
    hour: dt.time, minutes: int, moments: list[tuple[Moment, str]]
) -> None:
    one = ask(1, "mon", at=hour, minutes=minutes)
    assert told(agenda(known(one))) == [(moment.value, at) for moment, at in moments]


@pytest.mark.parametrize(
    ("change", "kinds"),
    [
        ({}, [P, F, C]),
        ({"outcome": "done"}, []),
        ({"withdrawn": True}, []),
        ({"extra": True}, []),
        ({"prompted": 0}, [F, C]),
        ({"prompted": 0, "revision": 1}, [P, F, C]),  # moved since: prompted at its new place
        ({"prompted": 0, "said_at": utc("2026-11-30T08:00")}, [C]),  # 'later'
        ({"prompted": 0, "followed_up_at": utc("2026-11-30T09:00")}, [C]),
    ],
)
def test_each_thing_is_said_once(change: dict[str, Any], kinds: list[Moment]) -> None:
    assert [due.moment for due in agenda(known(replace(ask(1, "mon"), **change)))] == kinds


def test_a_weekly_ask_is_asked_once_on_sunday_at_eleven() -> None:
    moments = agenda(known(ask(1, "sun", weekly=True, at=dt.time(11), minutes=10)))
    assert told(moments) == [("weekly ask", "06 11:00"), ("close ask", "07 12:00")]


@pytest.mark.parametrize("fields", [{"stage": Stage.STOPPED}, {"unreachable": True}, {"telegram_id": None}])
def test_who_cannot_be_asked_is_asked_nothing_but_what_was_asked_ends(fields: dict[str, Any]) -> None:
    assert [due.moment for due in agenda(known(ask(1, "mon"), **fields))] == [C]


def test_keys_know_a_move_and_not_a_zone() -> None:
    one = ask(7, "mon", revision=2)
    at_home = {d.key for d in agenda(known(one))}
    away = {d.key for d in agenda(known(one, where=life("Asia/Tokyo")))}
    assert at_home == away == {"close:7", "ask:7:2:prompt", "ask:7:2:follow-up"}
    assert prompt_key(ask(7, "mon", revision=3), "prompt") == "ask:7:3:prompt"


def test_a_zone_moves_what_was_not_sent() -> None:
    late = known(ask(1, "fri"), where=life("Europe/Lisbon", trip("Asia/Tokyo", "2026-12-03", "2026-12-08")))
    assert told(agenda(late))[0] == ("prompt", "03 22:00")


# --- the promise ------------------------------------------------------------------------------------------------------

SETTLED = utc("2026-11-29T18:30")


def test_settling_closes_when_it_was_said_to() -> None:
    open_ = promise(recommended=3, settle_by=utc("2026-11-29T20:00"))
    assert told(agenda(known(promises=[open_]))) == [("close settling", "29 20:00")]


@pytest.mark.parametrize(
    ("settled_at", "told_at"),
    [
        ("2026-11-29T18:30", "29 18:30"),  # when it is settled
        ("2026-11-29T22:30", "30 07:00"),  # or when quiet hours end
    ],
)
def test_the_client_sees_the_promise(settled_at: str, told_at: str) -> None:
    settled = promise(settled=2, settled_by=Hand.COACH, settled_at=utc(settled_at))
    moments = agenda(known(ask(1, "wed"), promises=[settled]))
    assert ("weekly", told_at) in told(moments)


@pytest.mark.parametrize(
    ("weekday", "hour", "closes"),
    [
        ("wed", dt.time(7), "30 12:00"),  # Monday noon
        ("mon", dt.time(18), "30 12:00"),
        ("mon", dt.time(7, 30), "30 07:00"),  # or the first prompt, if that is earlier
        ("mon", dt.time(6), "29 20:00"),
    ],
)
def test_agreeing_closes_at_monday_noon_or_the_first_prompt(weekday: str, hour: dt.time, closes: str) -> None:
    settled = promise(settled=1, settled_by=Hand.COACH, settled_at=SETTLED, told_at=SETTLED, tellings=1)
    moments = agenda(known(ask(1, weekday, at=hour), promises=[settled]))
    assert ("close agreeing", closes) in told(moments)
    assert first_prompts(WEEK, known(ask(1, weekday, at=hour)))[0] >= utc("2026-11-29T20:00")


@pytest.mark.parametrize(
    ("hand", "is_told"),
    [(Hand.CLIENT, False), (Hand.SILENCE, False), (Hand.ASSUMED, True), (Hand.COACH, True)],
)
def test_a_promise_that_was_assumed_before_it_was_told_is_still_told(hand: Hand, is_told: bool) -> None:
    agreed = promise(settled=2, settled_by=Hand.COACH, settled_at=SETTLED, agreed=2, agreed_by=hand)
    assert ("weekly" in [m for m, _ in told(agenda(known(promises=[agreed])))]) is is_told


def test_the_weekly_message_has_one_key_and_another_where_the_coach_changed_it() -> None:
    assert week_key(promise()) == "week:1:2026-W49"
    assert week_key(promise(tellings=1)) == "week:1:2026-W49:1"


def test_a_number_that_hangs_on_sundays_ask_waits_for_it() -> None:
    sunday = ask(3, "sun", week=WEEK.previous(), at=dt.time(18))
    both = promise(
        recommended=3,
        recommended_if_done=4,
        settled=3,
        settled_by=Hand.COACH,
        settled_at=utc("2026-11-29T18:10"),
        settle_by=utc("2026-11-29T20:00"),
        both_cases=True,
    )
    waiting = told(agenda(known(sunday, promises=[both])))
    assert ("weekly", "29 20:00") in waiting
    assert "resolve" not in [moment for moment, _ in waiting]
    ended = told(agenda(known(ask(3, "sun", "done", week=WEEK.previous()), promises=[both])))
    assert ended[:2] == [("resolve", "29 18:10"), ("weekly", "29 18:10")]


def test_the_end_of_a_pause_is_the_morning_after() -> None:
    moments = agenda(known(paused_until=day("wed"), where=life(paused_until=day("wed"))))
    assert told(moments) == [("end of pause", "03 07:00")]


# --- what waits -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("at", "where", "says"),
    [
        ("2026-11-30T06:59", life(), None),  # quiet
        ("2026-11-30T07:00", life(), "prompt"),
        ("2026-11-30T21:00", life(), None),
        ("2026-11-30T12:00", life(paused_until=day("mon")), None),
        (
            "2026-11-30T12:00",
            life("Europe/Lisbon", trip("Europe/Lisbon", "2026-11-30", None, in_reach=False)),
            None,
        ),
        ("2026-11-30T12:00", life("Asia/Tokyo"), None),  # 21:00 there
        ("2026-11-30T11:59", life("Asia/Tokyo"), "prompt"),
    ],
)
def test_nothing_is_said_in_quiet_hours_a_pause_or_without_a_signal(
    at: str, where: object, says: str | None
) -> None:
    due = Due(at=utc("2026-11-30T06:00"), moment=P, key="k", day=day("mon"))
    first = first_due([due], where, utc(at))  # type: ignore[arg-type]
    assert (first.moment.value if first else None) == says


def test_what_closes_does_not_wait() -> None:
    due = Due(at=utc("2026-11-30T02:00"), moment=C, key="k", day=day("mon"))
    assert first_due([due], life(), utc("2026-11-30T02:00")) == due


def test_where_the_tick_comes_late_what_has_ended_ends_before_anything_is_said() -> None:
    """At eight a follow-up was due, at noon a day went without an answer: at one that day is known, and the follow-up waits for it."""
    said = Due(at=utc("2026-12-01T08:00"), moment=F, key="said", day=day("tue"))
    ends = Due(at=utc("2026-12-01T12:00"), moment=C, key="ends", day=day("mon"))
    assert first_due([said, ends], life(), utc("2026-12-01T11:00")) == said
    assert first_due([said, ends], life(), utc("2026-12-01T13:00")) == ends


@pytest.mark.parametrize("silent_since", [None, day("mon")])
def test_nobody_is_asked_about_the_night_in_silence(silent_since: dt.date | None) -> None:
    week = known(ask(1, "wed"), sleep_asked=SleepAsked.DAILY, silent_since=silent_since)
    assert bool(list(sleep_moments(week, [day("thu")]))) is (silent_since is None)


@pytest.mark.parametrize(
    ("due_at", "now", "looks"),
    [
        ("2026-11-30T06:30", "2026-11-30T04:00", "2026-11-30T07:00"),
        ("2026-11-30T18:00", "2026-11-30T04:00", "2026-11-30T18:00"),
        ("2026-11-30T18:00", "2026-11-30T19:00", "2026-11-30T19:00"),
        ("2026-11-30T20:00", "2026-11-30T22:00", "2026-12-01T07:00"),
    ],
)
def test_when_to_look_again(due_at: str, now: str, looks: str) -> None:
    due = Due(at=utc(due_at), moment=P, key="k", day=day("mon"))
    assert next_due([due], life(), utc(now)) == utc(looks)
    assert next_due([], life(), utc(now)) is None


@pytest.mark.parametrize(
    ("where", "at", "hears"),
    [
        (life(), "2026-11-30T12:00", "2026-11-30T12:00"),
        (life(), "2026-11-30T03:00", "2026-11-30T07:00"),
        (life(paused_until=day("wed")), "2026-11-30T12:00", "2026-12-03T07:00"),
        (
            life("Europe/Lisbon", trip("Asia/Tokyo", "2026-12-01", "2026-12-05", in_reach=False)),
            "2026-12-02T12:00",
            "2026-12-06T07:00",  # a date that names no reach is left whole
        ),
        (life(quiet=QuietHours(dt.time(0), dt.time(0))), "2026-11-30T03:00", "2026-11-30T03:00"),
    ],
)
def test_when_somebody_can_be_told_something(where: object, at: str, hears: str) -> None:
    assert where.hears_from(utc(at)) == utc(hears)  # type: ignore[attr-defined]


def test_at_one_instant_what_closes_goes_before_what_asks() -> None:
    same = [Due(at=SETTLED, moment=moment, key=moment.value, day=day("mon")) for moment in reversed(Moment)]
    assert [due.moment for due in in_order(same)] == list(Moment)


# --- sleep ------------------------------------------------------------------------------------------------------------

DAILY = {"sleep_asked": SleepAsked.DAILY}


@pytest.mark.parametrize(
    ("fields", "asks_", "asked_at"),
    [
        (DAILY, [], "30 09:00"),
        ({}, [], None),  # on training mornings only
        ({"sleep_asked": SleepAsked.NEVER}, [], None),
        (DAILY, [ask(1, "mon")], None),  # it rides on the prompt
        (DAILY, [prompted(ask(1, "mon", "done"), "2026-11-30T07:00")], None),  # and has ridden
        (DAILY, [ask(1, "mon", at=dt.time(18))], "30 09:00"),  # an evening's prompt cannot carry it
        (DAILY, [ask(1, "mon", at=dt.time(6))], "30 09:00"),  # nor one of the evening before
        ({**DAILY, "nights_known": frozenset({day("mon")})}, [], None),
        ({**DAILY, "unreachable": True}, [], None),
        ({**DAILY, "where": life(paused_until=day("mon"))}, [], None),
        ({**DAILY, "where": life(quiet=QuietHours(dt.time(22), dt.time(10)))}, [], "30 10:00"),
    ],
)
def test_the_question_about_the_night(
    fields: dict[str, object], asks_: list[object], asked_at: str | None
) -> None:
    found = list(sleep_moments(known(*asks_, **fields), [day("mon")]))  # type: ignore[arg-type]
    assert [f"{due.at:%d %H:%M}" for due in found] == ([asked_at] if asked_at else [])


@pytest.mark.parametrize(
    ("hour", "carries"), [(dt.time(6), False), (dt.time(7), True), (dt.time(12), True), (dt.time(13), False)]
)
def test_a_morning_prompt_carries_the_question(hour: dt.time, carries: bool) -> None:
    assert carries_sleep(ask(1, "mon", at=hour), life()) is carries


def test_of_two_prompts_of_a_morning_one_carries_it() -> None:
    first, second = prompted(ask(1, "mon"), "2026-11-30T07:00"), ask(2, "mon", at=dt.time(11))
    assert carried_already(second, known(first, second))
    assert not carried_already(first, known(first, second))


# --- what is to come --------------------------------------------------------------------------------------------------


def test_room_is_kept_for_what_is_still_to_come() -> None:
    week = known(ask(1, "mon"), ask(2, "wed"), ask(3, "fri"))
    moments = agenda(week)
    now = utc("2026-11-30T07:30")
    today = to_come(week, moments, but="", at=now, until=day("mon"))
    assert today == {Unasked.FOLLOW_UP: 1}
    all_week = to_come(week, moments, but="ask:2:0:prompt", at=now, until=day("sun"))
    assert all_week == {Unasked.FOLLOW_UP: 3, Unasked.PROMPT: 1, Unasked.WEEKLY: 1}


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({}, 1),
        ({"promises": [promise(WEEK.next(), settled=2, told_at=SETTLED, tellings=1, agreed=2)]}, 0),
        ({"silent_since": day("mon")}, 0),
        ({"first_week": WEEK.plus(2)}, 0),
        ({"where": life(paused_until=day("sun"))}, 0),
    ],
)
def test_the_weekly_message_has_its_room(fields: dict[str, object], expected: int) -> None:
    week = known(**fields)  # type: ignore[arg-type]
    coming = to_come(week, agenda(week), but="", at=utc("2026-11-30T07:30"), until=day("sun"))
    assert coming.get(Unasked.WEEKLY, 0) == expected
