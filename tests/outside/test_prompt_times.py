"""Prompt times of whole weeks, through the agenda: RFC 5545 §3.3.5 and §3.8.5.3, and the IANA time zone database, release 2026f.

The offsets before and after each change are those of the IANA database (its NEWS file tells of British Columbia, Morocco and
Samoa's skipped day); the instants expected here were worked out by hand from those offsets, not with the code under test. That a
session of a quarter past seven is prompted at a quarter to seven or, if that is quiet, at seven, is the house's own rule.
"""

import datetime as dt

import pytest

from core.calendar.quiet import QuietHours
from core.calendar.trips import Stay, Trip, Whereabouts
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Stage
from core.week.agenda import Known, Moment, agenda, first_due
from core.week.circumstances import Circumstances
from core.week.model import Ask
from core.week.moving import next_free_day

NO_QUIET = QuietHours(dt.time(0), dt.time(0))
SEVEN_THIRTY = dt.time(7, 30)


def utc(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text + "+00:00")


def daily(monday: str, at: dt.time = SEVEN_THIRTY) -> list[Ask]:
    """One ask on each day of a week."""
    week = IsoWeek.of(dt.date.fromisoformat(monday))
    return [
        Ask(id=n, client_id=1, week=week, day=day, at=at, minutes=45) for n, day in enumerate(week.days(), 1)
    ]


def moments(
    asks: list[Ask], zone: str, *trips: Trip, kind: Moment = Moment.PROMPT, quiet: QuietHours | None = None
) -> list[str]:
    """When something is due, in UTC, as 'DD HH:MM'."""
    return [
        f"{due.at:%d %H:%M}" for due in agenda(known(asks, zone, *trips, quiet=quiet)) if due.moment is kind
    ]


def known(asks: list[Ask], zone: str, *trips: Trip, quiet: QuietHours | None = None) -> Known:
    client = Client(id=1, coach_id=1, name="Mara", telegram_id=7101, stage=Stage.ACTIVE, zone=zone)
    life = Circumstances(Whereabouts(Stay(zone=zone), trips), quiet or QuietHours())
    return Known(client=client, life=life, promises=(), asks=asks)


def week_of(first: int, hours: str, days: int = 7, month: int = 31) -> list[str]:
    """'DD HH:MM' of so many days, each at its hour; `hours` as '5x06:00 2x05:00'."""
    each = [hour for part in hours.split() for hour in [part.split("x")[1]] * int(part.split("x")[0])]
    assert len(each) == days
    return [f"{(first + n - 1) % month + 1:02} {hour}" for n, hour in enumerate(each)]


