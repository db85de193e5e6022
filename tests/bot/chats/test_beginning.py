"""Before the first session, and before a larger promise: nothing is said that does not hold."""

import datetime as dt

import pytest

from core.people.model import Stage
from core.store import house
from core.store.engine import Store
from tests.playhouse import CLIENT_ID, COACH_ID, NOTHING_TO_DECLARE, Play, said_to

OTHER_COACH = 7002


@pytest.fixture
async def play(store: Store) -> Play:
    """A coach whom nobody has joined yet, on the Wednesday before."""
    stage = Play(store)
    await stage.coach()
    return stage


async def enrolled_with_a_red_flag(play: Play) -> str:
    """The questions are answered to the end, with a sign of danger among them; what was said last."""
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, "Lisbon")
    await play.says(CLIENT_ID, "chest pain when I climb stairs")
    for label in ("2", *NOTHING_TO_DECLARE):
        await play.presses(CLIENT_ID, label)
    said = await play.presses(CLIENT_ID, "None of these")
    assert "Red flag open" in said_to(said, COACH_ID)
    return said_to(said, CLIENT_ID)


async def test_after_a_red_flag_the_end_of_the_questions_does_not_say_that_all_is_well(play: Play) -> None:
    said = await enrolled_with_a_red_flag(play)
    assert "Nothing you said stands in the way" not in said
    assert "a doctor should look at first" in said


async def test_nobody_is_confirmed_over_an_open_red_flag(play: Play) -> None:
    await enrolled_with_a_red_flag(play)
    said = await play.presses(COACH_ID, "Confirm")
    assert "Clear it first" in said_to(said, COACH_ID)
    assert said_to(said, CLIENT_ID) == ""
    await play.presses(COACH_ID, "Clear it")
    await play.says(COACH_ID, "Dr Lund saw her: nothing found, may train")
    assert "we begin on Mon 30 Nov" in said_to(await play.presses(COACH_ID, "Confirm"), CLIENT_ID)


async def test_the_coach_is_reached_in_the_middle_of_the_questions(play: Play) -> None:
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    said = await play.says(CLIENT_ID, "coach, do I need a scale for this?")
    assert "need a scale" in said_to(said, COACH_ID)
    assert "Where do you live?" in said_to(said, CLIENT_ID)


@pytest.mark.parametrize("stage", [Stage.ACTIVE, Stage.STOPPED])
async def test_the_link_of_another_coach_is_left_alone_and_it_is_said_how_to_move(
    play: Play, stage: Stage
) -> None:
    await play.client()
    await play.change(1, stage=stage)
    await play.coach(OTHER_COACH, "Oda Berg")
    token = await play.invitation(OTHER_COACH, "Mara")
    assert "nobody has two" in said_to(await play.says(CLIENT_ID, f"/start {token}"), CLIENT_ID)
    assert "Hello Mara" in said_to(await play.says(7555, f"/start {token}"), 7555)


async def test_a_coach_who_tries_a_link_out_does_not_use_it_up(play: Play) -> None:
    token = await play.invitation(COACH_ID, "Mara")
    assert "It still works" in said_to(await play.says(COACH_ID, f"/start {token}"), COACH_ID)
    assert "Hello Mara" in said_to(await play.says(CLIENT_ID, f"/start {token}"), CLIENT_ID)


async def test_a_number_that_needs_a_yes_is_a_question_and_the_old_one_stands_first(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 2)
    await play.until(dt.datetime(2026, 11, 30, 8, tzinfo=dt.UTC))
    await play.says(CLIENT_ID, "done")
    await play.until(dt.datetime(2026, 12, 6, 18, tzinfo=dt.UTC))
    await play.presses(COACH_ID, "Another number")
    await play.presses(COACH_ID, "5")
    [offer] = [m for m in await play.until(dt.datetime(2026, 12, 6, 21, tzinfo=dt.UTC)) if m.kind == "weekly"]
    assert "2 sessions of 45 minutes" in offer.text
    assert "5 sessions" not in offer.text
    assert list(offer.buttons)[:2] == ["Yes, 5", "Stay at 2"]
    assert "Agreed: 2 sessions" in said_to(await play.presses(CLIENT_ID, "Stay at 2"), CLIENT_ID)


