"""Any calendar at all: what must hold of every plan, and what is read in the awkward ones."""

import datetime as dt

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.programme.year.coming_up import WEEK, ComingUp, Kind, monday_of, read_coming_up
from core.programme.year.lay_out import weeks_of
from core.programme.year.lengths import HARD, LENGTHS, LONG_REST
from core.programme.year.plan import PlannedBlock, YearPlan, lay_out_year
from core.terms import Block
from tests.core.programme.year.test_plan import MONDAY, assert_sound, event, holiday, longest_hard_run

SUNDAY = dt.timedelta(days=6)
HEAD = "name,from,to,kind,importance,wants"


@st.composite
def calendars(draw: st.DrawFn) -> tuple[list[ComingUp], int]:
    """Up to four events, two holidays (which may meet, but not overlap) and a trip, in one to thirty-two weeks."""
    count = draw(st.integers(1, 32))
    week, kind = st.integers(1, count), st.sampled_from(sorted(HARD))
    events = draw(st.lists(st.tuples(week, kind, st.integers(1, 3)), max_size=4))
    found = [event(f"E{n}", *each) for n, each in enumerate(events)]
    first = draw(week)
    length = draw(st.integers(1, 9))
    if draw(st.booleans()):
        found.append(holiday("Leave", first, length))
    if draw(st.booleans()):
        found.append(holiday("Second leave", first + length, draw(st.integers(1, 3))))
    if draw(st.booleans()):
        away = MONDAY + draw(week) * WEEK
        last = away + dt.timedelta(days=draw(st.integers(0, 150)))
        found.append(ComingUp(name="Tour", first=away, last=last, kind=Kind.TRIP))
    return found, count


@pytest.mark.timeout(600)  # a machine that does other things besides
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(calendars())
def test_every_plan_is_whole_and_says_what_it_could_not_give(calendar: tuple[list[ComingUp], int]) -> None:
    found, count = calendar
    plan = lay_out_year(found, MONDAY, count)
    assert_sound(plan)
    given_up = " ".join(lost.what for lost in plan.given_up)
    for each in found:
        if each.kind is Kind.EVENT and MONDAY <= each.first < MONDAY + count * WEEK:
            assert _ends_in_its_week(plan, each) or f"for {each.name}" in given_up
    for index, block in enumerate(plan.blocks):
        usual = LENGTHS[block.block].usual
        assert block.weeks <= usual[1]
        if block.block in HARD and block.weeks < usual[0]:
            assert f"a whole block of {block.block} from {block.first}" in given_up
        if _back_from_a_lay_off(plan.blocks[:index]) and block.block is not Block.REST:
            assert block.block is Block.RETURN or f"a whole return from {block.first}" in given_up
    assert all(lost.what and lost.why for lost in plan.given_up)
    assert all("\n" not in lost.why and "  " not in lost.why for lost in plan.given_up)


def _ends_in_its_week(plan: YearPlan, each: ComingUp) -> bool:
    block = plan.block_on(each.first)
    assert block is not None
    return block.last == monday_of(each.first) + SUNDAY and block.block is not Block.REST


def _back_from_a_lay_off(before: tuple[PlannedBlock, ...]) -> bool:
    off = 0
    for each in reversed(before):
        if each.block is not Block.REST:
            break
        off += each.weeks
    return off >= LONG_REST


@pytest.mark.timeout(600)  # a machine that does other things besides
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(calendars())
def test_nobody_rests_for_nothing(calendar: tuple[list[ComingUp], int]) -> None:
    """A week of rest is a holiday's, or follows a peak: never a way to avoid something."""
    found, count = calendar
    plan = lay_out_year(found, MONDAY, count)
    weeks = weeks_of(found, MONDAY, count)
    for week in range(count):
        block = plan.block_on(MONDAY + week * WEEK)
        assert block is not None
        if block.block is Block.REST and not weeks.off[week]:
            peak = weeks.events[week - 1] if week else None
            assert peak is not None
            assert peak.importance == 3


def laid(rows: str, weeks: int) -> YearPlan:
    plan = lay_out_year(read_coming_up(f"{HEAD}\n{rows}\n".encode(), MONDAY, weeks), MONDAY, weeks)
    assert_sound(plan)
    return plan


def told(plan: YearPlan) -> list[tuple[str, int]]:
    return [(str(each.block), each.weeks) for each in plan.blocks]


def test_an_event_in_a_holiday_is_led_up_to_and_given_up() -> None:
    """No weeks are rested away to let a rest 'end' at the event, and what it wants is trained before the holiday."""
    plan = laid("Wedding cup,2027-03-20,,event,3,strength\nEaster leave,2027-03-15,2027-03-28,holiday,,", 20)
    rest = next(each for each in plan.blocks if each.block is Block.REST)
    assert (rest.first, rest.last) == (dt.date(2027, 3, 15), dt.date(2027, 3, 28))
    assert plan.blocks[plan.blocks.index(rest) - 1].block is Block.STRENGTH
    assert [lost.what for lost in plan.given_up] == ["strength for Wedding cup"]
    assert "Easter leave" in plan.given_up[0].why