@pytest.mark.parametrize(
    ("zone", "monday", "expected"),
    [
        # 07:00 local each day; the offset changes within the week
        ("Europe/Berlin", "2026-03-23", week_of(23, "6x06:00 1x05:00")),
        ("Europe/Berlin", "2026-10-19", week_of(19, "6x05:00 1x06:00")),
        ("Europe/London", "2026-03-23", week_of(23, "6x07:00 1x06:00")),
        ("Europe/London", "2026-10-19", week_of(19, "6x06:00 1x07:00")),
        ("America/New_York", "2026-03-02", week_of(2, "6x12:00 1x11:00")),
        ("America/New_York", "2026-10-26", week_of(26, "6x11:00 1x12:00")),
        ("Australia/Sydney", "2026-03-30", week_of(29, "6x20:00 1x21:00")),
        ("Australia/Sydney", "2026-09-28", week_of(27, "6x21:00 1x20:00", month=30)),
        ("Australia/Lord_Howe", "2026-03-30", week_of(29, "6x20:00 1x20:30")),  # half an hour
        ("Australia/Lord_Howe", "2026-09-28", week_of(27, "6x20:30 1x20:00", month=30)),
        ("America/Santiago", "2026-08-31", week_of(31, "6x11:00 1x10:00")),  # midnight does not exist
        ("Asia/Beirut", "2026-03-23", week_of(23, "6x05:00 1x04:00")),
        ("Africa/Cairo", "2026-04-20", week_of(20, "4x05:00 3x04:00")),
        ("Africa/Cairo", "2026-10-26", week_of(26, "4x04:00 3x05:00")),
        ("America/Havana", "2026-03-02", week_of(2, "6x12:00 1x11:00")),
        ("Asia/Jerusalem", "2026-03-23", week_of(23, "4x05:00 3x04:00")),
        ("Asia/Jerusalem", "2026-10-19", week_of(19, "6x04:00 1x05:00")),
        ("Pacific/Chatham", "2026-03-30", week_of(29, "6x17:15 1x18:15")),
        ("Pacific/Chatham", "2026-09-21", week_of(20, "6x18:15 1x17:15")),
        ("Antarctica/Troll", "2026-03-23", week_of(23, "6x07:00 1x05:00")),  # two hours
        ("Antarctica/Troll", "2026-10-19", week_of(19, "6x05:00 1x07:00")),
        # zones that changed their rules in 2026: no change where one was expected, and the other way round
        ("America/Vancouver", "2026-10-26", week_of(26, "7x14:00")),
        ("Africa/Casablanca", "2026-09-14", week_of(14, "6x06:00 1x07:00")),
        # no changes any more
        ("Pacific/Apia", "2026-09-21", week_of(20, "7x18:00")),
        ("America/Sao_Paulo", "2026-10-12", week_of(12, "7x10:00")),
        ("Asia/Kathmandu", "2026-11-23", week_of(23, "7x01:15", month=30)),
    ],
)
def test_seven_in_the_morning_is_seven_where_they_live(zone: str, monday: str, expected: list[str]) -> None:
    assert moments(daily(monday), zone) == expected


@pytest.mark.parametrize(
    ("zone", "monday", "expected"),
    [
        # who trains at six hears at 20:00 of the evening before: on Saturday evening by the old offset
        ("Europe/Berlin", "2026-03-23", week_of(22, "7x19:00")),
        (
            "Europe/Berlin",
            "2026-03-30",
            ["29 18:00", "30 18:00", "31 18:00", "01 18:00", "02 18:00", "03 18:00", "04 18:00"],
        ),
        (
            "America/New_York",
            "2026-11-02",
            ["02 01:00", "03 01:00", "04 01:00", "05 01:00", "06 01:00", "07 01:00", "08 01:00"],
        ),
    ],
)
def test_who_trains_at_six_hears_the_evening_before(zone: str, monday: str, expected: list[str]) -> None:
    assert moments(daily(monday, dt.time(6)), zone) == expected


def test_noon_of_the_next_day_is_noon_there() -> None:
    closes = moments(daily("2026-03-23"), "Europe/Berlin", kind=Moment.CLOSE_ASK)
    assert closes == ["24 11:00", "25 11:00", "26 11:00", "27 11:00", "28 11:00", "29 10:00", "30 10:00"]


@pytest.mark.parametrize(
    ("day", "at", "begins"),
    [
        # RFC 5545 §3.3.5: TZID=America/New_York:20070311T023000 is 03:30 EDT, reckoned with the offset before the gap
        ("2007-03-11", dt.time(2, 30), "2007-03-11T07:30"),
        # and 20071104T013000 is the first of the two, 01:30 EDT
        ("2007-11-04", dt.time(1, 30), "2007-11-04T05:30"),
    ],
)
def test_a_session_at_a_time_that_does_not_exist_or_occurs_twice(day: str, at: dt.time, begins: str) -> None:
    date = dt.date.fromisoformat(day)
    one = Ask(id=1, client_id=1, week=IsoWeek.of(date), day=date, at=at, minutes=45)
    prompts = [
        due.at
        for due in agenda(known([one], "America/New_York", quiet=NO_QUIET))
        if due.moment is Moment.PROMPT
    ]
    assert prompts == [utc(begins) - dt.timedelta(minutes=30)]


def test_nine_o_clock_in_new_york_across_the_end_of_summer_time() -> None:
    """RFC 5545 §3.8.5.3: daily at 09:00 is 13:00Z up to 25 October 1997 and 14:00Z from the 26th on."""
    assert moments(daily("1997-10-20", dt.time(9)), "America/New_York") == week_of(20, "6x12:30 1x13:30")


