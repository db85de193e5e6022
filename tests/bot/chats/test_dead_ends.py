"""Where a conversation has nothing to go on with: what is said still says what to do next."""

import datetime as dt

import pytest

from bot.chats.buttons import button
from bot.chats.phrases.day import extra_offer
from core.calendar.weeks import IsoWeek
from core.people.model import Stage
from core.store import house
from core.store.engine import Store
from core.usecases import recommend
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

MONDAY = dt.datetime(2026, 11, 30, 7, tzinfo=dt.UTC)


@pytest.fixture
async def play(store: Store) -> Play:
    """A coach whom nobody has joined yet, on the Wednesday before."""
    stage = Play(store)
    await stage.coach()
    return stage


async def mara_on_monday(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 2)
    await play.until(MONDAY)


# --- a coach with nobody to choose ------------------------------------------------------------------------------------


@pytest.mark.parametrize("command", ["push", "write", "lifts", "year", "programme", "clients"])
async def test_a_coach_without_clients_hears_how_to_invite_one(play: Play, command: str) -> None:
    [said] = await play.says(COACH_ID, f"/{command}")
    assert "/invite Name" in said.text
    assert said.buttons == {}


@pytest.mark.parametrize("command", ["push", "programme"])
async def test_a_coach_whose_clients_have_not_begun_hears_what_they_wait_for(
    play: Play, command: str
) -> None:
    await play.says(COACH_ID, "/invite Mara")
    assert "then you confirm" in said_to(await play.says(COACH_ID, f"/{command}"), COACH_ID)


async def test_a_link_that_nobody_opened_can_be_made_anew_or_taken_back(play: Play) -> None:
    await play.says(COACH_ID, "/invite Mara")
    assert "Mara: has not opened the link yet" in said_to(await play.says(COACH_ID, "/clients"), COACH_ID)
    [card] = await play.presses(COACH_ID, "Mara")
    assert list(card.buttons) == ["New link", "Remove"]
    await play.presses(COACH_ID, "Remove")
    assert "Nothing was removed" in said_to(await play.presses(COACH_ID, "Keep it"), COACH_ID)


async def test_cancelling_says_what_was_left(play: Play) -> None:
    assert "Nothing was under way" in said_to(await play.says(COACH_ID, "/cancel"), COACH_ID)
    await play.client()
    await play.says(CLIENT_ID, "chest pain right now")
    await play.presses(COACH_ID, "Clear it")
    assert "stays open" in said_to(await play.says(COACH_ID, "/cancel"), COACH_ID)
    async with play.store.reading() as tx:
        assert await house.open_red_flag(tx, 1) is not None


async def test_another_digest_hour_is_no_first_day(play: Play) -> None:
    await play.says(COACH_ID, "/settings")
    await play.presses(COACH_ID, "Change hour")
    said = said_to(await play.presses(COACH_ID, "19:00"), COACH_ID)
    assert said.strip() == "Sunday at 19:00 it is, in Lisbon."


async def test_a_message_that_is_too_long_is_refused_whole_and_may_be_shortened(play: Play) -> None:
    await play.client()
    await play.says(COACH_ID, "/write")
    await play.presses(COACH_ID, "Mara")
    await play.presses(COACH_ID, "Go on")
    said = await play.says(COACH_ID, "x" * 3400)
    assert "3,000 characters" in said_to(said, COACH_ID)
    assert said_to(said, CLIENT_ID) == ""
    assert "see you Friday" in said_to(await play.says(COACH_ID, "see you Friday"), CLIENT_ID)


async def test_a_client_who_wanted_more_hears_that_the_coach_leaves_it(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 2)
    await play.says(CLIENT_ID, "/plan")
    await play.presses(CLIENT_ID, "Another number")
    said = said_to(await play.presses(CLIENT_ID, "4"), COACH_ID)
    assert "would like 4 rather than 2" in said
    said = said_to(await play.presses(COACH_ID, "Leave it"), CLIENT_ID)
    assert "Ines Prado would rather stay at 2 sessions for 30 Nov to 6 Dec" in said


async def test_an_invitation_asks_for_the_name(play: Play) -> None:
    assert "client's name" in said_to(await play.says(COACH_ID, "/invite"), COACH_ID)
    assert "Forward this to Zoe Hart" in said_to(await play.says(COACH_ID, "Zoe Hart"), COACH_ID)
    assert said_to(await play.says(COACH_ID, "thanks"), COACH_ID).strip() == "Any time."
    async with play.store.reading() as tx:
        assert [client.name for client in await house.clients.list(tx)] == ["Zoe Hart"]


