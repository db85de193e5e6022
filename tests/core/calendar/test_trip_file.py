import contextlib
import datetime as dt

import pytest

from core.calendar import calendar_text, trip_file
from core.errors import Refused

SINCE, UNTIL = dt.date(2026, 11, 25), dt.date(2027, 11, 24)


def calendar(*events: str) -> bytes:
    body = "".join(f"BEGIN:VEVENT\r\nUID:{n}\r\n{event}\r\nEND:VEVENT\r\n" for n, event in enumerate(events))
    return f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\n{body}END:VCALENDAR\r\n".encode()


def read(data: bytes) -> list[tuple[str, str, dt.date, dt.date]]:
    reading = trip_file.read_spans(data, since=SINCE, until=UNTIL, zone="Europe/Lisbon")
    return [(span.title, span.place, span.first, span.last) for span in reading.spans]


def test_whole_days_end_the_day_before_the_written_end() -> None:
    assert read(
        calendar(
            "SUMMARY:Tour leg\r\nLOCATION:Lisbon\r\nDTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:20261208"
        )
    ) == [("Tour leg", "Lisbon", dt.date(2026, 12, 3), dt.date(2026, 12, 7))]


def test_a_day_without_an_end_is_one_day_and_a_title_stands_in_for_a_place() -> None:
    assert read(calendar("SUMMARY:Porto\r\nDTSTART;VALUE=DATE:20261203")) == [
        ("Porto", "Porto", dt.date(2026, 12, 3), dt.date(2026, 12, 3))
    ]


def test_a_timed_span_has_the_dates_that_the_places_show() -> None:
    """Survey out of London on the evening of the 3rd, ashore in Singapore on the morning of the 9th."""
    event = "SUMMARY:Survey\r\nDTSTART;TZID=Europe/London:20261203T220000\r\nDTEND;TZID=Asia/Singapore:20261209T063000"
    assert read(calendar(event)) == [("Survey", "Survey", dt.date(2026, 12, 3), dt.date(2026, 12, 9))]


def test_a_time_in_utc_is_read_where_the_client_lives() -> None:
    event = "SUMMARY:Away\r\nDTSTART:20261203T233000Z\r\nDURATION:P2D"
    reading = trip_file.read_spans(calendar(event), since=SINCE, until=UNTIL, zone="Asia/Tokyo")
    assert (reading.spans[0].first, reading.spans[0].last) == (dt.date(2026, 12, 4), dt.date(2026, 12, 6))


def test_a_span_that_ends_at_midnight_does_not_touch_the_next_day() -> None:
    event = "SUMMARY:Away\r\nDTSTART:20261203T080000\r\nDTEND:20261205T000000"
    assert read(calendar(event))[0][3] == dt.date(2026, 12, 4)


def test_meetings_and_cancelled_days_are_no_trips_and_are_counted() -> None:
    data = calendar(
        "SUMMARY:Call\r\nDTSTART:20261203T080000Z\r\nDTEND:20261203T090000Z\r\nRRULE:FREQ=SECONDLY",
        "SUMMARY:Called off\r\nSTATUS:CANCELLED\r\nDTSTART;VALUE=DATE:20261203",
        "SUMMARY:Rome\r\nDTSTART;VALUE=DATE:20261210\r\nDTEND;VALUE=DATE:20261212",
    )
    reading = trip_file.read_spans(data, since=SINCE, until=UNTIL, zone="Europe/Lisbon")
    assert [span.title for span in reading.spans] == ["Rome"]
    assert reading.left_out == 2


def test_what_is_over_or_far_away_is_not_read() -> None:
    past, far = (f"SUMMARY:x\r\nDTSTART;VALUE=DATE:{day}" for day in ("20250101", "20400101"))
    assert read(calendar(past, far)) == []


@pytest.mark.parametrize(
    ("begins", "ends", "touches"),
    [
        ("20261123", "20261125", False),  # the end is the day after the last one
        ("20261123", "20261126", True),
        ("20271124", "20271126", True),
        ("20271125", "20271126", False),
        ("20240101", "20290101", True),
    ],
)
def test_the_edges_of_the_dates_are_theirs(begins: str, ends: str, touches: bool) -> None:
    event = f"SUMMARY:x\r\nDTSTART;VALUE=DATE:{begins}\r\nDTEND;VALUE=DATE:{ends}"
    assert bool(read(calendar(event))) is touches