def test_two_peaks_a_week_apart() -> None:
    plan = laid("Regatta,2027-04-10,,event,3,power\nGala,2027-04-17,,event,3,strength", 26)
    order = told(plan)
    assert ("taper", 3) in order
    assert order[order.index(("taper", 3)) + 1] == ("strength", 1)
    assert [lost.what for lost in plan.given_up] == [
        "strength for Gala",
        "a whole block of strength from 2027-04-12",
    ]


def test_an_event_in_the_first_week() -> None:
    plan = laid("Opening night,2027-01-08,,event,3,strength", 12)
    assert told(plan)[0] == ("strength", 1)
    assert any("no room for a taper" in lost.why for lost in plan.given_up)


def test_two_weeks_in_all() -> None:
    plan = laid("Trial dive,2027-01-16,,event,2,power", 2)
    assert told(plan) == [("power", 2)]
    assert "only 2 weeks lie between the start of the plan and Trial dive" in plan.given_up[0].why


def test_a_hundred_and_four_weeks_with_nothing_in_them() -> None:
    plan = laid("", 104)
    assert plan.given_up == ()
    assert longest_hard_run(plan) <= 7
    assert {each.block for each in plan.blocks} <= HARD


def test_a_trip_all_year_does_not_break_the_blocks() -> None:
    plan = laid("World tour,2027-01-04,2027-12-31,trip,,", 52)
    assert plan.given_up == ()
    for each in plan.blocks:
        assert each.first not in each.deloads, "no block begins with its easier week"


def test_three_peaks_in_a_year_each_get_block_taper_and_rest() -> None:
    plan = laid(
        "One,2027-04-17,,event,3,strength\nTwo,2027-07-10,,event,3,power\nThree,2027-10-02,,event,3,power endurance",
        52,
    )
    assert plan.given_up == ()
    order = [each.block for each in plan.blocks]
    for wanted in (Block.STRENGTH, Block.POWER, Block.POWER_ENDURANCE):
        at = next(n for n, block in enumerate(order) if block is Block.TAPER and order[n - 1] is wanted)
        assert order[at + 1] is Block.REST


def test_a_way_back_that_is_too_short_is_told() -> None:
    plan = laid("Long leave,2027-02-01,2027-05-30,holiday,,\nShow,2027-07-10,,event,3,strength", 40)
    (short,) = [lost for lost in plan.given_up if "return" in lost.what]
    assert short.why.startswith("2 weeks instead of 4 after 17 weeks off")


def test_a_block_before_a_lay_off_is_not_for_the_event_after_it() -> None:
    plan = laid("Leave,2027-03-01,2027-04-11,holiday,,\nShow,2027-08-14,,event,3,strength", 40)
    before = [each for each in plan.blocks if each.last < dt.date(2027, 3, 1)]
    after = next(each for each in plan.blocks if each.block is Block.RETURN)
    assert before
    assert all(each.serves == () for each in before)
    assert after.serves == ("Show",)


def test_a_rest_after_a_peak_is_called_that() -> None:
    plan = laid(
        "A,2027-03-05,,event,3,power\nC,2027-03-12,,event,1,hypertrophy\nDay off,2027-03-08,2027-03-09,holiday,,",
        16,
    )
    reasons = {lost.what: lost.why for lost in plan.given_up}
    assert reasons["hypertrophy for C"] == "its week is a week off (rest after A)"


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (
            "Old show,2026-12-01,,event,3,power",
            "line 2: 'Old show' is over on 2026-12-01, before the plan begins",
        ),
        (
            "Leave,2027-02-01,2027-02-14,holiday,,\nSki,2027-02-10,2027-02-20,holiday,,",
            "line 3: the holiday 'Ski' begins on 2027-02-10, while 'Leave' (line 2) lasts until 2027-02-14",
        ),
        ("Cup,2027-03-01,,event,4,strenght", "'importance' of an event is 1, 2 or 3, not '4'"),
        ("Cup,2027-03-01,,event,3,strenght", "not 'strenght'"),
        ("Cup,1 March,,party,,", "'kind' is event, holiday or trip, not 'party'"),
        ("Tour,2027-02-01,9999-12-31,trip,,", "line 2: 'to' lies between 2000 and 2099, not in 9999"),
    ],
)
def test_what_is_wrong_with_a_row_is_said(rows: str, said: str) -> None:
    from core.errors import Refused

    with pytest.raises(Refused) as refused:
        laid(rows, 20)
    assert any(said in line for line in refused.value.lines), refused.value.lines


def test_faults_stand_in_the_order_of_the_file() -> None:
    from core.errors import Refused

    rows = "\n".join(f"Row {n},soon,,trip,," if n != 4 else "two,cells" for n in range(2, 12))
    with pytest.raises(Refused) as refused:
        laid(rows, 20)
    assert [line.split(":")[0] for line in refused.value.lines] == [f"line {n}" for n in range(2, 12)]


@pytest.mark.parametrize("start", [dt.date(9999, 12, 27), dt.date(1, 1, 1)])
def test_a_span_in_another_age_is_a_slip(start: dt.date) -> None:
    from core.errors import Refused

    with pytest.raises(Refused, match="--from lies between 2000 and 2099"):
        read_coming_up(HEAD.encode(), start, 20)
