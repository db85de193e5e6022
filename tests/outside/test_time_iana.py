"""Clock changes of 2026 and 2027, the date line, and zones that changed their rules: the IANA time zone database, release 2026f.

Computed from that release by a separate reading of its files unless a line says otherwise; the release notes of the database
(its NEWS file) tell of British Columbia, Alberta, Morocco and Moldova.
"""

import datetime as dt
import itertools
from typing import NamedTuple

import pytest

from core.calendar import zones
from core.calendar.quiet import QuietHours, has_waking_minute, is_quiet, session_prompt
from core.calendar.trips import Interval, Stay, Trip, Whereabouts

HOUR = dt.timedelta(hours=1)
QUIET = QuietHours()


class Change(NamedTuple):
    """A clock that read ``read`` (local, of the UTC instant ``at``) jumps to ``then``."""

    zone: str
    at: str
    read: str
    then: str

    @property
    def instant(self) -> dt.datetime:
        return dt.datetime.fromisoformat(self.at + "+00:00")


CHANGES = [
    Change("Europe/Berlin", "2026-03-29 01:00", "2026-03-29 02:00", "2026-03-29 03:00"),
    Change("Europe/Berlin", "2027-03-28 01:00", "2027-03-28 02:00", "2027-03-28 03:00"),
    Change("Europe/Berlin", "2026-10-25 01:00", "2026-10-25 03:00", "2026-10-25 02:00"),
    Change("Europe/Berlin", "2027-10-31 01:00", "2027-10-31 03:00", "2027-10-31 02:00"),
    Change("Europe/London", "2026-03-29 01:00", "2026-03-29 01:00", "2026-03-29 02:00"),
    Change("Europe/London", "2027-03-28 01:00", "2027-03-28 01:00", "2027-03-28 02:00"),
    Change("Europe/London", "2026-10-25 01:00", "2026-10-25 02:00", "2026-10-25 01:00"),
    Change("Europe/London", "2027-10-31 01:00", "2027-10-31 02:00", "2027-10-31 01:00"),
    Change("America/New_York", "2026-03-08 07:00", "2026-03-08 02:00", "2026-03-08 03:00"),
    Change("America/New_York", "2027-03-14 07:00", "2027-03-14 02:00", "2027-03-14 03:00"),
    Change("America/New_York", "2026-11-01 06:00", "2026-11-01 02:00", "2026-11-01 01:00"),
    Change("America/New_York", "2027-11-07 06:00", "2027-11-07 02:00", "2027-11-07 01:00"),
    Change("Australia/Sydney", "2026-04-04 16:00", "2026-04-05 03:00", "2026-04-05 02:00"),
    Change("Australia/Sydney", "2027-04-03 16:00", "2027-04-04 03:00", "2027-04-04 02:00"),
    Change("Australia/Sydney", "2026-10-03 16:00", "2026-10-04 02:00", "2026-10-04 03:00"),
    Change("Australia/Sydney", "2027-10-02 16:00", "2027-10-03 02:00", "2027-10-03 03:00"),
    Change("Australia/Lord_Howe", "2026-04-04 15:00", "2026-04-05 02:00", "2026-04-05 01:30"),
    Change("Australia/Lord_Howe", "2027-04-03 15:00", "2027-04-04 02:00", "2027-04-04 01:30"),
    Change("Australia/Lord_Howe", "2026-10-03 15:30", "2026-10-04 02:00", "2026-10-04 02:30"),
    Change("Australia/Lord_Howe", "2027-10-02 15:30", "2027-10-03 02:00", "2027-10-03 02:30"),
    Change("America/Santiago", "2026-09-06 04:00", "2026-09-06 00:00", "2026-09-06 01:00"),
    Change("Asia/Beirut", "2026-03-28 22:00", "2026-03-29 00:00", "2026-03-29 01:00"),
    Change("Africa/Cairo", "2026-04-23 22:00", "2026-04-24 00:00", "2026-04-24 01:00"),
    Change("Africa/Cairo", "2026-10-29 21:00", "2026-10-30 00:00", "2026-10-29 23:00"),
    Change("America/Havana", "2026-03-08 05:00", "2026-03-08 00:00", "2026-03-08 01:00"),
    Change("Asia/Jerusalem", "2026-03-27 00:00", "2026-03-27 02:00", "2026-03-27 03:00"),
    Change("Asia/Jerusalem", "2026-10-24 23:00", "2026-10-25 02:00", "2026-10-25 01:00"),
    Change("Pacific/Chatham", "2026-09-26 14:00", "2026-09-27 02:45", "2026-09-27 03:45"),
    Change("Pacific/Chatham", "2026-04-04 14:00", "2026-04-05 03:45", "2026-04-05 02:45"),
    Change("Antarctica/Troll", "2026-03-29 01:00", "2026-03-29 01:00", "2026-03-29 03:00"),
    Change("Antarctica/Troll", "2026-10-25 01:00", "2026-10-25 03:00", "2026-10-25 01:00"),
]


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: f"{change.zone}-{change.at}")
def test_the_clocks_change_when_the_database_says(change: Change) -> None:
    before = zones.local(change.instant - dt.timedelta(minutes=1), change.zone).replace(tzinfo=None, fold=0)
    after = zones.local(change.instant, change.zone).replace(tzinfo=None, fold=0)
    assert before + dt.timedelta(minutes=1) == dt.datetime.fromisoformat(change.read)
    assert after == dt.datetime.fromisoformat(change.then)
    pieces = list(zones.steady_offsets(change.instant - 5 * HOUR, change.instant + 5 * HOUR, change.zone))
    assert [since for since, _, _ in pieces] == [change.instant - 5 * HOUR, change.instant]


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: f"{change.zone}-{change.at}")
def test_a_minute_around_a_change_follows_the_standard(change: Change) -> None:
    """RFC 5545 §3.3.5: in a gap, the offset before it; in an overlap, the first of the two."""
    read, then = dt.datetime.fromisoformat(change.read), dt.datetime.fromisoformat(change.then)
    inside = min(read, then) + dt.timedelta(minutes=10)
    expected = change.instant + (dt.timedelta(minutes=10) if then > read else -(read - inside))
    assert zones.resolve(inside.date(), inside.time(), change.zone) == expected
    assert Whereabouts(Stay(zone=change.zone)).resolve(inside.date(), inside.time()) == expected


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: f"{change.zone}-{change.at}")
@pytest.mark.parametrize(
    "session", [dt.time(0, 15), dt.time(2, 20), dt.time(6), dt.time(7), dt.time(19, 30), dt.time(23, 30)]
)
def test_a_week_of_prompts_over_a_change_has_one_a_day_and_none_in_quiet_hours(
    change: Change, session: dt.time
) -> None:
    where = Whereabouts(Stay(zone=change.zone))
    days = [zones.local(change.instant, change.zone).date() + dt.timedelta(days=n) for n in range(-3, 4)]
    prompts = [session_prompt(day, session, lead=HOUR, whereabouts=where, quiet=QUIET) for day in days]
    sent = [at for at in prompts if at]
    assert len(sent) == len(set(sent)) == 7
    assert not [at for at in sent if is_quiet(at, where, QUIET)]
    steps = [after - before for before, after in itertools.pairwise(sent)]
    assert all(dt.timedelta(hours=22) <= step <= dt.timedelta(hours=26) for step in steps)
    if dt.time(8) <= session <= dt.time(21):
        assert {zones.local(at, change.zone).time() for at in sent} == {
            (dt.datetime.combine(days[0], session) - HOUR).time()
        }