def test_an_event_that_began_long_ago_and_repeats_until_now_is_read() -> None:
    event = "SUMMARY:Hull\r\nDTSTART;VALUE=DATE:20241202\r\nDTEND;VALUE=DATE:20241204\r\nRRULE:FREQ=YEARLY;UNTIL=20261231"
    assert [first for _, _, first, _ in read(calendar(event))] == [dt.date(2026, 12, 2)]


def test_what_an_alarm_says_is_no_part_of_its_event() -> None:
    alarm = "BEGIN:VALARM\r\nDURATION:PT15M\r\nSUMMARY:Pack\r\nDTSTART:20200101T000000Z\r\nEND:VALARM"
    event = f"SUMMARY:Porto\r\nDTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:20261205\r\n{alarm}"
    assert read(calendar(event)) == [("Porto", "Porto", dt.date(2026, 12, 3), dt.date(2026, 12, 4))]


@pytest.mark.parametrize(
    ("begins", "touches"), [("20261117", False), ("20261119", True), ("20271201", False)]
)
def test_an_event_that_says_how_long_it_lasts_is_read_while_it_does(begins: str, touches: bool) -> None:
    event = f"SUMMARY:x\r\nDTSTART;VALUE=DATE:{begins}\r\nDURATION:P1W"
    assert bool(read(calendar(event))) is touches


def test_a_date_that_nobody_can_read_is_told_and_not_passed_over() -> None:
    with pytest.raises(Refused, match="does not say on which date it begins"):
        read(calendar("SUMMARY:x\r\nDTSTART;VALUE=DATE:20261399"))


def test_repetitions_that_ended_years_ago_are_not_counted_among_the_events_to_come() -> None:
    over = "SUMMARY:Call\r\nDTSTART:20200101T080000Z\r\nDTEND:20200101T090000Z\r\nRRULE:FREQ=WEEKLY;UNTIL=20210101T000000Z"
    trip = "SUMMARY:Porto\r\nDTSTART;VALUE=DATE:20261203"
    assert [title for title, *_ in read(calendar(*[over] * (calendar_text.MOST_EVENTS + 1), trip))] == [
        "Porto"
    ]


def test_a_date_in_a_title_ends_nothing() -> None:
    event = "SUMMARY:Pass UNTIL=20200101\r\nDTSTART;VALUE=DATE:20261201\r\nDTEND;VALUE=DATE:20261203\r\nRRULE:FREQ=WEEKLY;COUNT=2"
    assert [first.day for _, _, first, _ in read(calendar(event))] == [1, 8]


def test_as_many_as_are_allowed_are_allowed() -> None:
    trips = [f"SUMMARY:{n}\r\nDTSTART;VALUE=DATE:20261203" for n in range(calendar_text.MOST_EVENTS)]
    assert len(read(calendar(*trips))) == calendar_text.MOST_EVENTS


def test_half_a_day_is_long_enough() -> None:
    spans = {
        hour: read(calendar(f"SUMMARY:x\r\nDTSTART:20261203T080000\r\nDTEND:20261203T{hour}0000"))
        for hour in (19, 20)
    }
    assert {hour: bool(found) for hour, found in spans.items()} == {19: False, 20: True}


@pytest.mark.timeout(20)
def test_a_calendar_of_ten_years_is_read_for_the_trips_to_come() -> None:
    """As phones export one: meetings with alarms, guests and notes, a few megabytes of them."""
    guests = "".join(f"ATTENDEE;CN=Guest {n}:mailto:guest{n}@example.org\r\n" for n in range(6))
    alarm = "BEGIN:VALARM\r\nTRIGGER:-PT15M\r\nACTION:DISPLAY\r\nEND:VALARM"
    meetings = [
        f"SUMMARY:Meeting\r\nDTSTART:{dt.date(2017, 1, 1) + dt.timedelta(days=n):%Y%m%d}T090000Z\r\n"
        f"DTEND:{dt.date(2017, 1, 1) + dt.timedelta(days=n):%Y%m%d}T100000Z\r\n{guests}DESCRIPTION:{'notes ' * 90}\r\n{alarm}"
        for n in range(3650)
    ]
    trip = "SUMMARY:Tour leg\r\nLOCATION:Lisbon\r\nDTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:20261208"
    data = calendar(*meetings, trip)
    assert 3_000_000 < len(data) <= calendar_text.LARGEST
    assert read(data) == [("Tour leg", "Lisbon", dt.date(2026, 12, 3), dt.date(2026, 12, 7))]


