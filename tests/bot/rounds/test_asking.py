"""What is asked and what is not: the budget, the night, illness, and the plan that holds from week to week."""

import datetime as dt
from dataclasses import replace

import pytest

from core.people.model import SleepAsked
from core.store import house
from core.terms import Outcome
from core.usecases import settle
from core.usecases.schedule import reschedule
from core.week.model import Ask, Hand, Promise
from tests.bot.rounds.days import SUNDAY, WEEK, at, kinds, mara, outage, outcomes, promise_of
from tests.playhouse import CLIENT_ID, Play, said_to


async def test_an_ask_that_has_no_room_is_withdrawn(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 2)
    await play.change(client.id, daily_limit=0)
    assert kinds(await play.until(at("12-01T12:00"))) == []
    assert (await outcomes(play))[0] == "Mon withdrawn"


async def test_sleep_rides_on_the_prompt_and_is_not_asked_again(play: Play) -> None:
    await play.agreed(await play.client(sleep_asked=SleepAsked.DAILY), 1)
    said = await play.until(at("11-30T07:30"))
    assert "sleep" in said[-1].text
    await play.presses(CLIENT_ID, "Done")
    assert "sleep" not in kinds(await play.until(at("11-30T20:00")))
    assert "sleep" in kinds(await play.until(at("12-01T10:00")))


async def test_who_is_ill_and_says_nothing_is_excused(play: Play) -> None:
    await play.agreed(await play.client(), 2)
    await play.until(at("11-30T07:30"))
    await play.says(CLIENT_ID, "I've got a fever, in bed")
    await play.until(at("12-03T12:30"))
    assert await outcomes(play) == ["Mon excused", "Wed excused"]
    await play.says(CLIENT_ID, "did 30 minutes today")
    assert (await mara(play)).unwell_since is None


async def test_the_hour_that_was_chosen_for_a_week_is_that_of_the_next(play: Play) -> None:
    client = await play.client(lately=2)
    await play.until(SUNDAY)
    async with play.store.begin() as tx:
        await settle.settle(tx, client, await promise_of(play), 2, hand=Hand.COACH, at=play.at)
        await reschedule(tx, client.id, play.at)
    await play.until(at("11-29T19:00"))
    # The weekly message was the last word: days are expected.
    said = await play.says(CLIENT_ID, "Tue Thu at 18:30")
    assert "Agreed: 2 sessions, Tue and Thu at 18:30" in said_to(said, CLIENT_ID)
    for day in ("12-01T20:00", "12-03T20:00"):
        await play.until(at(day))
        await play.says(CLIENT_ID, "done")
    said = await play.until(at("12-07T08:00"))
    assert "Tue" in said_to(said, CLIENT_ID)
    assert "at 18:30" in said_to(said, CLIENT_ID)


async def test_a_promise_that_shrinks_keeps_the_days_that_are_used_most(play: Play) -> None:
    """Four weeks of Wednesday and Friday, one with a Monday as well: of two promised, it is Wednesday and Friday."""
    client = await play.client(first_week=WEEK.plus(-4))
    async with play.store.begin() as tx:
        for back in range(4, 0, -1):
            week = WEEK.plus(-back)
            number = 3 if back == 1 else 2
            await house.promises.add(
                tx,
                Promise(
                    id=0, client_id=client.id, week=week, settled=number, agreed=number, agreed_by=Hand.CLIENT
                ),
            )
            for weekday in (1, 3, 5)[3 - number :]:
                day = week.monday + dt.timedelta(days=weekday - 1)
                done = Ask(id=0, client_id=client.id, week=week, day=day, at=dt.time(7), minutes=45)
                await house.asks.add(tx, replace(done, outcome=Outcome.DONE))
        gone = Ask(
            id=0,
            client_id=client.id,
            week=WEEK.previous(),
            day=WEEK.previous().sunday,
            at=dt.time(7),
            minutes=45,
        )
        # A day that was taken back was no day of theirs.
        await house.asks.add(tx, replace(gone, withdrawn=True))
        await settle.settle(tx, client, await promise_of(play), 2, hand=Hand.COACH, at=play.at)
    assert await outcomes(play) == ["Wed open", "Fri open"]


async def test_a_night_that_was_asked_about_on_a_prompt_is_not_asked_about_again_when_that_moves(
    play: Play,
) -> None:
    await play.agreed(await play.client(sleep_asked=SleepAsked.DAILY), 1)
    said = await play.until(at("11-30T07:10"))
    assert "how did you sleep" in said[-1].text
    await play.presses(CLIENT_ID, "Another day")
    await play.presses(CLIENT_ID, "Thu")
    assert "sleep" not in kinds(await play.until(at("11-30T20:00")))


async def test_who_does_not_answer_is_not_asked_about_every_night(play: Play) -> None:
    await play.agreed(await play.client(sleep_asked=SleepAsked.DAILY, usual_days=(6,)), 1)
    assert kinds(await play.until(at("11-29T23:00"))) == []  # before the first week nothing is asked
    assert kinds(await play.until(at("12-03T23:00"))) == ["sleep"]
    await play.says(CLIENT_ID, "7")
    assert kinds(await play.until(at("12-04T23:00"))) == ["sleep"]


async def test_where_the_night_was_asked_about_an_answer_about_the_session_is_read_all_the_same(
    play: Play,
) -> None:
    await play.agreed(await play.client(sleep_asked=SleepAsked.DAILY, usual_time=dt.time(18)), 1)
    said = await play.until(at("11-30T12:00"))
    assert "hours did you sleep" in said[-1].text
    said = await play.says(CLIENT_ID, "can't make it today, late rehearsal")
    assert "not this time" in said_to(said, CLIENT_ID)
    assert await outcomes(play) == ["Mon missed"]


async def test_a_prompt_that_quiet_hours_held_back_past_its_hour_asks_what_became_of_it(play: Play) -> None:
    client = await play.client(usual_time=dt.time(6, 30))
    await play.agreed(client, 1)
    await play.until(at("11-29T17:00"))
    # None the evening before.
    [said] = [m for m in await outage(play, at("11-30T07:00")) if m.kind == "prompt"]
    assert said.text.startswith("<b>06:30</b>: 45 minutes, dumbbells. Done already, or still to come?")


@pytest.mark.parametrize("away", [True, False])
async def test_the_weekly_message_speaks_of_another_clock_only_where_there_is_one(
    play: Play, *, away: bool
) -> None:
    await play.client()
    if away:
        await play.says(CLIENT_ID, "in Bergen 30 Nov - 7 Dec")
    said = await play.until(at("11-29T20:45"))
    [weekly] = [m for m in said if m.kind == "weekly"]
    assert ("by the clock where you are then" in weekly.text) is away


async def test_who_told_a_few_nights_needs_no_example_of_how(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 1)
    for day in (26, 27, 28):
        play.at = dt.datetime(2026, 11, day, 9, tzinfo=dt.UTC)
        await play.says(CLIENT_ID, "slept 7")
    [said] = [m for m in await play.until(at("11-30T07:00")) if m.kind == "prompt"]
    assert said.text.endswith("And how did you sleep?")
