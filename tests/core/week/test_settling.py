"""Who may choose which number, and until when."""

import datetime as dt

import pytest

from core.calendar.weeks import IsoWeek
from core.week import settling
from tests.core.week.some_weeks import WEEK, life, trip, utc

# coach and client many zones apart; the digest is at Sunday 18:00 of the coach (29 November 2026), in UTC here
LISBON, LOS_ANGELES, AUCKLAND, HONOLULU = (
    "2026-11-29T18:00",
    "2026-11-30T02:00",
    "2026-11-29T05:00",
    "2026-11-30T04:00",
)


@pytest.mark.parametrize(
    ("zone", "asked", "closes"),
    [
        # the later of the client's Sunday 20:00 and two hours after the digest
        ("Europe/Lisbon", LISBON, "2026-11-29T20:00"),
        ("Europe/Lisbon", "2026-11-29T19:30", "2026-11-29T21:30"),
        ("America/New_York", LISBON, "2026-11-30T01:00"),
        ("Pacific/Honolulu", LISBON, "2026-11-30T06:00"),
        ("Europe/Lisbon", AUCKLAND, "2026-11-29T20:00"),
        ("Europe/Helsinki", LOS_ANGELES, "2026-11-30T04:00"),
        ("Europe/Lisbon", HONOLULU, "2026-11-30T06:00"),
        # and by their Monday 06:00
        ("Asia/Tokyo", "2026-11-29T20:00", "2026-11-29T21:00"),
        ("Europe/Moscow", LOS_ANGELES, "2026-11-30T03:00"),
        # asked a day ahead, the client's own Sunday evening counts
        ("Pacific/Auckland", "2026-11-29T02:00", "2026-11-29T07:00"),
        ("Pacific/Kiritimati", "2026-11-28T18:00", "2026-11-29T06:00"),
        # after an outage, on a Monday that has begun: at once
        ("Europe/Lisbon", "2026-12-02T09:00", "2026-12-02T09:00"),
    ],
)
def test_settling_closes(zone: str, asked: str, closes: str) -> None:
    assert settling.settle_by(utc(asked), WEEK, life(zone)) == utc(closes)


@pytest.mark.parametrize(
    ("zone", "digest", "early"),
    [
        ("Europe/Lisbon", LISBON, False),
        ("America/Los_Angeles", LISBON, False),
        ("Asia/Tokyo", LISBON, False),
        ("Asia/Tokyo", "2026-11-29T19:00", False),
        ("Asia/Tokyo", "2026-11-29T19:01", True),
        ("Pacific/Auckland", LISBON, True),
        ("Pacific/Kiritimati", LISBON, True),
        ("Pacific/Auckland", LOS_ANGELES, True),
        ("Europe/Lisbon", LOS_ANGELES, False),
        ("Europe/Moscow", LOS_ANGELES, True),
        ("Pacific/Auckland", AUCKLAND, False),
    ],
)
def test_the_far_east_is_in_a_short_list_a_day_ahead(zone: str, digest: str, early: bool) -> None:
    assert settling.needs_short_list(utc(digest), WEEK, life(zone)) is early


@pytest.mark.parametrize("zone", ["Pacific/Kiritimati", "Pacific/Auckland", "Asia/Tokyo", "Europe/Moscow"])
@pytest.mark.parametrize("digest", [LISBON, LOS_ANGELES, HONOLULU])
def test_a_day_ahead_leaves_two_hours(zone: str, digest: str) -> None:
    asked = utc(digest)
    if settling.needs_short_list(asked, WEEK, life(zone)):
        asked -= settling.A_DAY_AHEAD
    assert settling.settle_by(asked, WEEK, life(zone)) - asked >= settling.TIME_TO_SETTLE


def test_a_monday_morning_that_a_flight_takes_is_the_next_one_lived() -> None:
    flown = life("Pacific/Honolulu", trip("Pacific/Kiritimati", "2026-12-01", "2026-12-06"))
    # A day before: Monday is cut short at 10:00 UTC.
    assert settling.last_moment(WEEK, flown) == utc("2026-11-30T16:00")