@pytest.mark.timeout(20)
@pytest.mark.parametrize(
    "padding",
    [
        "EXDATE:" + ",".join(["20261203T080000Z"] * 200_000),
        "\r\n".join(["EXDATE:20261203T080000Z"] * 100_000),
        "SUMMARY:" + "x" * 4_000_000,
    ],
    ids=["a long line", "many lines", "a long title"],
)
def test_an_event_too_large_to_be_a_trip_is_passed_over_and_the_others_are_read(padding: str) -> None:
    large = f"DTSTART;VALUE=DATE:20261203\r\nRRULE:FREQ=DAILY;COUNT=9\r\n{padding}"
    assert [title for title, *_ in read(calendar(large, "SUMMARY:Porto\r\nDTSTART;VALUE=DATE:20261203"))] == [
        "Porto"
    ]


def test_a_trip_that_repeats_a_few_times_is_read_each_time() -> None:
    event = "SUMMARY:Hull\r\nDTSTART;VALUE=DATE:20261201\r\nDTEND;VALUE=DATE:20261203\r\nRRULE:FREQ=WEEKLY;COUNT=3"
    assert [first for _, _, first, _ in read(calendar(event))] == [dt.date(2026, 12, n) for n in (1, 8, 15)]


OFF_DAY = "SUMMARY:Off\r\nDTSTART;VALUE=DATE:20240107\r\nRRULE:FREQ=WEEKLY"
BIRTHDAY = "SUMMARY:Ruben\r\nDTSTART;VALUE=DATE:16040229\r\nRRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29"
NIGHTS = "SUMMARY:Night shift\r\nDTSTART:20261101T200000Z\r\nDTEND:20261102T080000Z\r\nRRULE:FREQ=WEEKLY;BYDAY=MO,TU"
TO_PORTO = "SUMMARY:Porto\r\nDTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:20261205"


@pytest.mark.timeout(20)
def test_habits_without_end_are_no_trips_and_hide_none() -> None:
    """A calendar as people keep one: birthdays, days off and shifts that come back for ever."""
    data = calendar(*[OFF_DAY] * 30, *[BIRTHDAY] * 200, *[NIGHTS] * 10, TO_PORTO)
    reading = trip_file.read_spans(data, since=SINCE, until=UNTIL, zone="Europe/Lisbon")
    assert [span.title for span in reading.spans] == ["Porto"]
    assert (reading.left_out, reading.unread) == (240, ())


def test_a_rotation_without_end_is_read_for_the_dates_asked_about() -> None:
    """Two weeks out of six on the survey vessel, until further notice."""
    days = "DTSTART;VALUE=DATE:20250106\r\nDTEND;VALUE=DATE:20250120\r\nRRULE:FREQ=WEEKLY;INTERVAL=6"
    found = [(first, last) for _, _, first, last in read(calendar(f"SUMMARY:Survey\r\n{days}"))]
    assert found[:2] == [
        (dt.date(2026, 12, 21), dt.date(2027, 1, 3)),
        (dt.date(2027, 2, 1), dt.date(2027, 2, 14)),
    ]
    assert len(found) == 9


LONG_WEEKS = "SUMMARY:T\r\nDTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:20261210\r\nRRULE:"


@pytest.mark.timeout(20)
@pytest.mark.parametrize(
    "event",
    [
        LONG_WEEKS.replace("20261203", "00010101") + "FREQ=DAILY;UNTIL=20270101",
        LONG_WEEKS.replace("20261203", "00010101") + "FREQ=WEEKLY",
        LONG_WEEKS.replace("20261203", "19800101") + "FREQ=YEARLY;BYDAY=MO",
        LONG_WEEKS.replace("20261203", "19800101") + "FREQ=MONTHLY;BYDAY=MO,TU",
        LONG_WEEKS + "FREQ=SECONDLY",
        LONG_WEEKS + "FREQ=SECONDLY;COUNT=9",
        LONG_WEEKS + "FREQ=DAILY;COUNT=999999999",
        LONG_WEEKS + "FREQ=DAILY;INTERVAL=0;COUNT=9",
        LONG_WEEKS + "FREQ=MONTHLY;BYDAY=6MO;COUNT=9",
        LONG_WEEKS + "FREQ=MONTHLY;BYMONTHDAY=32;COUNT=9",
        LONG_WEEKS + "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30;COUNT=9",
    ],
)
def test_what_would_be_expanded_for_long_is_named_and_hides_no_trip(event: str) -> None:
    data = calendar(event, TO_PORTO)
    reading = trip_file.read_spans(data, since=SINCE, until=UNTIL, zone="Europe/Lisbon")
    assert ([span.title for span in reading.spans], reading.unread) == (["Porto"], ("T",))


