"""Gone and back: after a silence, a blocked bot, a place in the sea; and while a red flag is open nothing is offered."""

import datetime as dt

import pytest
from sqlalchemy import update

from core.store import house
from core.store.engine import Store
from core.store.queue_tables import outbox
from core.week.model import Ask
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play, said_to

MONDAY = dt.datetime(2026, 11, 30, 7, tzinfo=dt.UTC)


@pytest.fixture
async def play(store: Store) -> Play:
    """Mara has agreed to one session, Monday at 07:00; it is Monday, and she has been prompted."""
    stage = Play(store)
    await stage.coach()
    await stage.agreed(await stage.client(), 1)
    await stage.until(MONDAY)
    return stage


async def fell_silent(play: Play) -> None:
    await play.change(1, silent_since=dt.date(2026, 11, 27))


def texts(said: list[Message], chat: int) -> list[str]:
    return [m.text for m in said if m.chat_id == chat and m.text]


async def test_the_warm_line_comes_before_the_answer(play: Play) -> None:
    await fell_silent(play)
    first, second = texts(await play.says(CLIENT_ID, "sorry, was away. done today"), CLIENT_ID)
    assert first.startswith("Good to hear from you")
    assert "Today: done" in second


@pytest.mark.parametrize("words", ["stop", "/stop", "pause for two weeks"])
async def test_who_stops_or_pauses_is_not_welcomed(play: Play, words: str) -> None:
    await fell_silent(play)
    said = texts(await play.says(CLIENT_ID, words), CLIENT_ID)
    assert len(said) == 1
    assert "Good to hear from you" not in said[0]


async def test_a_sign_of_danger_after_a_silence_is_met_with_nothing_else(play: Play) -> None:
    await fell_silent(play)
    said = said_to(await play.says(CLIENT_ID, "chest pain since this morning"), CLIENT_ID)
    assert "stop training" in said
    assert "Good to hear from you" not in said


async def test_the_coach_hears_at_once_who_blocks_the_bot_and_who_is_there_again(play: Play) -> None:
    assert "Mara cannot be reached" in said_to(await play.blocks(CLIENT_ID), COACH_ID)
    assert said_to(await play.blocks(CLIENT_ID), COACH_ID) == ""
    assert "Mara can be reached again" in said_to(await play.blocks(CLIENT_ID, left=False), COACH_ID)


async def test_a_point_in_the_sea_is_mended_by_the_name_of_a_port(play: Play) -> None:
    said = await play.sends(CLIENT_ID, location={"latitude": 0.0, "longitude": -30.0})
    assert "nearest port or city" in said_to(said, CLIENT_ID)
    assert "Bergen, from 30 Nov: noted" in said_to(await play.says(CLIENT_ID, "Bergen"), CLIENT_ID)


async def test_a_trip_that_is_being_told_stays_open_over_what_nobody_can_read(play: Play) -> None:
    await play.says(CLIENT_ID, "/trip")
    await play.presses(CLIENT_ID, "Add a trip")
    await play.says(CLIENT_ID, "Singapore")
    await play.says(CLIENT_ID, "hm, will tell you the dates later on")
    assert "Singapore, 3 to 6 Dec: noted" in said_to(
        await play.says(CLIENT_ID, "Thursday to Sunday"), CLIENT_ID
    )


async def test_where_no_trip_is_known_one_can_be_added(play: Play) -> None:
    [said] = await play.says(CLIENT_ID, "the trip to Singapore is off")
    assert list(said.buttons) == ["Add a trip"]


