"""What is written in passing, or changed afterwards: under a picture, in an edit, to the coach, about days in silence."""

import datetime as dt
from typing import Any

import pytest
from sqlalchemy import update

from core.store import house
from core.store.engine import Store
from core.store.queue_tables import outbox
from core.week.count import of_promise
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

MONDAY = dt.datetime(2026, 11, 30, 7, tzinfo=dt.UTC)
PICTURE = [{"file_id": "picture", "file_unique_id": "p", "width": 1, "height": 1}]


@pytest.fixture
async def play(store: Store) -> Play:
    """Mara has agreed to two sessions, Monday and Wednesday at 07:00; it is Monday, and she has been prompted."""
    stage = Play(store)
    await stage.coach()
    await stage.agreed(await stage.client(), 2)
    await stage.until(MONDAY)
    return stage


async def outcomes(play: Play) -> list[str]:
    async with play.store.reading() as tx:
        return [f"{a.day:%a %d} {a.outcome or 'open'}" for a in of_promise(await house.asks_of(tx, 1))]


async def test_what_stands_under_a_picture_counts_as_what_is_written(play: Play) -> None:
    said = await play.sends(CLIENT_ID, photo=PICTURE, caption="done, look at that rack")
    assert "Today: done. Noted." in said_to(said, CLIENT_ID)
    assert (await outcomes(play))[0] == "Mon 30 done"
    assert said_to(said, COACH_ID).count("look at that rack") == 1


async def test_a_pain_under_a_picture_is_spared_from_then_on(play: Play) -> None:
    said = await play.sends(CLIENT_ID, photo=PICTURE, caption="my knee hurts")
    assert "Sessions will leave it alone" in said_to(said, CLIENT_ID)


async def test_a_picture_with_a_question_is_only_passed_on(play: Play) -> None:
    said = await play.sends(CLIENT_ID, photo=PICTURE, caption="coach, is this the right machine?")
    assert said_to(said, CLIENT_ID).strip() == "Passed on to Ines Prado."
    assert (await outcomes(play))[0] == "Mon 30 open"


async def edits(play: Play, number: int, text: str, *, sent: dt.datetime | None = None) -> str:
    """The client changes a message of theirs."""
    message: dict[str, Any] = {
        "message_id": number,
        "date": int((sent or play.at).timestamp()),
        "chat": {"id": CLIENT_ID, "type": "private"},
        "from": {"id": CLIENT_ID, "first_name": "Mara", "is_bot": False},
        "text": text,
    }
    async with play.store.begin() as tx:
        await play.house.handle(tx, {"update_id": 9_000 + number, "edited_message": message}, play.at)
    return said_to(await play.news(), CLIENT_ID)


async def test_a_changed_number_is_still_the_effort_that_was_asked_for(play: Play) -> None:
    await play.says(CLIENT_ID, "done")
    await play.says(CLIENT_ID, "6", message_id=77)
    assert "Effort 8 of 10" in await edits(play, 77, "8")


async def test_a_change_to_a_message_of_another_day_says_nothing_of_today(play: Play) -> None:
    await play.says(CLIENT_ID, "done", message_id=77)
    wednesday = dt.datetime(2026, 12, 2, 7, 30, tzinfo=dt.UTC)
    await play.until(wednesday)
    said = await edits(play, 77, "done!", sent=MONDAY)
    assert "You changed a message of Mon 30 Nov" in said
    assert await outcomes(play) == ["Mon 30 done", "Wed 02 open"]


async def test_a_sign_of_danger_is_heard_in_a_change_of_any_day(play: Play) -> None:
    await play.until(dt.datetime(2026, 12, 2, 7, 30, tzinfo=dt.UTC))
    assert "stop training" in await edits(play, 77, "chest pain when I run", sent=MONDAY)


@pytest.mark.parametrize("words", ["coach, my train is delayed", "Coach: I am moving house"])
async def test_what_begins_with_coach_is_for_the_coach_and_no_riddle(play: Play, words: str) -> None:
    said = await play.says(CLIENT_ID, words)
    assert said_to(said, CLIENT_ID).strip() == "Passed on to Ines Prado."
    assert "wrote:" in said_to(said, COACH_ID)


