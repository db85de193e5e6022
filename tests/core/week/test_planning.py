"""Which days a promise falls on, and changing the layout."""

import datetime as dt
import itertools
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calendar.weeks import IsoWeek
from core.terms import Outcome
from core.week.count import of_promise
from core.week.model import Ask
from core.week.planning import PastDays, askable_days, choose_days, preference, usable_days
from core.week.replanning import come_back, lay_out, new_ask, withdraw
from tests.core.week.some_weeks import WEEK, ask, asks, days, life, prompted, told, trip, utc


@pytest.mark.parametrize(
    ("number", "preferred", "usable", "chosen"),
    [
        (2, [1, 3, 5], "mon tue wed thu fri sat sun", "mon wed"),
        (3, [5, 3, 1], "mon tue wed thu fri sat sun", "mon wed fri"),
        (2, [5, 3, 1], "mon tue wed thu fri sat sun", "wed fri"),  # in the order of preference
        (2, [1, 3], "mon thu fri", "mon fri"),  # what cannot be is replaced by the farthest
        (3, [1, 3, 5], "mon tue", "mon tue"),  # no more than there are
        (0, [1, 3], "mon tue", ""),
        (1, [], "tue fri", "tue"),
        (2, [2, 2, 2], "mon tue wed thu fri sat sun", "tue sun"),
        (7, [1], "mon tue wed thu fri sat sun", "mon tue wed thu fri sat sun"),
        (2, [1, 3], "", ""),
    ],
)
def test_the_days_that_are_chosen(number: int, preferred: list[int], usable: str, chosen: str) -> None:
    assert choose_days(number, preferred, days(usable)) == days(chosen)


@given(st.lists(st.integers(1, 7), max_size=7), st.sets(st.sampled_from(WEEK.days())))
def test_one_session_more_never_moves_the_others(preferred: list[int], usable: set[dt.date]) -> None:
    chosen = [set(choose_days(number, preferred, sorted(usable))) for number in range(8)]
    assert all(fewer <= more for fewer, more in itertools.pairwise(chosen))
    assert [len(c) for c in chosen] == [min(n, len(usable)) for n in range(8)]


@pytest.mark.parametrize(
    ("last", "habit", "usual", "number", "begins"),
    [
        ([2, 4], {}, [1, 3, 5], 2, [2, 4]),  # last week's days go first
        ([], {}, [1, 3, 5], 2, [1, 3, 5]),
        ([], {}, [], 3, [1, 3, 5]),
        ([2], {}, [1, 3], 3, [2, 1, 3]),
        ([], {}, [], 0, [1]),
        ([], {}, [], 9, [1, 2, 3, 4, 5, 6, 7]),
        # a promise that shrinks keeps what is used most, not the first of the week
        ([1, 3, 5], {1: 2, 3: 9, 5: 8}, [], 2, [3, 5, 1]),
        ([1, 2, 3], {1: 4, 2: 4, 3: 4}, [], 2, [1, 3, 2]),  # of equals, spread out
        # and one that grows takes the usual day that is used most
        ([1, 3], {1: 9, 3: 9, 5: 2, 6: 5}, [], 3, [1, 3, 6, 5]),
        ([1, 3], {1: 9, 3: 9, 6: 1}, [1, 3, 5], 3, [1, 3, 5, 6]),  # once on a Saturday is no habit
        ([], {2: 1, 4: 3}, [2, 4], 2, [4, 2]),
    ],
)
def test_what_is_preferred(
    last: list[int], habit: dict[int, int], usual: list[int], number: int, begins: list[int]
) -> None:
    assert preference(PastDays(last_week=tuple(last), habit=habit), usual, number)[: len(begins)] == begins


def test_days_that_are_over_out_of_reach_or_paused_are_not_usable() -> None:
    at_sea = trip("Europe/Lisbon", "2026-12-03", "2026-12-04", in_reach=False)
    assert usable_days(WEEK, life("Europe/Lisbon", at_sea), not_before=days("tue")[0]) == days(
        "tue wed sat sun"
    )
    paused = life(paused_until=days("wed")[0])
    assert usable_days(WEEK, paused, not_before=WEEK.monday) == days("thu fri sat sun")


@pytest.mark.parametrize(
    ("hour", "at", "first"),
    [
        (dt.time(7), "2026-11-29T20:00", "mon"),
        (dt.time(6), "2026-11-29T19:59", "mon"),  # who trains at six hears at 20:00 of the evening before
        (dt.time(6), "2026-11-29T20:01", "tue"),  # too late to tell them
        (dt.time(18), "2026-12-01T17:00", "tue"),
        (dt.time(18), "2026-12-01T17:31", "wed"),
    ],
)
def test_a_day_that_can_no_longer_be_told_in_time_is_not_planned(hour: dt.time, at: str, first: str) -> None:
    assert askable_days(WEEK, life(), hour, at=utc(at))[0] == days(first)[0]


