import datetime as dt

import pytest
from hypothesis import given

from core.calendar.quiet import (
    QuietHours,
    evening_before,
    has_waking_minute,
    is_quiet,
    session_prompt,
    wakes_at,
    waking,
)
from core.calendar.trips import Stay, Trip, Whereabouts
from tests.core.calendar import whereabouts_strategies as some

LISBON = Whereabouts(Stay(zone="Europe/Lisbon"))
USUAL = QuietHours()
HOUR = dt.timedelta(hours=1)
MONDAY = dt.date(2026, 11, 30)


def utc(month: int, day: int, hour: int = 0, minute: int = 0) -> dt.datetime:
    return dt.datetime(2026, month, day, hour, minute, tzinfo=dt.UTC)


@given(some.whereabouts, some.quiets, some.days, some.times, some.leads)
def test_no_prompt_falls_into_quiet_hours_or_where_there_is_no_signal(
    where: Whereabouts, quiet: QuietHours, day: dt.date, time: dt.time, lead: dt.timedelta
) -> None:
    at = session_prompt(day, time, lead=lead, whereabouts=where, quiet=quiet)
    assert at is None or not is_quiet(at, where, quiet)
    assert at is None or where.stay_at(at).in_reach
    assert at is None or has_waking_minute(day, where, quiet)


@given(some.whereabouts_in_reach, some.quiets, some.days, some.times, some.leads)
def test_where_there_is_a_signal_each_date_with_a_waking_minute_has_a_prompt_and_not_after_its_session(
    where: Whereabouts, quiet: QuietHours, day: dt.date, time: dt.time, lead: dt.timedelta
) -> None:
    at = session_prompt(day, time, lead=lead, whereabouts=where, quiet=quiet)
    assert (at is not None) == has_waking_minute(day, where, quiet)
    begins = where.resolve(day, time)
    assert at is None or begins is None or at <= begins


@given(some.whereabouts, some.quiets, some.instants)
def test_waking_is_the_first_instant_outside_quiet_hours(
    where: Whereabouts, quiet: QuietHours, at: dt.datetime
) -> None:
    woken = wakes_at(at, where, quiet)
    assert not is_quiet(woken, where, quiet)
    assert (woken == at) == (not is_quiet(at, where, quiet))
    for n in range(1, 12):
        assert is_quiet(woken - (woken - at) * n / 12, where, quiet) or woken == at


@given(some.whereabouts, some.quiets, some.instants)
def test_the_evening_before_is_before_and_awake(
    where: Whereabouts, quiet: QuietHours, at: dt.datetime
) -> None:
    evening = evening_before(at, where, quiet)
    assert evening <= at
    assert not is_quiet(evening, where, quiet)


@given(some.whereabouts, some.quiets, some.instants)
def test_an_instant_is_waking_on_its_own_day_or_quiet(
    where: Whereabouts, quiet: QuietHours, at: dt.datetime
) -> None:
    on_its_day = any(at in part for part in waking(where.local_day(at), where, quiet))
    assert on_its_day != is_quiet(at, where, quiet)


@pytest.mark.parametrize(
    ("quiet", "wall", "holds"),
    [
        (USUAL, dt.time(20, 59), False),
        (USUAL, dt.time(21), True),
        (USUAL, dt.time(0), True),
        (USUAL, dt.time(6, 59), True),
        (USUAL, dt.time(7), False),
        (QuietHours(dt.time(9), dt.time(17)), dt.time(12), True),
        (QuietHours(dt.time(9), dt.time(17)), dt.time(17), False),
        (QuietHours(dt.time(9), dt.time(17)), dt.time(3), False),
        (QuietHours(dt.time(9), dt.time(9)), dt.time(9), False),
    ],
)
def test_quiet_hours_hold_from_their_beginning_up_to_their_end(
    quiet: QuietHours, wall: dt.time, *, holds: bool
) -> None:
    assert quiet.holds_at(wall) is holds


@pytest.mark.parametrize(
    ("session", "lead", "prompt"),
    [
        (dt.time(18), HOUR, utc(11, 30, 17)),
        (dt.time(8), HOUR, utc(11, 30, 7)),
        (dt.time(7, 30), HOUR, utc(11, 30, 7)),
        (dt.time(7), HOUR, utc(11, 30, 7)),
        (dt.time(6), HOUR, utc(11, 29, 20)),
        (dt.time(6), dt.timedelta(0), utc(11, 29, 20)),
        (dt.time(22, 30), HOUR, utc(11, 30, 20)),
        (dt.time(21, 30), HOUR, utc(11, 30, 20, 30)),
    ],
)
def test_who_trains_early_hears_the_evening_before(
    session: dt.time, lead: dt.timedelta, prompt: dt.datetime
) -> None:
    assert session_prompt(MONDAY, session, lead=lead, whereabouts=LISBON, quiet=USUAL) == prompt


