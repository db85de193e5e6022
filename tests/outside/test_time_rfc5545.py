"""Times that do not exist, or occur twice, and what a repeated rule yields: RFC 5545 (iCalendar) against our own reckoning."""

import datetime as dt

import pytest
from dateutil.rrule import rrulestr  # type: ignore[import-untyped]

from core.calendar import trip_file, zones

NEW_YORK = "America/New_York"


def test_a_time_in_the_gap_uses_the_offset_before_it() -> None:
    """RFC 5545 §3.3.5: TZID=America/New_York:20070311T023000 means 03:30 daylight time."""
    at = zones.resolve(dt.date(2007, 3, 11), dt.time(2, 30), NEW_YORK)
    assert at == dt.datetime(2007, 3, 11, 7, 30, tzinfo=dt.UTC)
    assert zones.local(at, NEW_YORK).time() == dt.time(3, 30)


def test_a_time_that_occurs_twice_is_the_first_one() -> None:
    """RFC 5545 §3.3.5: TZID=America/New_York:20071104T013000 means 01:30 daylight time."""
    assert zones.resolve(dt.date(2007, 11, 4), dt.time(1, 30), NEW_YORK) == dt.datetime(
        2007, 11, 4, 5, 30, tzinfo=dt.UTC
    )


def test_nine_in_the_morning_every_day_over_the_end_of_summer_time() -> None:
    """RFC 5545 §3.8.5.3, first example (DAILY until 24 December 1997): 54 mornings at 13:00 UTC, then 59 at 14:00 UTC."""
    rule = rrulestr("DTSTART:19970902T090000\nRRULE:FREQ=DAILY;UNTIL=19971223T190000")
    at = [zones.resolve(wall.date(), wall.time(), NEW_YORK) for wall in rule]
    assert len(at) == 113
    assert [instant.hour for instant in at] == [13] * 54 + [14] * 59
    assert at[53].date() == dt.date(1997, 10, 25)


def test_a_time_in_the_gap_of_vancouver_and_the_day_after() -> None:
    """The precedent of the 'rrule' crate's own tests: daily at 02:22:10, on 14 March 2021 at 03:22:10 -07:00."""
    time = dt.time(2, 22, 10)
    jumped, usual = (
        zones.local(zones.resolve(dt.date(2021, 3, day), time, "America/Vancouver"), "America/Vancouver")
        for day in (14, 15)
    )
    assert (jumped.time(), jumped.utcoffset()) == (dt.time(3, 22, 10), dt.timedelta(hours=-7))
    assert usual.time() == time


@pytest.mark.parametrize(
    ("rule", "start", "days"),
    [
        # RFC 5545 §3.8.5.3: 'an example where the days generated makes a difference because of WKST'
        ("FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "19970805", ["0805", "0810", "0819", "0824"]),
        ("FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "19970805", ["0805", "0817", "0819", "0831"]),
        # RFC 5545 §3.8.5.3: 'an example where an invalid date (i.e., February 30) is ignored'
        ("FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5", "19970115", ["0115", "0130", "0215", "0315", "0330"]),
        # RFC 5545 §3.8.5.3: Tuesday and Thursday for five weeks
        (
            "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
            "19970902",
            ["0902", "0904", "0909", "0911", "0916", "0918", "0923", "0925", "0930", "1002"],
        ),
    ],
)
def test_a_trip_that_repeats_falls_on_the_days_of_the_standard(
    rule: str, start: str, days: list[str]
) -> None:
    text = (
        "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:1\r\nSUMMARY:Leg\r\n"
        f"DTSTART;VALUE=DATE:{start}\r\nRRULE:{rule}\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
    )
    reading = trip_file.read_spans(
        text.encode(), since=dt.date(1997, 1, 1), until=dt.date(1997, 12, 31), zone=NEW_YORK
    )
    assert [f"{span.first:%m%d}" for span in reading.spans] == days
