"""The year laid out: no gap, the right block at each event, easier weeks in time, and honest about the rest."""

import datetime as dt
import io
import random

import pytest
from PIL import Image

from core.programme.year.coming_up import ComingUp, Kind, monday_of
from core.programme.year.lengths import HARD, LENGTHS
from core.programme.year.picture import year_picture
from core.programme.year.plan import YearPlan, lay_out_year
from core.programme.year.words import share_of_week, year_words
from core.terms import Block

MONDAY = dt.date(2027, 1, 4)
WEEK = dt.timedelta(days=7)
EASY_BLOCKS = {Block.REST, Block.RETURN, Block.TAPER}


def event(name: str, week: int, wants: Block, importance: int = 3) -> ComingUp:
    day = MONDAY + (week - 1) * WEEK + dt.timedelta(days=4)
    return ComingUp(name=name, first=day, last=day, kind=Kind.EVENT, importance=importance, wants=wants)


def holiday(name: str, week: int, weeks: int = 1) -> ComingUp:
    first = MONDAY + (week - 1) * WEEK
    return ComingUp(
        name=name, first=first, last=first + weeks * WEEK - dt.timedelta(days=1), kind=Kind.HOLIDAY
    )


def assert_sound(plan: YearPlan) -> None:
    """What holds of every plan, whatever came up."""
    assert plan.blocks[0].first == plan.start
    assert plan.blocks[-1].last == plan.start + plan.weeks * WEEK - dt.timedelta(days=1)
    for each, following in zip(plan.blocks, plan.blocks[1:], strict=False):
        assert following.first == each.last + dt.timedelta(days=1)
    for each in plan.blocks:
        assert each.first.weekday() == 0
        assert each.last.weekday() == 6
        assert each.weeks <= LENGTHS[each.block].usual[1]
        assert all(each.first <= day <= each.last and day.weekday() == 0 for day in each.deloads)
    assert longest_hard_run(plan) <= 7


def longest_hard_run(plan: YearPlan) -> int:
    longest = run = 0
    for week in range(plan.weeks):
        monday = plan.start + week * WEEK
        block = plan.block_on(monday)
        assert block is not None
        run = 0 if block.block in EASY_BLOCKS or monday in block.deloads else run + 1
        longest = max(longest, run)
    return longest


def at(plan: YearPlan, week: int) -> tuple[Block, Block | None]:
    """The block that holds a week (from 1), which must end there, and the one before it."""
    index = next(
        n for n, each in enumerate(plan.blocks) if each.first <= MONDAY + (week - 1) * WEEK <= each.last
    )
    assert plan.blocks[index].last == MONDAY + week * WEEK - dt.timedelta(days=1)
    return plan.blocks[index].block, plan.blocks[index - 1].block if index else None


@pytest.mark.parametrize("wants", [Block.HYPERTROPHY, Block.STRENGTH, Block.POWER, Block.POWER_ENDURANCE])
def test_a_peak_gets_a_taper_after_the_block_that_it_wants(wants: Block) -> None:
    plan = lay_out_year([event("Opening night", 24, wants)], MONDAY, 30)
    assert_sound(plan)
    assert at(plan, 24) == (Block.TAPER, wants)
    assert not [lost for lost in plan.given_up if "Opening night" in lost.what]
    assert "Opening night" in next(each for each in plan.blocks if each.block is Block.TAPER).serves


def test_a_lesser_event_ends_its_block_without_a_taper() -> None:
    plan = lay_out_year([event("Trial dive", 14, Block.STRENGTH, 2)], MONDAY, 20)
    assert at(plan, 14)[0] is Block.STRENGTH


def test_power_comes_after_strength_and_strength_after_size_when_there_is_time() -> None:
    plan = lay_out_year([event("Regatta", 20, Block.POWER)], MONDAY, 20)
    order = [each.block for each in plan.blocks]
    assert order == [Block.HYPERTROPHY, Block.STRENGTH, Block.POWER, Block.TAPER]