@pytest.mark.parametrize("opened", ["Write", "Clear it", "/invite"])
async def test_after_a_command_no_words_go_where_they_would_have_gone_before(play: Play, opened: str) -> None:
    await play.client()
    await play.says(CLIENT_ID, "chest pain right now")
    await (play.says(COACH_ID, opened) if opened.startswith("/") else play.presses(COACH_ID, opened))
    await play.says(COACH_ID, "/settings")
    said = await play.says(COACH_ID, "that went well")
    assert said_to(said, CLIENT_ID) == ""
    assert "did not catch" in said_to(said, COACH_ID)
    async with play.store.reading() as tx:
        assert len(await house.clients.list(tx)) == 1
        assert await house.open_red_flag(tx, 1) is not None


async def test_a_trip_that_the_coach_calls_off_is_told_to_the_client(play: Play) -> None:
    await play.client()
    await play.says(COACH_ID, "/clients")
    await play.presses(COACH_ID, "Mara")
    await play.presses(COACH_ID, "Add a trip")
    said = said_to(await play.says(COACH_ID, "in Bergen 3-7 Dec"), CLIENT_ID)
    assert "Ines Prado has put a trip into your plan: Bergen, 3 to 7 Dec." in said
    said = said_to(await play.presses(COACH_ID, "Call it off"), CLIENT_ID)
    assert "taken Bergen, 3 to 7 Dec, off your plan" in said


@pytest.mark.parametrize("opened", ["Write", "Clear it", "Add a trip"])
async def test_words_for_somebody_who_has_left_meanwhile_are_not_met_with_silence(
    play: Play, opened: str
) -> None:
    await play.client()
    await play.says(CLIENT_ID, "chest pain right now")
    await play.says(COACH_ID, "/clients")
    await play.presses(COACH_ID, "Mara")
    await play.presses(COACH_ID, opened)
    await play.says(CLIENT_ID, "/erase")
    await play.presses(CLIENT_ID, "Remove it all")
    assert "did not catch" in said_to(await play.says(COACH_ID, "in Bergen 3-7 Dec"), COACH_ID)


async def test_a_push_that_something_else_has_ended_is_not_gone_on_with(play: Play) -> None:
    await play.client()
    await play.says(COACH_ID, "/push")
    await play.presses(COACH_ID, "Mara")
    await play.presses(COACH_ID, "Go on")
    await play.says(COACH_ID, "/cancel")
    assert "had its day" in said_to(await play.presses(COACH_ID, "20"), COACH_ID)


# --- a client with nothing to answer ----------------------------------------------------------------------------------


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
    await mara_on_monday(play)
    assert said_to(await play.says(CLIENT_ID, "hello"), CLIENT_ID).startswith("Hello.")
    assert said_to(await play.says(CLIENT_ID, "thanks"), CLIENT_ID).strip() == "Any time."


async def test_a_week_that_is_settled_already_is_told_as_such_on_sunday(play: Play) -> None:
    client = await play.client()
    async with play.store.begin() as tx:
        promise = await recommend.first_promise(tx, client, play.at)
    data = play.house.desk.signer.data(button("", "set", promise.id, 2), COACH_ID)
    await play.presses(COACH_ID, "", data=data)
    said = said_to(await play.until(dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC)), COACH_ID)
    assert "→ <b>2 × 45 min</b> (settled; 1 was recommended, " in said
    assert "One needs you" not in said


async def test_back_from_nowhere_changes_nothing_and_tells_no_coach(play: Play) -> None:
    await mara_on_monday(play)
    said = await play.says(CLIENT_ID, "/back")
    assert "on already" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""


async def test_a_client_leaves_a_question_of_the_settings(play: Play) -> None:
    await mara_on_monday(play)
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
    assert said_to(await play.presses(CLIENT_ID, "30"), CLIENT_ID).strip() == "Changed: 30 minutes."


def test_more_is_offered_in_other_words_than_the_week_before() -> None:
    week = IsoWeek(2026, 49)
    for days in (1, 4):
        said = [extra_offer(20, days, week.plus(n)) for n in range(4)]
        assert len(set(said[:3])) == 3
        assert said[3] == said[0]
        assert all("20 minutes" in each for each in said)
        assert all(("one day" in each.lower()) == (days == 1) for each in said)


