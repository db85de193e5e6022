"""'Mon + Thu, 30 min each': how long the sessions of a week are to take, in the client's words."""

import datetime as dt

import pytest

from core.store.engine import Store
from core.usecases import settle
from core.usecases.schedule import reschedule
from core.week.model import Hand
from tests.bot.rounds.days import promise_of, week_of
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

SUNDAY_EVENING = dt.datetime(2026, 11, 29, 19, tzinfo=dt.UTC)


@pytest.fixture
async def play(store: Store) -> Play:
    """On Sunday evening two sessions of 45 minutes are settled, and the client has been told."""
    stage = Play(store)
    await stage.coach()
    client = await stage.client()
    await stage.until(SUNDAY_EVENING - dt.timedelta(minutes=50))
    async with store.begin() as tx:
        await settle.settle(tx, client, await promise_of(stage), 2, hand=Hand.COACH, at=stage.at)
        await reschedule(tx, client.id, stage.at)
    await stage.until(SUNDAY_EVENING)
    return stage


async def planned(play: Play) -> list[str]:
    return [f"{ask.day:%a} {ask.minutes}" for ask in await week_of(play) if ask.is_open]


async def test_the_sessions_of_the_days_take_as_long_as_was_written(play: Play) -> None:
    said = await play.says(CLIENT_ID, "Tue and Thu, 30 min each")
    assert "Agreed: 2 sessions, Tue and Thu at 07:00" in said_to(said, CLIENT_ID)
    assert "Tue and Thu take 30 minutes each." in said_to(said, CLIENT_ID)
    assert "Mara plans 30 minutes rather than 45 for Tue 1 Dec and Thu 3 Dec. That holds." in said_to(
        said, COACH_ID
    )
    assert await planned(play) == ["Tue 30", "Thu 30"]
    assert (await promise_of(play)).minutes == 30


async def test_one_tap_takes_it_back_and_the_coach_hears_that_too(play: Play) -> None:
    await play.says(CLIENT_ID, "Tue and Thu, 30 min each")
    said = await play.presses(CLIENT_ID, "45 minutes after all")
    assert "Tue and Thu take 45 minutes each." in said_to(said, CLIENT_ID)
    assert "Mara plans 45 minutes rather than 30" in said_to(said, COACH_ID)
    assert await planned(play) == ["Tue 45", "Thu 45"]
    assert (await promise_of(play)).minutes == 45
    assert "had its day" in said_to(await play.presses(CLIENT_ID, "45 minutes after all"), CLIENT_ID)


async def test_in_the_running_week_only_the_days_that_are_named_change_and_stay_so(play: Play) -> None:
    await play.says(CLIENT_ID, "Tue and Thu")
    await play.until(dt.datetime(2026, 11, 30, 12, tzinfo=dt.UTC))
    await play.says(CLIENT_ID, "/plan")
    await play.presses(CLIENT_ID, "Pick days")
    said = await play.says(CLIENT_ID, "Thu 30 min each")
    assert "Thu takes 30 minutes." in said_to(said, CLIENT_ID)
    assert await planned(play) == ["Tue 45", "Thu 30"]
    assert (await promise_of(play)).minutes == 45
    await play.says(CLIENT_ID, "/plan")
    await play.presses(CLIENT_ID, "Pick days")
    await play.says(CLIENT_ID, "Tue and Thu at 18:00")
    assert [ask.at.hour for ask in await week_of(play)] == [18, 18]
    assert await planned(play) == ["Tue 45", "Thu 30"]


async def test_the_number_alone_may_carry_a_length_too(play: Play) -> None:
    said = await play.says(CLIENT_ID, "one session, 40 min each")
    assert "takes 40 minutes." in said_to(said, CLIENT_ID)
    assert [each.split()[1] for each in await planned(play)] == ["40"]


async def test_the_length_that_holds_already_is_not_told_again(play: Play) -> None:
    said = await play.says(CLIENT_ID, "Tue and Thu, 45 min each")
    assert "minutes" not in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""


async def test_no_session_takes_four_hours(play: Play) -> None:
    said = said_to(await play.says(CLIENT_ID, "Tue and Thu, 240 min each"), CLIENT_ID)
    assert "A session takes 10 to 180 minutes, so I leave out the 240: it stays at 45." in said
    assert await planned(play) == ["Tue 45", "Thu 45"]