def test_weeks_off_are_rest_and_a_long_time_off_is_followed_by_a_return() -> None:
    plan = lay_out_year([holiday("Leave", 9, 3)], MONDAY, 30)
    assert_sound(plan)
    rest = plan.block_on(MONDAY + 8 * WEEK)
    assert rest is not None
    assert (rest.block, rest.weeks, rest.serves) == (Block.REST, 3, ("Leave",))
    following = plan.block_on(rest.last + dt.timedelta(days=1))
    assert following is not None
    assert following.block is Block.RETURN
    assert following.weeks >= 2


def test_one_week_off_needs_no_return() -> None:
    plan = lay_out_year([holiday("Leave", 9)], MONDAY, 20)
    assert Block.RETURN not in {each.block for each in plan.blocks}


def test_the_caps_of_a_return() -> None:
    assert [share_of_week(week) for week in range(1, 6)] == [0.5, 0.7, 0.8, 0.9, 1.0]


def test_what_does_not_fit_is_given_up_with_a_reason() -> None:
    plan = lay_out_year(
        [event("A", 3, Block.POWER), event("B", 5, Block.HYPERTROPHY), holiday("Leave", 4)], MONDAY, 12
    )
    assert_sound(plan)
    assert plan.given_up
    assert all(lost.what and lost.why for lost in plan.given_up)
    assert any("Leave" in lost.why or "weeks" in lost.why for lost in plan.given_up)


def test_two_events_in_one_week_the_more_important_wins_and_it_is_said() -> None:
    plan = lay_out_year(
        [event("Gala", 16, Block.STRENGTH, 3), event("Fun run", 16, Block.POWER_ENDURANCE, 1)], MONDAY, 20
    )
    assert at(plan, 16) == (Block.TAPER, Block.STRENGTH)
    (lost,) = [lost for lost in plan.given_up if "Fun run" in lost.what]
    assert "Gala" in lost.why


def test_an_event_after_the_plan_or_in_a_week_off_is_told() -> None:
    found = [event("Later", 40, Block.POWER), event("Wedding cup", 9, Block.STRENGTH, 2), holiday("Leave", 9)]
    plan = lay_out_year(found, MONDAY, 20)
    reasons = {lost.what: lost.why for lost in plan.given_up}
    assert "after the last week" in reasons["Later"]
    assert "week off (Leave)" in reasons["strength for Wedding cup"]


def test_a_deload_falls_into_a_week_away() -> None:
    trip = ComingUp(name="Port call", first=MONDAY + 5 * WEEK, last=MONDAY + 6 * WEEK, kind=Kind.TRIP)
    plan = lay_out_year([trip], MONDAY, 14)
    assert MONDAY + 5 * WEEK in [day for each in plan.blocks for day in each.deloads]


def test_any_calendar_gives_a_sound_plan() -> None:
    wishes = sorted(HARD)
    for seed in range(8):
        chance = random.Random(seed)
        weeks = chance.randint(1, 45)
        found = [
            event(f"E{n}", chance.randint(1, weeks), chance.choice(wishes), chance.randint(1, 3))
            for n in range(3)
        ]
        found.append(holiday("Leave", chance.randint(1, weeks), chance.randint(1, 9)))
        plan = lay_out_year(found, MONDAY, weeks)
        assert_sound(plan)
        for each in found:
            week = monday_of(each.first)
            block = plan.block_on(week)
            assert block is not None
            if each.kind is Kind.EVENT and block.last - week > dt.timedelta(days=6):
                assert any(each.name in lost.what for lost in plan.given_up), (seed, each)


def test_the_picture_is_a_png_as_long_as_the_year_and_the_words_beside_it_name_all() -> None:
    found = [
        event("Opening night", 24, Block.STRENGTH),
        event("演劇祭", 30, Block.POWER, 2),
        holiday("Leave", 10, 2),
    ]
    plan = lay_out_year(found, MONDAY, 40)
    image = Image.open(io.BytesIO(year_picture(plan)))
    assert image.format == "PNG"
    assert image.height > 40 * 20
    said = year_words(plan)
    assert "Opening night" in said
    assert "演劇祭" in said
    assert said.count("\n") > len(plan.blocks)
