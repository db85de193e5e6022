import datetime as dt

import icalendar

from core.calendar.feed import Entry, write_feed

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def entry(**changes: object) -> Entry:
    usual = {
        "key": "ask-7",
        "revision": 2,
        "day": dt.date(2026, 12, 3),
        "begins": dt.datetime(2026, 12, 2, 23, tzinfo=dt.UTC),
        "minutes": 45,
        "title": "Session, 45 min; hotel gym",
        "text": "07:00 in Singapore\nShow the session in the chat.",
    }
    return Entry(**(usual | changes))  # type: ignore[arg-type]


def test_the_feed_reads_back_as_what_was_written() -> None:
    feed = icalendar.Calendar.from_ical(write_feed([entry()], name="Ines <b> & co", revised_at=NOON))
    (event,) = feed.walk("VEVENT")
    assert str(event["UID"]) == "ask-7@keptword"
    assert event.decoded("SEQUENCE") == 2
    assert event.decoded("DTSTART") == dt.datetime(2026, 12, 2, 23, tzinfo=dt.UTC)
    assert event.decoded("DURATION") == dt.timedelta(minutes=45)
    assert str(event["SUMMARY"]) == "Session, 45 min; hotel gym"
    assert str(event["DESCRIPTION"]) == "07:00 in Singapore\nShow the session in the chat."
    assert str(feed["X-WR-CALNAME"]) == "Ines <b> & co"


def test_a_moved_ask_keeps_its_name_and_raises_its_revision() -> None:
    before, after = (
        write_feed([each], name="x", revised_at=NOON) for each in (entry(), entry(revision=3, begins=NOON))
    )
    assert b"UID:ask-7@keptword" in before
    assert b"UID:ask-7@keptword" in after
    assert b"SEQUENCE:3" in after


def test_an_ask_without_an_hour_fills_its_local_day_wherever_it_is_looked_at() -> None:
    feed = write_feed([entry(begins=None)], name="x", revised_at=NOON)
    assert b"DTSTART;VALUE=DATE:20261203\r\n" in feed
    assert b"TRANSP:TRANSPARENT" in feed


def test_the_feed_is_the_same_for_the_same_asks_and_folds_long_lines() -> None:
    long = [entry(title="Squat and pull " * 20, text="a\x00b\x1b")]
    feed = write_feed(long, name="x", revised_at=NOON)
    assert feed == write_feed(long, name="x", revised_at=NOON)
    assert max(len(line) for line in feed.split(b"\r\n")) <= 75
    assert b"\x00" not in feed
    assert b"\x1b" not in feed


def test_a_calendar_is_told_to_look_again_within_the_hour() -> None:
    """RFC 7986 §5.7."""
    assert b"REFRESH-INTERVAL;VALUE=DURATION:PT1H" in write_feed([], name="x", revised_at=NOON)


def test_an_empty_feed_is_a_calendar_still() -> None:
    assert not icalendar.Calendar.from_ical(write_feed([], name="x", revised_at=NOON)).walk("VEVENT")