async def test_what_was_done_in_silence_is_no_reason_to_offer_more(play: Play) -> None:
    await mara_on_monday(play)
    await play.until(dt.datetime(2026, 12, 8, 9, tzinfo=dt.UTC))  # a week without a word
    await play.says(CLIENT_ID, "hello")
    assert "On which days?" in said_to(await play.presses(CLIENT_ID, "I did train"), CLIENT_ID)
    said = said_to(await play.says(CLIENT_ID, "Monday"), CLIENT_ID)
    assert "done" in said
    assert "20 minutes" not in said


async def test_ten_minutes_after_a_miss_are_met_without_a_correction(play: Play) -> None:
    await mara_on_monday(play)
    await play.presses(CLIENT_ID, "Can't today")
    said = said_to(await play.says(CLIENT_ID, "did a short one"), CLIENT_ID)
    assert "Today: a short one after all. It counts." in said
    assert "Corrected" not in said


async def test_what_cannot_be_read_offers_buttons_only_where_there_is_a_session(play: Play) -> None:
    await play.client()
    [_, said] = await play.says(CLIENT_ID, "florbel wexing")
    assert "tap" not in said.text
    assert said.buttons == {}


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
    await mara_on_monday(play)
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
    await mara_on_monday(play)
    await play.says(CLIENT_ID, "/trip")
    await play.presses(CLIENT_ID, "Add a trip")
    assert "a place called qwxyz" in said_to(await play.says(CLIENT_ID, "qwxyz"), CLIENT_ID)
    assert "Bergen: from when to when?" in said_to(await play.says(CLIENT_ID, "Bergen"), CLIENT_ID)
    said = said_to(await play.says(CLIENT_ID, "florbel wexing"), CLIENT_ID)
    assert "as dates" in said
    assert "/cancel" in said
    assert "Bergen, 3 to 7 Dec: noted" in said_to(await play.says(CLIENT_ID, "3-7 Dec"), CLIENT_ID)


async def test_who_has_stopped_looks_something_up_without_beginning_again(play: Play) -> None:
    await mara_on_monday(play)
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
    await mara_on_monday(play)
    await play.says(CLIENT_ID, "/plan")
    await play.presses(CLIENT_ID, "Fewer this week")
    said = await play.presses(CLIENT_ID, "2")
    assert "It is 2 sessions already" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""


async def test_a_paused_week_says_until_when(play: Play) -> None:
    await mara_on_monday(play)
    await play.says(CLIENT_ID, "/pause")
    await play.presses(CLIENT_ID, "1 week")
    assert "Paused up to and including Sun 6 Dec" in said_to(await play.says(CLIENT_ID, "/week"), CLIENT_ID)


async def test_of_several_places_of_one_name_the_right_one_is_tapped(play: Play) -> None:
    await mara_on_monday(play)
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
    assert "Agreed: 1 session, Mon at 18:30." in said


async def test_days_with_an_hour_are_days_although_an_hour_was_asked_for(play: Play) -> None:
    await play.client()
    await play.until(dt.datetime(2026, 11, 29, 20, 45, tzinfo=dt.UTC))
    await play.presses(CLIENT_ID, "Another time")
    said = said_to(await play.says(CLIENT_ID, "Thursday at 18:00"), CLIENT_ID)
    assert "Agreed: 1 session, Thu at 18:00." in said


async def test_what_is_told_and_not_asked_is_thanked_for(play: Play) -> None:
    await mara_on_monday(play)
    said = await play.says(CLIENT_ID, "feeling pretty low lately")
    assert "Thank you for telling me. I have passed it on to Ines Prado." in said_to(said, CLIENT_ID)
    assert "feeling pretty low lately" in said_to(said, COACH_ID)


async def test_what_the_coach_sees_is_listed_once(play: Play) -> None:
    await mara_on_monday(play)
    await play.says(CLIENT_ID, "knee hurts")
    assert said_to(await play.says(CLIENT_ID, "/mine"), CLIENT_ID).count("knee hurts") == 1


async def test_where_all_is_done_no_fewer_are_offered(play: Play) -> None:
    await mara_on_monday(play)
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