@pytest.mark.parametrize(
    ("home", "flown", "coming", "digest", "early", "closes"),
    [
        # Sunday is lived twice: Kiritimati, then Honolulu. Its first evening is over at the digest, so two hours after it hold
        (
            "Pacific/Honolulu",
            ("Pacific/Kiritimati", "2026-11-20", "2026-11-29"),
            WEEK,
            LISBON,
            False,
            "2026-11-29T20:00",
        ),
        # A flight from Honolulu to Kiritimati takes the whole Sunday (24:00 of Saturday there is 00:00 of Monday here): so it
        # closes at Monday 06:00, which is 16:00 UTC of Sunday
        (
            "Pacific/Kiritimati",
            ("Pacific/Honolulu", "2026-11-20", "2026-11-28"),
            WEEK,
            LISBON,
            True,
            "2026-11-29T16:00",
        ),
        # Apia skipped Friday 30 December 2011; its Sunday evening and Monday morning are of the new side of the line
        ("Pacific/Apia", None, IsoWeek(2012, 1), "2012-01-01T18:00", True, "2012-01-01T06:00"),
        # and in the week before, Sunday was still on the old one
        ("Pacific/Apia", None, IsoWeek(2011, 52), "2011-12-25T18:00", False, "2011-12-26T06:00"),
    ],
)
def test_dates_that_are_skipped_or_lived_twice(
    home: str,
    flown: tuple[str, str, str] | None,
    coming: IsoWeek,
    digest: str,
    early: bool,
    closes: str,
) -> None:
    here = life(home) if flown is None else life(home, trip(*flown))
    assert settling.needs_short_list(utc(digest), coming, here) is early
    asked = settling.asked_at(utc(digest), coming, here)
    assert settling.settle_by(asked, coming, here) == utc(closes)


@pytest.mark.parametrize(
    ("recommended", "last", "without_me", "floor", "talk_first", "stands"),
    [
        (3, 2, False, None, False, 2),  # the lower of the two
        (2, 3, False, None, False, 2),
        (3, 3, False, None, False, 3),
        (3, None, False, None, False, 3),  # a first promise
        (3, 2, True, None, False, 3),  # 'raise without me'
        (2, 3, True, None, False, 2),
        (2, 4, False, 2, True, 2),  # 'talk first' assumes the floor
        (2, 1, True, 2, True, 2),
        (2, 1, False, 2, True, 2),  # even above the last promise: the coach has set it
        (2, 3, False, 2, False, 2),
        (0, 3, True, None, False, 0),  # out of reach all week
    ],
)
def test_what_is_assumed_when_the_coach_did_not_settle(
    recommended: int, last: int | None, without_me: bool, floor: int | None, talk_first: bool, stands: int
) -> None:
    assert (
        settling.assumed(recommended, last, raise_without_me=without_me, floor=floor, talk_first=talk_first)
        == stands
    )


@pytest.mark.parametrize(
    ("recommended", "if_done", "last", "kept", "may_raise", "holds"),
    [
        (3, 4, 3, True, True, 4),
        (3, 4, 3, False, True, 3),
        (3, 4, 3, True, False, 3),  # more were short than done: no raise
        (2, 3, 3, True, False, 3),  # back to the last promise is no raise
        (2, 3, None, True, False, 3),
        (2, 4, 3, True, False, 3),
        (4, 4, 3, True, False, 4),
    ],
)
def test_which_of_two_cases_holds(
    recommended: int, if_done: int, last: int | None, kept: bool, may_raise: bool, holds: int
) -> None:
    assert settling.resolved(recommended, if_done, last, kept=kept, may_raise=may_raise) == holds


@pytest.mark.parametrize(
    ("settled", "last", "needs", "stands"),
    [
        (3, 3, False, 3),
        (4, 3, False, 4),
        (5, 3, True, 3),
        (7, 1, True, 1),
        (2, 3, False, 2),
        (5, None, False, 5),
        (0, 3, False, 0),
    ],
)
def test_more_than_one_above_needs_the_clients_own_yes(
    settled: int, last: int | None, needs: bool, stands: int
) -> None:
    assert settling.needs_yes(settled, last) is needs
    assert settling.without_answer(settled, last) == stands


@pytest.mark.parametrize(
    ("number", "settled", "free"), [(0, 3, False), (1, 3, True), (3, 3, True), (4, 3, False), (1, 0, False)]
)
def test_less_is_the_clients_to_choose(number: int, settled: int, free: bool) -> None:
    assert settling.is_free_to_choose(number, settled) is free


@pytest.mark.parametrize(("number", "becomes"), [(-1, 0), (0, 0), (7, 7), (8, 7)])
def test_a_number_stays_within_a_week(number: int, becomes: int) -> None:
    assert settling.clamp(number) == becomes


@pytest.mark.parametrize(
    ("number", "left", "begun", "holds"),
    [(3, 1, True, 1), (3, 1, False, 3), (1, 3, True, 1), (3, 0, True, 0)],
)
def test_a_week_that_begins_late_holds_what_its_days_hold(
    number: int, left: int, begun: bool, holds: int
) -> None:
    assert settling.late(number, left, begun=begun) == holds


@pytest.mark.parametrize(("number", "ended", "lowest"), [(1, 0, 1), (1, 2, 2), (3, 2, 3)])
def test_a_week_is_never_lowered_below_what_has_ended(number: int, ended: int, lowest: int) -> None:
    assert settling.least(number, ended) == lowest


def test_monday_noon_is_the_clients_own() -> None:
    assert life("Pacific/Auckland").first_lived(WEEK.monday, settling.MONDAY_NOON) == utc("2026-11-29T23:00")
    assert dt.time(12) == settling.MONDAY_NOON
