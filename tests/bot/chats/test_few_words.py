"""Answers of a few words to what was asked: better or not, a place, an hour, a stop."""

import datetime as dt

import pytest

from core.people.model import Stage
from core.store import house
from tests.playhouse import CLIENT_ID, COACH_ID, MONDAY, Play, said_to


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("yes", "open"),
        ("I'm better now, thanks", "open"),
        ("not yet", "excused"),
        ("no, still in bed", "excused"),
    ],
)
async def test_feeling_better_is_answered_in_words_and_is_no_session(
    play: Play, words: str, day: str
) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "I've got the flu")
    asked = await play.until(dt.datetime(2026, 12, 2, 8, tzinfo=dt.UTC))
    assert "Feeling better?" in said_to(asked, CLIENT_ID)
    await play.says(CLIENT_ID, words)
    async with play.store.reading() as tx:
        asks = {f"{a.day:%a}": str(a.outcome or "open") for a in await house.asks_of(tx, 1)}
        unwell = (await house.clients.get(tx, 1)).unwell_since is not None
    assert asks["Wed"] == day
    assert unwell is (day == "excused")


async def test_a_place_that_cannot_be_read_is_asked_again_until_it_is_left(play: Play) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "/trip")
    await play.presses(CLIENT_ID, "Add a trip")
    assert "a place called “qwxyz”" in said_to(await play.says(CLIENT_ID, "qwxyz"), CLIENT_ID)
    assert "Bergen: from when to when?" in said_to(await play.says(CLIENT_ID, "Bergen"), CLIENT_ID)
    said = said_to(await play.says(CLIENT_ID, "florbel wexing"), CLIENT_ID)
    assert "as dates" in said
    assert "/cancel" in said
    assert "Bergen, 3 to 7 Dec: noted" in said_to(await play.says(CLIENT_ID, "3-7 Dec"), CLIENT_ID)


async def test_who_has_stopped_looks_something_up_without_beginning_again(play: Play) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "/stop")
    said = await play.says(CLIENT_ID, "/week")
    assert "You have stopped" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""
    said = await play.says(CLIENT_ID, "see you next year")
    assert "Passed on to Ines Prado" in said_to(said, CLIENT_ID)
    async with play.store.reading() as tx:
        assert (await house.clients.get(tx, 1)).stage is Stage.STOPPED
    assert "back on" in said_to(await play.says(CLIENT_ID, "back"), CLIENT_ID)


async def test_the_same_number_again_lowers_nothing(play: Play) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "/plan")
    await play.presses(CLIENT_ID, "Fewer this week")
    said = await play.presses(CLIENT_ID, "2")
    assert "It is 2 sessions already" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""


async def test_a_paused_week_says_until_when(play: Play) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "/pause")
    await play.presses(CLIENT_ID, "1 week")
    assert "Paused up to and including Sun 6 Dec" in said_to(await play.says(CLIENT_ID, "/week"), CLIENT_ID)


async def test_of_several_places_of_one_name_the_right_one_is_tapped(play: Play) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "/trip")
    await play.presses(CLIENT_ID, "Add a trip")
    assert "more than one Springfield" in said_to(await play.says(CLIENT_ID, "Springfield"), CLIENT_ID)
    await play.presses(CLIENT_ID, "Springfield, Illinois")
    said = said_to(await play.says(CLIENT_ID, "3-7 Dec"), CLIENT_ID)
    assert "Springfield, 3 to 7 Dec: noted" in said
    async with play.store.reading() as tx:
        assert [trip.zone for trip in await house.trips.list(tx)] == ["America/Chicago"]


@pytest.mark.parametrize("words", ["18:30", "half past six in the evening", "6:30 pm"])
async def test_the_hour_that_was_asked_for_is_read_as_one(play: Play, words: str) -> None:
    await play.client()
    await play.until(dt.datetime(2026, 11, 29, 20, 45, tzinfo=dt.UTC))
    await play.presses(CLIENT_ID, "Another time")
    said = said_to(await play.says(CLIENT_ID, words), CLIENT_ID)
    assert "Agreed: 1 session, Mon at 18:30, 30 Nov to 6 Dec." in said


