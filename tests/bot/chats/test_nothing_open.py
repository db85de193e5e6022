"""A client of whom nothing is asked: what is said still says how things stand."""

import datetime as dt

from bot.chats.buttons import button
from bot.chats.phrases.day import extra_offer
from core.calendar.weeks import IsoWeek
from core.people.model import Stage
from core.store import house
from core.usecases import recommend
from tests.playhouse import CLIENT_ID, COACH_ID, MONDAY, Play, said_to


async def test_before_the_first_monday_the_week_says_when_it_begins(play: Play) -> None:
    await play.client()
    for command in ("/week", "/plan"):
        assert "Your first week begins on Mon 30 Nov" in said_to(
            await play.says(CLIENT_ID, command), CLIENT_ID
        )


async def test_before_the_coach_has_confirmed_the_week_says_so(play: Play) -> None:
    await play.client()
    await play.change(1, stage=Stage.WAITING, first_week=None)
    assert "Ines Prado has yet to confirm" in said_to(await play.says(CLIENT_ID, "/week"), CLIENT_ID)


async def test_before_the_coach_has_confirmed_no_session_is_given(play: Play) -> None:
    await play.client()
    await play.change(1, stage=Stage.WAITING, first_week=None)
    [said] = await play.says(CLIENT_ID, "/now")
    assert "Ines Prado has yet to confirm" in said.text
    async with play.store.reading() as tx:
        assert await house.sessions.list(tx) == []


async def test_a_hello_is_met_with_one(play: Play) -> None:
    await play.mara_on_monday()
    assert said_to(await play.says(CLIENT_ID, "hello"), CLIENT_ID).startswith("Hello.")
    assert said_to(await play.says(CLIENT_ID, "thanks"), CLIENT_ID).strip() == "Any time."


async def test_a_week_that_is_settled_already_is_told_as_such_on_sunday(play: Play) -> None:
    client = await play.client()
    async with play.store.begin() as tx:
        learnt, _ = await recommend.population(tx, play.at.date())
        promise = await recommend.first_promise(tx, client, play.at, learnt)
    data = play.house.desk.signer.data(button("", "set", promise.id, 2), COACH_ID)
    await play.presses(COACH_ID, "", data=data)
    said = said_to(await play.until(dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC)), COACH_ID)
    assert "→ <b>2 × 45 min</b> (settled; 1 was recommended, " in said
    assert "One needs you" not in said


async def test_back_from_nowhere_changes_nothing_and_tells_no_coach(play: Play) -> None:
    await play.mara_on_monday()
    said = await play.says(CLIENT_ID, "/back")
    assert "on already" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""


async def test_a_client_leaves_a_question_of_the_settings(play: Play) -> None:
    await play.mara_on_monday()
    await play.says(CLIENT_ID, "/settings")
    await play.presses(CLIENT_ID, "goal")
    assert "left as it was" in said_to(await play.says(CLIENT_ID, "/cancel"), CLIENT_ID)
    assert "Today: done" in said_to(await play.says(CLIENT_ID, "done"), CLIENT_ID)
    assert "Nothing is open" in said_to(await play.says(CLIENT_ID, "/cancel"), CLIENT_ID)


async def test_a_question_of_the_settings_that_nobody_answered_takes_no_answer_to_the_next_prompt(
    play: Play,
) -> None:
    client = await play.client()
    await play.agreed(client, 2)
    await play.says(CLIENT_ID, "/settings")
    await play.presses(CLIENT_ID, "goal")
    await play.until(MONDAY)
    assert "Today: done" in said_to(await play.says(CLIENT_ID, "done"), CLIENT_ID)
    async with play.store.reading() as tx:
        assert (await house.clients.get(tx, client.id)).goal == client.goal


async def test_the_settings_show_what_was_told_and_then_what_it_became(play: Play) -> None:
    await play.client()
    said = said_to(await play.says(CLIENT_ID, "/settings"), CLIENT_ID)
    assert "Lisbon; 2 sessions a week lately; 45 minutes; dumbbells" in said
    await play.presses(CLIENT_ID, "minutes")
    assert "Changed: 30 minutes." in said_to(await play.presses(CLIENT_ID, "30"), CLIENT_ID)


def test_more_is_offered_in_other_words_than_the_week_before() -> None:
    week = IsoWeek(2026, 49)
    for days in (1, 4):
        said = [extra_offer(20, days, week.plus(n)) for n in range(4)]
        assert len(set(said[:3])) == 3
        assert said[3] == said[0]
        assert all("20 minutes" in each for each in said)
        assert all(("one day" in each.lower()) == (days == 1) for each in said)


async def test_what_was_done_in_silence_is_no_reason_to_offer_more(play: Play) -> None:
    await play.mara_on_monday()
    await play.until(dt.datetime(2026, 12, 8, 9, tzinfo=dt.UTC))  # a week without a word
    await play.says(CLIENT_ID, "hello")
    assert "On which days?" in said_to(await play.presses(CLIENT_ID, "I did train"), CLIENT_ID)
    said = said_to(await play.says(CLIENT_ID, "Monday"), CLIENT_ID)
    assert "done" in said
    assert "20 minutes" not in said


async def test_ten_minutes_after_a_miss_are_met_without_a_correction(play: Play) -> None:
    await play.mara_on_monday()
    await play.presses(CLIENT_ID, "Can't today")
    said = said_to(await play.says(CLIENT_ID, "did a short one"), CLIENT_ID)
    assert "Today: a short one after all. It counts." in said
    assert "Corrected" not in said


async def test_what_cannot_be_read_offers_buttons_only_where_there_is_a_session(play: Play) -> None:
    await play.client()
    [_, said] = await play.says(CLIENT_ID, "florbel wexing")
    assert "tap" not in said.text
    assert said.buttons == {}