@pytest.mark.timeout(20)
def test_so_many_that_come_back_are_followed_up_and_the_others_are_named() -> None:
    weekly = [f"{LONG_WEEKS}FREQ=DAILY".replace(":T", f":Tour {n}") for n in range(300)]
    reading = trip_file.read_spans(
        calendar(*weekly, TO_PORTO), since=SINCE, until=UNTIL, zone="Europe/Lisbon"
    )
    assert len({span.title for span in reading.spans}) == 21
    assert len(reading.unread) == 280


@pytest.mark.timeout(20)
def test_a_zone_definition_in_the_file_is_not_obeyed() -> None:
    """Reading a time by two rules that tick every second since 1970 would take the library minutes."""
    rules = "".join(
        f"BEGIN:{kind}\r\nDTSTART:19700101T000000\r\nTZOFFSETFROM:{before}\r\nTZOFFSETTO:{after}\r\n"
        f"RRULE:FREQ=SECONDLY\r\nEND:{kind}\r\n"
        for kind, before, after in (("STANDARD", "+1000", "+0900"), ("DAYLIGHT", "+0900", "+1000"))
    )
    bomb = f"BEGIN:VTIMEZONE\r\nTZID:Harbour\r\n{rules}END:VTIMEZONE\r\nBEGIN:VEVENT".encode()
    event = "SUMMARY:Away\r\nDTSTART;TZID=Harbour:20261203T080000\r\nDTEND;TZID=Harbour:20261206T080000"
    data = calendar(event).replace(b"BEGIN:VEVENT", bomb, 1)
    assert read(data)[0][2:] == (dt.date(2026, 12, 3), dt.date(2026, 12, 6))


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "not a calendar"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "not a calendar"),
        (b"Dear coach, I am in Lisbon", "not a calendar"),
        (b"BEGIN:VCALENDAR\r\n" + b"X-A:" + b"x" * calendar_text.LARGEST, "larger than 5 MB"),
        (b"BEGIN:VCALENDAR\r\n" * 50, "nested too deeply"),
        (calendar(*["SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203"] * 1001), "more than 1000 events"),
    ],
)
def test_what_cannot_be_read_is_refused_in_words(data: bytes, says: str) -> None:
    with pytest.raises(Refused, match=says):
        read(data)


@pytest.mark.parametrize(
    "event",
    [
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261299",
        "SUMMARY:x\r\nDTSTART:yesterday",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nDTEND:20261205T000000Z",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261205\r\nDTEND;VALUE=DATE:20261203",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nDURATION:soon",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nRRULE:FREQ=DAILY;COUNT=x",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nRRULE:COUNT=3",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nRRULE:FREQ=DAILY;COUNT=2\r\nRRULE:FREQ=DAILY",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nDTSTART;VALUE=DATE:20261204",
        "SUMMARY:x\r\nDTSTART;TZID=Nowhere/Town:20261203T080000\r\nDTEND;TZID=Nowhere/Town:20261206T080000",
        "SUMMARY:x\r\nDTSTART;TZID=Nowhere/Town:20261203T080000\r\nDTEND:20261206T080000Z",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:99991231",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:00010101\r\nDTEND;VALUE=DATE:99991231",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nDURATION:P99999999D",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nEXDATE:never",
        "SUMMARY:x\r\nDTSTART;VALUE=DATE:20261203\r\nRDATE;VALUE=PERIOD:20261203T000000Z/P1D",
        "SUMMARY:x\r\nDTSTART:20261203T080000Z\r\nDTSTART:20261203T080000Z\r\nDURATION:P3D",
        "SUMMARY:x\r\nRECURRENCE-ID;VALUE=DATE:20261203\r\nDTSTART;VALUE=DATE:20261203",
    ],
)
def test_a_crooked_event_is_read_or_refused_and_never_breaks(event: str) -> None:
    spans: list[tuple[str, str, dt.date, dt.date]] = []
    with contextlib.suppress(Refused):
        spans = read(calendar(event))
    assert all(first <= last for _, _, first, last in spans)