async def test_home_when_it_was_known_already_changes_nothing(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 30 Nov-1 Dec")
    said = said_to(await play.says(CLIENT_ID, "home tomorrow"), CLIENT_ID)
    assert "Honolulu, 30 Nov to 1 Dec: that is how I have it" in said


async def test_a_night_told_in_reply_to_an_earlier_prompt_is_that_night(play: Play) -> None:
    async with play.store.begin() as tx:
        prompted = outbox.c.kind == "prompt"
        await tx.execute(update(outbox).where(prompted).values(state="sent", message_id=41, ended_at=MONDAY))
    await play.until(dt.datetime(2026, 12, 1, 9, tzinfo=dt.UTC))
    reply = {"message_id": 41, "chat": {"id": CLIENT_ID, "type": "private"}, "date": 0}
    said = said_to(await play.says(CLIENT_ID, "slept 6", reply_to_message=reply), CLIENT_ID)
    assert "the night to Mon 30 Nov" in said
    async with play.store.reading() as tx:
        assert [n.day.day for n in await house.nights_of(tx, 1, since=dt.date(2026, 11, 1))] == [30]


async def test_a_week_that_is_over_is_not_called_kept_as_if_it_ran(play: Play) -> None:
    [monday] = [m for m in await play.waiting(CLIENT_ID) if m.kind == "prompt"]
    await play.until(dt.datetime(2026, 12, 7, 9, tzinfo=dt.UTC))
    said = said_to(await play.presses(CLIENT_ID, "", data=monday.buttons["Done"]), CLIENT_ID)
    assert "That week: 1 of 1." in said
    assert "Anything more is an extra" not in said


async def test_the_session_of_a_silent_week_has_no_day_of_its_own(play: Play) -> None:
    async with play.store.begin() as tx:
        [ask] = await house.asks_of(tx, 1)
        weekly = {**{f: getattr(ask, f) for f in Ask.__dataclass_fields__}, "weekly": True}
        await house.asks.save(tx, Ask(**{**weekly, "day": dt.date(2026, 12, 6), "minutes": 10}))
    [said] = await play.says(CLIENT_ID, "/week")
    assert "Any day up to Sun 6 Dec: 10 minutes" in said.text
    assert list(said.buttons) == ["Ten minutes now"]


@pytest.mark.parametrize("words", ["done", "can't today"])
async def test_while_a_red_flag_is_open_nothing_more_is_offered(play: Play, words: str) -> None:
    await play.says(CLIENT_ID, "chest pain since this morning")
    said = [m for m in await play.says(CLIENT_ID, words) if m.chat_id == CLIENT_ID]
    assert {label for m in said for label in m.buttons} <= {*"23456789", "Take it back"}
    assert "feel like" not in said_to(said, CLIENT_ID)


async def test_what_was_asked_weeks_ago_is_no_context_for_the_coach(play: Play) -> None:
    said = await play.says(CLIENT_ID, "coach, I am moving house")
    assert "I had asked about the night" in said_to(said, COACH_ID)
    play.at += dt.timedelta(days=9)
    said = await play.says(CLIENT_ID, "coach, I have moved house")
    assert "moved house" in said_to(said, COACH_ID)
    assert "I had asked" not in said_to(said, COACH_ID)


async def test_a_correction_is_not_noted_twice_over(play: Play) -> None:
    await play.presses(CLIENT_ID, "A short one")
    assert "Corrected. Today: done.\n" in said_to(await play.says(CLIENT_ID, "no, done in full"), CLIENT_ID)


@pytest.mark.parametrize("words", ["all good again", "I'm fine now thanks", "recovered!"])
async def test_who_is_well_again_says_so_at_any_time_and_it_is_no_night(play: Play, words: str) -> None:
    await play.says(CLIENT_ID, "down with a cold")
    assert "Good to hear" in said_to(await play.says(CLIENT_ID, words), CLIENT_ID)
    async with play.store.reading() as tx:
        assert (await house.clients.get(tx, 1)).unwell_since is None
        assert await house.nights_of(tx, 1, since=dt.date(2026, 11, 1)) == []


async def test_good_is_no_recovery_of_who_is_well(play: Play) -> None:
    assert "Good to hear. From" not in said_to(await play.says(CLIENT_ID, "all good again"), CLIENT_ID)


async def test_who_comes_back_under_a_red_flag_hears_that_training_waits(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain since this morning")
    await play.says(CLIENT_ID, "/stop")
    assert "Training waits until your coach" in said_to(await play.says(CLIENT_ID, "back"), CLIENT_ID)