def test_the_day_that_samoa_skipped_has_no_prompt_and_its_ask_moves_on() -> None:
    """2011-12-29 23:59:59 at -10 was followed by 2011-12-31 00:00 at +14: 30 December never was (IANA, Pacific/Apia)."""
    week = daily("2011-12-26")
    assert moments(week, "Pacific/Apia") == [
        "26 17:00",
        "27 17:00",
        "28 17:00",
        "29 17:00",
        "30 17:00",
        "31 17:00",
    ]
    life = known(week, "Pacific/Apia").life
    friday, saturday = week[4], week[5]
    assert [life.usable(ask.day) for ask in week] == [True] * 4 + [False] + [True] * 2
    assert next_free_day(friday, [a for a in week if a is not saturday], life) == saturday.day
    assert next_free_day(friday, week, life) is None


def test_a_date_lived_twice_is_prompted_once() -> None:
    """From Kiritimati (+14) to Honolulu (-10): it is 3 December there, and then 3 December again (IANA)."""
    honolulu = Trip(
        place="Honolulu", zone="Pacific/Honolulu", first=dt.date(2026, 12, 3), last=dt.date(2026, 12, 9)
    )
    week = daily("2026-11-30")
    assert moments(week, "Pacific/Kiritimati", honolulu) == [
        "29 17:00", "30 17:00", "01 17:00", "02 17:00", "04 17:00", "05 17:00", "06 17:00",
    ]  # fmt: skip
    assert moments(week, "Pacific/Kiritimati", honolulu, kind=Moment.CLOSE_ASK)[3] == "04 22:00"


def test_a_date_that_the_date_line_takes_has_no_prompt() -> None:
    """From Honolulu (-10) to Kiritimati (+14) for 3 December: 2 December is over at its beginning (IANA)."""
    kiritimati = Trip(
        place="Kiritimati", zone="Pacific/Kiritimati", first=dt.date(2026, 12, 3), last=dt.date(2026, 12, 30)
    )
    assert moments(daily("2026-11-30"), "Pacific/Honolulu", kiritimati) == [
        "30 17:00", "01 17:00", "02 17:00", "03 17:00", "04 17:00", "05 17:00",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("zone", "monday"),
    [
        ("Europe/Berlin", "2026-03-23"),
        ("Europe/Berlin", "2026-10-19"),
        ("Antarctica/Troll", "2026-10-19"),
        ("Africa/Cairo", "2026-10-26"),
        ("Pacific/Apia", "2011-12-26"),
        ("Australia/Lord_Howe", "2026-09-28"),
    ],
)
@pytest.mark.parametrize("hour", [0, 5, 6, 7, 12, 18, 20, 21, 23])
def test_a_week_lived_minute_by_minute_is_prompted_once_a_day_and_never_in_quiet_hours(
    zone: str, monday: str, hour: int
) -> None:
    """Common sense, no source: ticks every ten minutes over the days around a change."""
    asks = {ask.id: ask for ask in daily(monday, dt.time(hour))}
    life = known([], zone).life
    at = life.first_lived(dt.date.fromisoformat(monday) - dt.timedelta(days=1), dt.time(0))
    prompts: list[int] = []
    for _ in range(9 * 24 * 6):
        at += dt.timedelta(minutes=10)
        due = first_due(agenda(known(list(asks.values()), zone)), life, at)
        while due is not None and due.ask is not None and due.moment is Moment.PROMPT:
            assert not life.is_quiet(at)
            prompts.append(due.ask.id)
            asks[due.ask.id] = _prompted(due.ask, at)
            due = first_due(agenda(known(list(asks.values()), zone)), life, at)
        asks = {key: ask for key, ask in asks.items() if life.closes_at(ask.day) > at}
    lived = [n for n, ask in enumerate(daily(monday), 1) if life.usable(ask.day)]
    assert sorted(prompts) == lived


def _prompted(ask: Ask, at: dt.datetime) -> Ask:
    from dataclasses import replace

    return replace(ask, prompted=ask.revision, prompted_at=at, followed_up_at=at)