@pytest.mark.parametrize("zone", ["Pacific/Apia", "America/Asuncion", "Asia/Tehran", "America/Sao_Paulo"])
def test_some_zones_no_longer_change_their_clocks(zone: str) -> None:
    since, until = dt.datetime(2026, 1, 1, tzinfo=dt.UTC), dt.datetime(2028, 1, 1, tzinfo=dt.UTC)
    assert len(list(zones.steady_offsets(since, until, zone))) == 1


@pytest.mark.parametrize(
    ("zone", "reads"),
    [
        ("Pacific/Kiritimati", "2026-11-26 02:00"),
        ("Pacific/Apia", "2026-11-26 01:00"),
        ("Pacific/Chatham", "2026-11-26 01:45"),
        ("Pacific/Pago_Pago", "2026-11-25 01:00"),
        ("Asia/Kathmandu", "2026-11-25 17:45"),
        ("America/St_Johns", "2026-11-25 08:30"),
        ("Australia/Eucla", "2026-11-25 20:45"),
        ("Asia/Almaty", "2026-11-25 17:00"),
    ],
)
def test_what_the_clocks_of_the_world_show_at_one_instant(zone: str, reads: str) -> None:
    """At 2026-11-25 12:00 UTC; 25 hours lie between the extremes."""
    noon = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
    assert zones.local(noon, zone).replace(tzinfo=None) == dt.datetime.fromisoformat(reads)


@pytest.mark.parametrize(
    ("zone", "at", "hours"),
    [
        ("America/Vancouver", "2026-12-01", -7),  # NEWS of release 2026b: -07 for good
        ("America/Edmonton", "2026-12-01", -6),  # NEWS of release 2026c: -06 for good
        ("America/Winnipeg", "2026-12-01", -5),
        ("America/Inuvik", "2026-12-01", -6),
        ("America/Havana", "2026-12-01", -4),
        ("America/Havana", "2027-11-08", -5),
        ("Africa/Casablanca", "2026-12-01", 0),  # NEWS of release 2026c: +00 from 20 September 2026
        ("Africa/El_Aaiun", "2026-12-01", 0),
        ("Africa/Casablanca", "2026-09-19", 1),
    ],
)
def test_zones_that_changed_their_rules_in_2026(zone: str, at: str, hours: int) -> None:
    assert zones.offset_at(dt.datetime.fromisoformat(at + "T12:00+00:00"), zone) == dt.timedelta(hours=hours)