async def test_days_with_an_hour_are_days_although_an_hour_was_asked_for(play: Play) -> None:
    await play.client()
    await play.until(dt.datetime(2026, 11, 29, 20, 45, tzinfo=dt.UTC))
    await play.presses(CLIENT_ID, "Another time")
    said = said_to(await play.says(CLIENT_ID, "Thursday at 18:00"), CLIENT_ID)
    assert "Agreed: 1 session, Thu at 18:00, 30 Nov to 6 Dec." in said


async def test_what_is_told_and_not_asked_is_thanked_for(play: Play) -> None:
    await play.mara_on_monday()
    said = await play.says(CLIENT_ID, "feeling pretty low lately")
    assert "Thank you for telling me. I have passed it on to Ines Prado." in said_to(said, CLIENT_ID)
    assert "feeling pretty low lately" in said_to(said, COACH_ID)


async def test_what_the_coach_sees_is_listed_once(play: Play) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "knee hurts")
    assert said_to(await play.says(CLIENT_ID, "/mine"), CLIENT_ID).count("knee hurts") == 1


async def test_where_all_is_done_no_fewer_are_offered(play: Play) -> None:
    await play.mara_on_monday()
    [_, plan] = [*await play.says(CLIENT_ID, "done"), *await play.says(CLIENT_ID, "/plan")]
    assert "Fewer this week" in plan.buttons
    await play.until(dt.datetime(2026, 12, 2, 7, tzinfo=dt.UTC))
    await play.says(CLIENT_ID, "done")
    [plan] = await play.says(CLIENT_ID, "/plan")
    assert plan.buttons == {}


async def test_before_there_is_a_promise_an_extra_is_beyond_none(play: Play) -> None:
    await play.client()
    said = said_to(await play.says(CLIENT_ID, "trained 30 minutes today"), CLIENT_ID)
    assert "Today: an extra. Noted, and welcome." in said


async def test_one_who_is_well_is_accepted_by_number_and_name(play: Play) -> None:
    await play.client()
    said = await play.until(dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC))
    assert "Accept 1 for Mara" in said[-1].buttons


async def test_better_is_asked_again_in_other_words_and_after_a_week_with_a_doctor_in_them(
    play: Play,
) -> None:
    client = await play.client(lately=3)
    await play.agreed(client, 3)
    await play.until(MONDAY)
    await play.says(CLIENT_ID, "I've got the flu")
    asked = list[str]()
    for day in (2, 4, 9):
        said = await play.until(dt.datetime(2026, 12, day, 7, tzinfo=dt.UTC))
        asked += [m.text for m in said if m.kind == "prompt" and "etter" in m.text][-1:]
        said = await play.presses(CLIENT_ID, "Not yet")
        if day == 4:
            assert "This week: 0 of 3, 3 excused. Nothing more is asked." in said_to(said, CLIENT_ID)
    assert asked[0].startswith("You were unwell. Feeling better?")
    assert asked[1].startswith("Better by now? Then today at 07:00 stands")
    assert "see a doctor" not in asked[1]
    assert "please see a doctor if you have not" in asked[2]


async def test_better_is_heard_also_once_the_day_that_it_was_asked_for_is_over(play: Play) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "I've got the flu")
    await play.until(dt.datetime(2026, 12, 3, 18, tzinfo=dt.UTC))
    assert "Get well first" in said_to(await play.says(CLIENT_ID, "not yet"), CLIENT_ID)
    assert "Good." in said_to(await play.says(CLIENT_ID, "better now, thanks"), CLIENT_ID)
    async with play.store.reading() as tx:
        assert (await house.clients.get(tx, 1)).unwell_since is None
        assert {str(a.outcome) for a in await house.asks_of(tx, 1)} == {"excused"}