async def test_what_the_coach_said_is_not_said_to_the_coach(play: Play) -> None:
    said = await play.says(CLIENT_ID, "coach said a short one would do, did it")
    assert "Passed on" not in said_to(said, CLIENT_ID)


async def test_the_coach_hears_what_had_been_asked_when_it_was_written(play: Play) -> None:
    said = await play.says(CLIENT_ID, "done, but I feel rather low these days")
    assert "How hard was it" in said_to(said, CLIENT_ID)
    assert "I had asked how hard it was" not in said_to(said, COACH_ID)


async def test_back_where_nothing_was_paused_is_no_riddle(play: Play) -> None:
    said = await play.says(CLIENT_ID, "back")
    assert "You are on already" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""


async def in_silence(play: Play) -> None:
    await play.change(1, silent_since=dt.date(2026, 12, 2))
    play.at = dt.datetime(2026, 12, 21, 10, tzinfo=dt.UTC)
    await play.says(CLIENT_ID, "hello")
    await play.presses(CLIENT_ID, "I did train meanwhile")


@pytest.mark.parametrize(
    ("words", "days"),
    [
        ("Monday and Wednesday last week", ["Mon 14", "Wed 16"]),
        ("Monday and Wednesday", ["Mon 14", "Wed 16"]),
        ("Saturday and Monday, so today as well", ["Sat 19", "Mon 21"]),
    ],
)
async def test_days_in_silence_are_days_that_are_over(play: Play, words: str, days: list[str]) -> None:
    await in_silence(play)
    await play.says(CLIENT_ID, words)
    async with play.store.reading() as tx:
        done = [f"{a.day:%a %d}" for a in await house.asks_of(tx, 1) if a.took_place]
    assert done == days


async def test_a_sticker_is_asked_about_with_the_buttons_to_answer(play: Play) -> None:
    [said] = await play.sends(CLIENT_ID, sticker={"file_id": "s"})
    assert "Done" in said.buttons
    await play.presses(CLIENT_ID, "Done")
    [said] = await play.sends(CLIENT_ID, sticker={"file_id": "s"})
    assert said.buttons == {}
    assert "session" not in said.text


@pytest.mark.parametrize(
    "words", ["when is my next session?", "what's my promise again?", "show me the week"]
)
async def test_what_the_week_says_is_asked_of_nobody_else(play: Play, words: str) -> None:
    said = await play.says(CLIENT_ID, words)
    assert "promised 2" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""


async def test_another_question_about_the_plan_is_for_the_coach(play: Play) -> None:
    said = await play.says(CLIENT_ID, "what is the plan for my shoulder?")
    assert "for my shoulder" in said_to(said, COACH_ID)


@pytest.mark.parametrize(
    ("words", "until"),
    [("3 days", "Wed 2 Dec"), ("until Monday", "Sun 6 Dec"), ("for two weeks", "Sun 13 Dec")],
)
async def test_how_long_to_pause_may_be_written(play: Play, words: str, until: str) -> None:
    await play.says(CLIENT_ID, "/pause")
    assert f"Paused up to and including {until}" in said_to(await play.says(CLIENT_ID, words), CLIENT_ID)


async def test_a_question_about_pausing_is_left_by_an_answer_to_something_else(play: Play) -> None:
    await play.says(CLIENT_ID, "/pause")
    assert "Today: done" in said_to(await play.says(CLIENT_ID, "done"), CLIENT_ID)
    said = said_to(await play.says(CLIENT_ID, "7"), CLIENT_ID)
    assert "Effort 7" in said


async def test_days_are_picked_in_words_where_the_plan_was_shown(play: Play) -> None:
    [shown] = await play.says(CLIENT_ID, "/plan")
    assert list(shown.buttons) == ["Move one", "Fewer this week"]
    assert "Tue and Sat at 07:00" in said_to(await play.says(CLIENT_ID, "Tue and Sat"), CLIENT_ID)


@pytest.mark.parametrize("what", ["contact", "poll", "dice"])
async def test_what_is_of_no_use_is_said_to_be(play: Play, what: str) -> None:
    assert "I cannot do anything with that" in said_to(await play.sends(CLIENT_ID, **{what: {}}), CLIENT_ID)
    assert await play.sends(CLIENT_ID, pinned_message={"message_id": 1}) == []