async def test_what_is_still_to_come_is_not_counted_as_asked(play: Play) -> None:
    await play.agreed(await play.client(), 2)
    assert "nothing asked yet" in said_to(await play.says(CLIENT_ID, "/mine"), CLIENT_ID)


@pytest.mark.parametrize(("words", "answer"), [("thank you", "Any time."), ("great", "Good.")])
async def test_courtesy_is_answered_in_kind(play: Play, words: str, answer: str) -> None:
    await play.client()
    assert said_to(await play.says(CLIENT_ID, words), CLIENT_ID).strip() == answer


async def test_less_is_told_to_the_coach_once_and_stands_in_the_plan(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 3)
    said = await play.says(CLIENT_ID, "rather 2 next week")
    assert "promises 2 rather than 3" in said_to(said, COACH_ID)
    assert "2 sessions of 45 minutes" in said_to(await play.says(CLIENT_ID, "/plan"), CLIENT_ID)
    said = await play.says(CLIENT_ID, "Tue and Thu")
    assert said_to(said, COACH_ID) == ""
    assert "Tue and Thu at 07:00, 30 Nov to 6 Dec" in said_to(said, CLIENT_ID)


async def test_a_week_that_is_lowered_says_what_is_still_to_come(play: Play) -> None:
    await play.agreed(await play.client(), 3)
    await play.until(dt.datetime(2026, 11, 30, 8, tzinfo=dt.UTC))
    await play.says(CLIENT_ID, "done")
    await play.presses(CLIENT_ID, "7")
    said = said_to(await play.says(CLIENT_ID, "only 2 this week"), CLIENT_ID)
    assert "2 sessions this week now; still to come: Wed." in said


async def test_who_has_stopped_may_say_so_again(play: Play) -> None:
    await play.client()
    await play.says(CLIENT_ID, "stop")
    said = await play.says(CLIENT_ID, "stop")
    assert "You have stopped" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""


async def stage_of(play: Play) -> Stage:
    async with play.store.reading() as tx:
        return (await house.clients.get(tx, 1)).stage


@pytest.mark.parametrize("stop", ["/stop", "stop"])
async def test_who_stops_while_enrolling_comes_back_to_the_questions_and_not_past_them(
    play: Play, stop: str
) -> None:
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, stop)
    assert await stage_of(play) is Stage.STOPPED
    assert "Where do you live?" in said_to(await play.says(CLIENT_ID, "back"), CLIENT_ID)
    assert await stage_of(play) is Stage.ENROLLING
    assert "Where do you live?" in said_to(await play.says(CLIENT_ID, "/now"), CLIENT_ID)


async def test_who_stops_before_consent_is_asked_for_it_on_coming_back(play: Play) -> None:
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.says(CLIENT_ID, "/stop")
    assert "Is that all right with you?" in said_to(await play.says(CLIENT_ID, "back"), CLIENT_ID)


async def test_who_stops_before_being_confirmed_still_waits_for_it(play: Play) -> None:
    await play.enrol(CLIENT_ID, await play.invitation(COACH_ID, "Mara"))
    await play.says(CLIENT_ID, "/stop")
    assert "has yet to confirm" in said_to(await play.says(CLIENT_ID, "back"), CLIENT_ID)
    assert await stage_of(play) is Stage.WAITING
    assert "has yet to confirm" in said_to(await play.says(CLIENT_ID, "/now"), CLIENT_ID)
    assert "we begin on" in said_to(await play.presses(COACH_ID, "Confirm"), CLIENT_ID)
