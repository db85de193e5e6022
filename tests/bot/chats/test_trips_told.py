"""Trips as they are lived: a shared place, home again, called off in words, and what becomes of the sessions."""

import datetime as dt
from dataclasses import replace

import pytest

from core.store import house
from core.store.engine import Store
from core.usecases import travel
from tests.playhouse import CLIENT_ID, Play, said_to

LISBON, BERGEN = {"latitude": 38.72, "longitude": -9.14}, {"latitude": 60.39, "longitude": 5.32}
MONDAY = dt.datetime(2026, 11, 30, 12, tzinfo=dt.UTC)


@pytest.fixture
async def play(store: Store) -> Play:
    """Mara lives in Lisbon and has agreed to five sessions from Monday to Friday; it is that Monday, at noon."""
    stage = Play(store)
    await stage.coach()
    await stage.agreed(await stage.client(usual_days=(1, 2, 3, 4, 5)), 5)
    await stage.until(MONDAY)
    await stage.says(CLIENT_ID, "done")
    return stage


async def trips(play: Play) -> list[str]:
    async with play.store.reading() as tx:
        return [
            f"{t.place} {t.first:%d}-{f'{t.last:%d}' if t.last else ''}" for t in await house.trips_of(tx, 1)
        ]


async def test_what_moved_and_what_fell_away_are_told_apart(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 1-4 Dec")
    said = said_to(await play.presses(CLIENT_ID, "Out of reach"), CLIENT_ID)
    assert "2 sessions moved with it, 2 fall away; /week shows how." in said


async def test_a_place_at_home_is_no_trip(play: Play) -> None:
    assert "Lisbon is home" in said_to(await play.sends(CLIENT_ID, location=LISBON), CLIENT_ID)
    assert await trips(play) == []


async def test_a_place_that_was_shared_twice_is_one_trip(play: Play) -> None:
    await play.sends(CLIENT_ID, location=BERGEN)
    said = said_to(await play.sends(CLIENT_ID, location=BERGEN), CLIENT_ID)
    assert "that is how I have it" in said
    assert await trips(play) == ["Bergen 30-"]


async def test_a_place_shared_at_home_ends_the_trip(play: Play) -> None:
    await play.sends(CLIENT_ID, location=BERGEN)
    play.at += dt.timedelta(days=2)
    assert "Home again: Bergen is over" in said_to(await play.sends(CLIENT_ID, location=LISBON), CLIENT_ID)
    assert await trips(play) == ["Bergen 30-01"]


async def test_the_next_place_ends_an_open_stay_at_the_last(play: Play) -> None:
    await play.sends(CLIENT_ID, location=BERGEN)
    play.at += dt.timedelta(days=2)
    await play.sends(CLIENT_ID, location={"latitude": 1.29, "longitude": 103.85})
    assert await trips(play) == ["Bergen 30-01", "Singapore 02-"]


async def test_a_trip_is_called_off_in_the_words_of_its_button(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 2-4 Dec")
    assert "is off the plan" in said_to(await play.says(CLIENT_ID, "call off Honolulu"), CLIENT_ID)
    assert await trips(play) == []


async def test_a_session_that_is_called_off_is_no_trip(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 2-4 Dec")
    await play.says(CLIENT_ID, "call off the session")
    assert await trips(play) == ["Honolulu 02-04"]


async def test_a_place_that_is_called_off_and_is_no_trip_of_ours_is_asked_about(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 2-4 Dec")
    said = await play.says(CLIENT_ID, "the Bergen trip is cancelled")
    assert "Honolulu" in said[-1].buttons
    assert await trips(play) == ["Honolulu 02-04"]


async def test_a_trip_can_be_called_off_whatever_was_asked_last(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 2-4 Dec")
    await play.says(CLIENT_ID, "in Bergen 10-12 Dec")
    await play.until(dt.datetime(2026, 12, 1, 7, 5, tzinfo=dt.UTC))
    said = said_to(await play.says(CLIENT_ID, "please call off Bergen"), CLIENT_ID)
    assert "Bergen" in said
    assert "is off the plan" in said
    assert await trips(play) == ["Honolulu 02-04"]


async def days_asked(play: Play) -> str:
    async with play.store.reading() as tx:
        asks = await house.asks_of(tx, 1)
    return " ".join(f"{ask.day:%a}" for ask in asks if ask.is_open)


async def test_sessions_that_a_trip_had_taken_come_back_when_it_is_called_off(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 2-4 Dec")
    await play.presses(CLIENT_ID, "Out of reach")
    assert await days_asked(play) == "Tue Sat Sun"  # two of three moved, the third fell away
    said = said_to(await play.says(CLIENT_ID, "call off Honolulu"), CLIENT_ID)
    assert "is back in your week" in said
    assert len((await days_asked(play)).split()) == 4


async def test_sessions_come_back_with_the_days_that_are_in_reach_after_all(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 1-6 Dec")
    await play.presses(CLIENT_ID, "Out of reach")
    assert await days_asked(play) == ""
    said = said_to(await play.says(CLIENT_ID, "home on Wednesday already"), CLIENT_ID)
    assert "Thu and Fri are back in your week" in said
    assert await days_asked(play) == "Thu Fri"


async def test_a_session_of_today_does_not_come_back(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 1-6 Dec")
    await play.presses(CLIENT_ID, "Out of reach")
    await play.until(dt.datetime(2026, 12, 1, 15, tzinfo=dt.UTC))
    await play.says(CLIENT_ID, "call off Honolulu")
    assert "Tue" not in await days_asked(play)


async def test_what_silence_took_is_no_backlog(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 1-6 Dec")
    await play.presses(CLIENT_ID, "Out of reach")
    async with play.store.begin() as tx:
        client = await house.clients.get(tx, 1)
        silent = await house.clients.save(tx, replace(client, silent_since=dt.date(2026, 11, 30)))
        [trip] = await house.trips_of(tx, 1)
        assert (await travel.call_off(tx, silent, trip, play.at)).back == ()
    assert await days_asked(play) == ""


async def test_who_says_only_when_they_go_is_asked_to_say_when_they_are_back(play: Play) -> None:
    said = said_to(await play.says(CLIENT_ID, "flying to Bergen on Thursday"), CLIENT_ID)
    assert "Bergen, from 3 Dec: noted. I ask you by the clock there. Tell me when you are back." in said
    assert await trips(play) == ["Bergen 03-"]