def test_a_follow_up_that_would_fall_into_quiet_hours_comes_when_they_end() -> None:
    assert wakes_at(utc(11, 30, 22, 15), LISBON, USUAL) == utc(12, 1, 7)
    assert wakes_at(utc(12, 1, 3), LISBON, USUAL) == utc(12, 1, 7)
    assert wakes_at(utc(11, 30, 20, 59), LISBON, USUAL) == utc(11, 30, 20, 59)


def test_quiet_hours_that_a_flight_lengthens_end_where_the_client_is_then() -> None:
    """Two in the morning at home on the date of a flight west: the trip's zone holds from its own midnight on."""
    new_york = Trip(
        place="New York", zone="America/New_York", first=dt.date(2026, 12, 1), last=dt.date(2026, 12, 5)
    )
    where = Whereabouts(Stay(zone="Europe/Lisbon"), (new_york,))
    assert wakes_at(utc(12, 1, 2), where, USUAL) == utc(12, 1, 12)


def test_a_session_at_an_hour_that_a_flight_takes_is_prompted_in_the_last_waking_hour_of_its_day() -> None:
    """The zone of Singapore holds from 16:00 UTC on 2 December: 18:00 in Lisbon never comes."""
    singapore = Trip(
        place="Singapore", zone="Asia/Singapore", first=dt.date(2026, 12, 3), last=dt.date(2026, 12, 5)
    )
    where = Whereabouts(Stay(zone="Europe/Lisbon"), (singapore,))
    assert session_prompt(
        dt.date(2026, 12, 2), dt.time(18), lead=HOUR, whereabouts=where, quiet=USUAL
    ) == utc(12, 2, 15)


def test_a_session_at_an_hour_before_the_day_begins_is_prompted_when_it_does() -> None:
    """Back from Honolulu, 9 December in Sydney begins at 21:00, and from Pago Pago to Auckland a day begins at noon or never."""
    back = Trip(
        place="Honolulu", zone="Pacific/Honolulu", first=dt.date(2026, 6, 3), last=dt.date(2026, 6, 5)
    )
    where = Whereabouts(Stay(zone="Asia/Tokyo"), (back,))
    assert where.resolve(dt.date(2026, 6, 6), dt.time(18)) is None
    assert session_prompt(dt.date(2026, 6, 6), dt.time(18), lead=HOUR, whereabouts=where, quiet=USUAL) == utc(
        6, 6, 10
    )


AT_SEA = Trip(
    place="the survey ship",
    zone="Europe/Lisbon",
    first=dt.date(2026, 11, 28),
    last=dt.date(2026, 11, 29),
    in_reach=False,
)


@pytest.mark.parametrize(
    ("day", "session", "prompt"),
    [
        (MONDAY, dt.time(6), utc(11, 30, 7)),  # the evening before is at sea: late, but on the day
        (MONDAY, dt.time(18), utc(11, 30, 17)),
        (dt.date(2026, 11, 29), dt.time(18), None),
        (dt.date(2026, 11, 28), dt.time(6), utc(11, 27, 20)),
    ],
)
def test_where_there_is_no_signal_nobody_is_prompted(
    day: dt.date, session: dt.time, prompt: dt.datetime | None
) -> None:
    where = Whereabouts(Stay(zone="Europe/Lisbon"), (AT_SEA,))
    assert session_prompt(day, session, lead=HOUR, whereabouts=where, quiet=USUAL) == prompt


def test_half_a_waking_minute_is_none() -> None:
    nearly_always = QuietHours(dt.time(0, 0, 30), dt.time(0))
    assert waking(MONDAY, LISBON, nearly_always) != ()
    assert not has_waking_minute(MONDAY, LISBON, nearly_always)


def test_a_date_left_with_nothing_but_quiet_hours_has_no_waking_minute() -> None:
    back = Trip(
        place="Honolulu", zone="Pacific/Honolulu", first=dt.date(2026, 12, 5), last=dt.date(2026, 12, 8)
    )
    where = Whereabouts(Stay(zone="Pacific/Auckland"), (back,))
    assert where.instants_of(dt.date(2026, 12, 9)) != ()
    assert not has_waking_minute(dt.date(2026, 12, 9), where, USUAL)
    assert (
        session_prompt(dt.date(2026, 12, 9), dt.time(18), lead=HOUR, whereabouts=where, quiet=USUAL) is None
    )