async def test_a_thought_in_several_lines_is_not_called_a_riddle_line_by_line(play: Play) -> None:
    first = await play.says(CLIENT_ID, "about that thing")
    second = await play.says(CLIENT_ID, "with the other thing")
    assert "I am not sure" in said_to(first, CLIENT_ID)
    assert said_to(second, CLIENT_ID) == ""
    assert "the other thing" in said_to(second, COACH_ID)
    play.at += dt.timedelta(minutes=2)
    assert "I am not sure" in said_to(await play.says(CLIENT_ID, "and that thing"), CLIENT_ID)


@pytest.mark.parametrize("words", ["yes", "Yep!", "sure, thanks", "still good", "\N{THUMBS UP SIGN}"])
async def test_yes_to_still_good_is_no_session_that_was_done(play: Play, words: str) -> None:
    [said] = await play.says(CLIENT_ID, words)
    assert "Good: today at 07:00" in said.text
    assert list(said.buttons) == ["Show the session"]
    assert (await outcomes(play))[0] == "Mon 30 open"
    assert [m.kind for m in await play.until(MONDAY + dt.timedelta(hours=3))] == ["follow_up"]


async def test_yes_to_how_it_went_is_done(play: Play) -> None:
    await play.until(MONDAY + dt.timedelta(hours=3))
    await play.says(CLIENT_ID, "yes")
    assert (await outcomes(play))[0] == "Mon 30 done"


async def test_a_command_may_be_told_in_the_same_breath(play: Play) -> None:
    said = said_to(await play.says(CLIENT_ID, "/trip Honolulu 7-9 Dec"), CLIENT_ID)
    assert "Honolulu, 7 to 9 Dec: noted" in said
    assert "up to and including Wed 2 Dec" in said_to(await play.says(CLIENT_ID, "/pause 3 days"), CLIENT_ID)


async def test_a_change_of_another_day_takes_nothing_back(play: Play) -> None:
    await play.until(dt.datetime(2026, 12, 2, 7, 30, tzinfo=dt.UTC))
    await play.says(CLIENT_ID, "done")
    await edits(play, 77, "take it back", sent=MONDAY)
    assert (await outcomes(play))[1] == "Wed 02 done"


async def sent_as(play: Play, chat: int, words: str, number: int) -> None:
    """As if Telegram had taken the newest message to this chat that says so, under this number."""
    found = [m for m in await play.waiting(chat) if words in m.text][-1]
    async with play.store.begin() as tx:
        taken = update(outbox).where(outbox.c.id == found.id)
        await tx.execute(taken.values(state="sent", message_id=number, ended_at=play.at))


async def test_a_reply_to_the_coach_is_for_the_coach_and_a_change_by_the_coach_reaches_nobody(
    play: Play,
) -> None:
    await play.says(CLIENT_ID, "coach, is this weight right?")
    await sent_as(play, COACH_ID, "is this weight right", 31)
    await play.says(COACH_ID, "Yes, perfct", reply_to_message={"message_id": 31})
    await sent_as(play, CLIENT_ID, "Yes, perfct", 32)
    said = await play.says(CLIENT_ID, "thank you!", reply_to_message={"message_id": 32})
    assert "thank you!" in said_to(said, COACH_ID)
    changed: dict[str, Any] = {
        "message_id": 5,
        "chat": {"id": COACH_ID, "type": "private"},
        "from": {"id": COACH_ID},
        "text": "Yes, perfect",
        "reply_to_message": {"message_id": 31},
    }
    async with play.store.begin() as tx:
        await play.house.handle(tx, {"update_id": 9_999, "edited_message": changed}, play.at)
    said = await play.news()
    assert "a change does not reach them" in said_to(said, COACH_ID)
    assert said_to(said, CLIENT_ID) == ""


async def test_a_reply_to_a_prompt_is_not_for_the_coach(play: Play) -> None:
    await sent_as(play, CLIENT_ID, "Still good?", 33)
    said = await play.says(CLIENT_ID, "done", reply_to_message={"message_id": 33})
    assert said_to(said, COACH_ID) == ""