@pytest.mark.parametrize(
    ("words", "wanted", "number", "becomes", "new"),
    [
        ("", "mon wed", 2, "", "mon wed"),
        ("mon open, wed open", "mon wed", 2, "mon open, wed open", ""),
        ("mon open, wed open", "tue thu", 2, "tue open, thu open", ""),
        ("mon open, wed open", "mon", 1, "mon open, wed withdrawn", ""),
        ("mon open", "mon wed fri", 3, "mon open", "wed fri"),
        ("mon done, wed open", "thu fri", 2, "mon done, thu open", ""),  # what has ended counts
        ("mon done, wed open", "mon fri", 2, "mon done, fri open", ""),
        ("mon done, tue done", "wed thu fri", 2, "mon done, tue done", ""),
        ("wed open, wed open", "wed wed", 2, "wed open, wed open", ""),  # both on a day stay both
        ("wed done, wed open", "wed", 2, "wed done, wed open", ""),
        ("mon open, wed open", "", 0, "mon withdrawn, wed withdrawn", ""),
        ("mon withdrawn", "mon", 1, "mon withdrawn", "mon"),
        ("mon extra", "mon", 1, "mon extra", "mon"),  # an extra takes no place
        ("mon excused, wed open", "wed fri", 2, "mon excused, wed open", ""),
    ],
)
def test_a_week_is_laid_out_again(words: str, wanted: str, number: int, becomes: str, new: str) -> None:
    before = asks(words)
    layout = lay_out(before, days(wanted), dt.time(7), 45, number=number)
    changed = {a.id: a for a in layout.changed}
    assert told([changed.get(a.id, a) for a in before]) == becomes
    assert list(layout.new_days) == days(new)


def test_the_weekly_message_of_a_silent_week_is_no_session() -> None:
    layout = lay_out([ask(1, "sun", weekly=True)], days("thu"), dt.time(7), 45, number=1)
    assert [a.withdrawn for a in layout.changed] == [True]
    assert list(layout.new_days) == days("thu")


def test_what_stays_keeps_its_revision_and_what_moves_does_not() -> None:
    layout = lay_out(asks("mon open, wed open"), days("mon thu"), dt.time(7), 30, number=2)
    assert [(a.id, a.revision, a.minutes) for a in layout.changed] == [(1, 0, 30), (2, 1, 30)]


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["mon", "tue", "wed", "thu", "fri", "sat", "sun"]),
            st.sampled_from(["open", "done", "missed", "excused", "withdrawn", "extra"]),
        ),
        max_size=7,
    ),
    st.lists(st.sampled_from(WEEK.days()), max_size=7),
    st.integers(0, 7),
)
def test_a_week_never_holds_more_asks_than_promised(
    held: list[tuple[str, str]], wanted: list[dt.date], number: int
) -> None:
    before = [ask(n, *each) for n, each in enumerate(held, 1)]
    layout = lay_out(before, wanted, dt.time(7), 45, number=number)
    changed = {a.id: a for a in layout.changed}
    after = of_promise([*(changed.get(a.id, a) for a in before), *(_new(d) for d in layout.new_days)])
    ended = [a for a in of_promise(before) if not a.is_open]
    assert len(after) <= max(number, len(ended))
    assert all(a in after for a in ended)
    assert all(a.day in WEEK for a in after)


def _new(day: dt.date) -> Ask:
    return new_ask(1, IsoWeek.of(day), day, dt.time(7), 45)


def test_what_is_withdrawn_is_not_asked() -> None:
    gone = withdraw(prompted(ask(1, "mon"), "2026-11-30T06:30"))
    assert (gone.withdrawn, gone.is_open, gone.needs_prompt, gone.revision) == (True, False, False, 1)


@pytest.mark.parametrize(
    ("gone", "standing", "number", "back"),
    [
        ("tue thu", "", 2, "tue thu"),
        ("tue thu", "sat", 2, "tue"),  # the promise has room for one
        ("tue thu", "sat sun", 2, ""),
        ("tue thu", "thu", 3, "tue"),  # that day holds another by now
        ("tue", "", 0, ""),  # nothing is promised
    ],
)
def test_what_a_trip_had_taken_comes_back_as_far_as_there_is_room(
    gone: str, standing: str, number: int, back: str
) -> None:
    week = [ask(n, name, "withdrawn") for n, name in enumerate(gone.split())]
    week += [ask(10 + n, name) for n, name in enumerate(standing.split())]
    found = come_back(week, number, lambda _: True)
    assert [one.day for one in found] == days(back)
    assert all(one.is_open and one.needs_prompt for one in found)


@pytest.mark.parametrize(
    "more",
    [{"extra": True}, {"weekly": True}, {"prompted": 0}, {"outcome": Outcome.EXCUSED}, {"withdrawn": False}],
)
def test_nothing_else_comes_back(more: dict[str, object]) -> None:
    assert come_back([replace(ask(1, "tue", "withdrawn"), **more)], 3, lambda _: True) == []  # type: ignore[arg-type]
    assert come_back([ask(1, "tue", "withdrawn")], 3, lambda _: False) == []