@pytest.mark.parametrize(("zone", "hour"), [("Pacific/Apia", 10), ("Pacific/Fakaofo", 11)])
def test_the_date_that_samoa_and_tokelau_skipped(zone: str, hour: int) -> None:
    """IANA: 30 December 2011 never was; the 29th ended at midnight and the 31st began."""
    where, skipped = Whereabouts(Stay(zone=zone)), dt.date(2011, 12, 30)
    end = where.instants_of(dt.date(2011, 12, 29))[-1].until
    assert where.instants_of(skipped) == ()
    assert (
        where.instants_of(dt.date(2011, 12, 31))[0].since
        == end
        == dt.datetime(2011, 12, 30, hour, tzinfo=dt.UTC)
    )
    assert where.resolve(skipped, dt.time(7)) is None
    assert not has_waking_minute(skipped, where, QUIET)


def test_a_week_of_prompts_in_apia_leaves_out_the_skipped_date_alone() -> None:
    where = Whereabouts(Stay(zone="Pacific/Apia"))
    week = [dt.date(2011, 12, 26) + dt.timedelta(days=n) for n in range(7)]
    prompts = {
        day: session_prompt(day, dt.time(7), lead=dt.timedelta(0), whereabouts=where, quiet=QUIET)
        for day in week
    }
    assert [day for day, at in prompts.items() if at is None] == [dt.date(2011, 12, 30)]
    sent = [at for at in prompts.values() if at]
    assert {after - before for before, after in itertools.pairwise(sent)} == {dt.timedelta(days=1)}


def test_the_evening_before_the_day_after_a_skipped_one_is_two_dates_earlier() -> None:
    """Who trains at six on 31 December in Apia hears at 20:00 on the 29th, ten hours before."""
    where = Whereabouts(Stay(zone="Pacific/Apia"))
    at = session_prompt(dt.date(2011, 12, 31), dt.time(6), lead=HOUR, whereabouts=where, quiet=QUIET)
    assert at == dt.datetime(2011, 12, 30, 6, tzinfo=dt.UTC)
    assert where.local_at(at).isoformat() == "2011-12-29T20:00:00-10:00"


def test_a_week_of_prompts_across_the_date_line_skips_one_date_and_doubles_none() -> None:
    """Auckland, Honolulu from 5 to 8 December, and back: 5 December is lived twice, 9 December only in its last hour.

    The zones' offsets are IANA's (+13 and -10); the flight is invented.
    """
    honolulu = Trip(
        place="Honolulu", zone="Pacific/Honolulu", first=dt.date(2026, 12, 5), last=dt.date(2026, 12, 8)
    )
    where = Whereabouts(Stay(zone="Pacific/Auckland"), (honolulu,))
    days = [dt.date(2026, 12, 3) + dt.timedelta(days=n) for n in range(9)]
    prompts = {
        day: session_prompt(day, dt.time(7), lead=dt.timedelta(0), whereabouts=where, quiet=QUIET)
        for day in days
    }
    assert [day for day, at in prompts.items() if at is None] == [dt.date(2026, 12, 9)]
    assert prompts[dt.date(2026, 12, 5)] == dt.datetime(2026, 12, 4, 18, tzinfo=dt.UTC)
    assert prompts[dt.date(2026, 12, 6)] == dt.datetime(2026, 12, 6, 17, tzinfo=dt.UTC)
    assert prompts[dt.date(2026, 12, 10)] == dt.datetime(2026, 12, 9, 18, tzinfo=dt.UTC)
    sent = [at for at in prompts.values() if at]
    assert sorted(set(sent)) == sent


def test_a_date_lived_twice_has_all_its_hours_twice() -> None:
    """Kiritimati to Pago Pago, 25 hours apart: the date of departure is lived for an hour and again whole."""
    trip = Trip(
        place="Pago Pago", zone="Pacific/Pago_Pago", first=dt.date(2026, 12, 5), last=dt.date(2026, 12, 6)
    )
    where = Whereabouts(Stay(zone="Pacific/Kiritimati"), (trip,))
    lived = where.instants_of(dt.date(2026, 12, 5))
    assert lived == (
        Interval(dt.datetime(2026, 12, 4, 10, tzinfo=dt.UTC), dt.datetime(2026, 12, 5, 10, tzinfo=dt.UTC)),
        Interval(dt.datetime(2026, 12, 5, 11, tzinfo=dt.UTC), dt.datetime(2026, 12, 6, 11, tzinfo=dt.UTC)),
    )
