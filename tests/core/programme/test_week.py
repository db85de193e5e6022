"""What each session of a week carries."""

import datetime as dt

import pytest

from core.programme.session import Emphasis
from core.programme.week import Trained, extra_session, most_overdue, plan_week
from core.terms import Block, Pattern

MONDAY = dt.date(2027, 3, 1)
LAST_WEEK = [
    Trained(MONDAY - dt.timedelta(days=6), frozenset({Pattern.HINGE, Pattern.PULL})),
    Trained(MONDAY - dt.timedelta(days=4), frozenset({Pattern.SQUAT, Pattern.PUSH, Pattern.ROTATION})),
]


def patterns_of(week: tuple[object, ...]) -> set[Pattern]:
    return {pattern for each in week for pattern in each.patterns}  # type: ignore[attr-defined]


@pytest.mark.parametrize("promise", range(1, 8))
def test_a_week_covers_all_five(promise: int) -> None:
    week = plan_week(promise=promise, left=promise, monday=MONDAY, block=Block.STRENGTH, trained=LAST_WEEK)
    assert len(week) == promise
    assert patterns_of(week) == set(Pattern)


def test_one_session_holds_all_two_split_legs_and_arms() -> None:
    (only,) = plan_week(promise=1, left=1, monday=MONDAY, block=Block.STRENGTH, trained=LAST_WEEK)
    assert set(only.patterns) == set(Pattern)
    first, second = plan_week(promise=2, left=2, monday=MONDAY, block=Block.STRENGTH, trained=LAST_WEEK)
    assert set(first.patterns) == {Pattern.HINGE, Pattern.PULL, Pattern.ROTATION}
    assert set(second.patterns) == {Pattern.SQUAT, Pattern.PUSH, Pattern.ROTATION}


def test_the_most_overdue_comes_first() -> None:
    first, *_ = plan_week(promise=3, left=3, monday=MONDAY, block=Block.STRENGTH, trained=LAST_WEEK)
    assert first.patterns[0] in {Pattern.HINGE, Pattern.PULL}
    never_pulled = [Trained(MONDAY - dt.timedelta(days=2), frozenset(Pattern) - {Pattern.PULL})]
    pull_never = {p: (None if p is Pattern.PULL else MONDAY) for p in Pattern}
    assert most_overdue(pull_never, dict.fromkeys(Pattern))[0] is Pattern.PULL
    first, *_ = plan_week(promise=3, left=3, monday=MONDAY, block=Block.STRENGTH, trained=never_pulled)
    assert first.patterns[0] is Pattern.PULL


def test_what_was_missed_moves_into_the_next_and_the_client_sees_why() -> None:
    first, second = plan_week(promise=2, left=2, monday=MONDAY, block=Block.STRENGTH, trained=LAST_WEEK)
    (repaired,) = plan_week(
        promise=2,
        left=1,
        monday=MONDAY,
        block=Block.STRENGTH,
        trained=LAST_WEEK,
        missed=[frozenset(first.patterns)],
    )
    assert set(repaired.patterns) == set(first.patterns) | set(second.patterns)
    assert repaired.why == "Hinge, pull and rotation moved here from the session that was missed."
    done = [*LAST_WEEK, Trained(MONDAY, frozenset(first.patterns))]
    (usual,) = plan_week(promise=2, left=1, monday=MONDAY, block=Block.STRENGTH, trained=done)
    assert usual.why == ""
    assert Pattern.HINGE not in usual.patterns


def test_every_pattern_is_covered_after_any_misses() -> None:
    for promise in range(2, 8):
        for left in range(1, promise):
            week = plan_week(
                promise=promise, left=left, monday=MONDAY, block=Block.HYPERTROPHY, trained=LAST_WEEK
            )
            assert patterns_of(week) == set(Pattern), (promise, left)


def test_two_or_three_take_one_emphasis_and_swap_it_the_week_after() -> None:
    for promise in (2, 3):
        emphases = []
        for week in range(4):
            monday = MONDAY + dt.timedelta(weeks=week)
            planned = plan_week(
                promise=promise, left=promise, monday=monday, block=Block.STRENGTH, trained=LAST_WEEK
            )
            (emphasis,) = {each.emphasis for each in planned}
            emphases.append(emphasis)
        assert emphases[0] == emphases[2] != emphases[1] == emphases[3]


def test_from_five_both_are_balanced() -> None:
    for promise in (5, 6, 7):
        week = plan_week(
            promise=promise, left=promise, monday=MONDAY, block=Block.STRENGTH, trained=LAST_WEEK
        )
        conditioning = sum(each.emphasis is Emphasis.CONDITIONING for each in week)
        assert promise - conditioning >= conditioning >= 2


def test_a_taper_has_no_conditioning() -> None:
    week = plan_week(promise=5, left=5, monday=MONDAY, block=Block.TAPER, trained=LAST_WEEK)
    assert {each.emphasis for each in week} == {Emphasis.STRENGTH}


def test_an_extra_gets_what_is_left() -> None:
    some = [*LAST_WEEK, Trained(MONDAY, frozenset({Pattern.SQUAT, Pattern.PUSH, Pattern.PULL}))]
    assert extra_session(some, MONDAY, Block.STRENGTH).patterns == (Pattern.HINGE, Pattern.ROTATION)
    every = [*some, Trained(MONDAY + dt.timedelta(days=2), frozenset({Pattern.HINGE, Pattern.ROTATION}))]
    assert set(extra_session(every, MONDAY, Block.STRENGTH).patterns) <= {
        Pattern.SQUAT,
        Pattern.PUSH,
        Pattern.PULL,
    }
    assert extra_session(every, MONDAY, Block.STRENGTH).emphasis is Emphasis.CONDITIONING


def test_of_equals_the_one_that_led_longest_ago_leads() -> None:
    led: list[Pattern] = []
    trained: list[Trained] = []
    for week in range(5):
        monday = MONDAY + dt.timedelta(weeks=week)
        (only,) = plan_week(promise=1, left=1, monday=monday, block=Block.STRENGTH, trained=trained)
        lead = next(pattern for pattern in only.patterns if pattern is not Pattern.ROTATION)
        led.append(lead)
        trained.append(Trained(monday, frozenset(only.patterns), lead))
    assert set(led[:4]) == {Pattern.SQUAT, Pattern.HINGE, Pattern.PUSH, Pattern.PULL}
    assert led[4] is led[0]
