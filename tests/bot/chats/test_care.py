"""Red flags, pain, words for the coach: what comes before every count."""

import datetime as dt

import pytest

from core.calendar.weeks import IsoWeek
from core.store import house
from core.store.engine import Store
from core.terms import Outcome
from core.usecases import settle
from core.week.model import Hand
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.mara_on_monday()
    return stage


async def asks(play: Play) -> list[str]:
    async with play.store.reading() as tx:
        return [f"{a.day:%a} {a.outcome or 'open'}" for a in await house.asks_of(tx, 1)]


async def test_a_red_flag_stops_everything_and_alerts_the_coach_at_once(play: Play) -> None:
    said = await play.says(CLIENT_ID, "good session but had chest pain on the last set")
    to_client, to_coach = said_to(said, CLIENT_ID), said_to(said, COACH_ID)
    assert "stop training now" in to_client
    assert "112" in to_client  # Portugal
    assert "RED FLAG" in to_coach
    assert "chest pain on the last set" in to_coach
    assert (await asks(play))[0] == "Mon excused"


async def test_the_emergency_number_is_that_of_the_place_where_the_client_is(play: Play) -> None:
    await play.says(CLIENT_ID, "in Sydney until Friday")
    play.at += dt.timedelta(hours=2)
    said = await play.says(CLIENT_ID, "I fainted after the warm-up")
    assert "call 000" in said_to(said, CLIENT_ID)


async def test_the_coach_hears_again_until_it_is_seen(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain right now")
    first = await play.until(play.at + dt.timedelta(minutes=15))
    assert "told 2 times" in said_to(first, COACH_ID)
    await play.presses(COACH_ID, "I have seen")
    assert said_to(await play.until(play.at + dt.timedelta(hours=2)), COACH_ID) == ""


async def test_a_second_red_flag_of_the_same_client_is_told_again_although_the_first_was_seen(
    play: Play,
) -> None:
    await play.says(CLIENT_ID, "chest pain right now")
    await play.presses(COACH_ID, "I have seen this")
    await play.says(CLIENT_ID, "thought my heart would stop on that hill")
    again = await play.until(play.at + dt.timedelta(minutes=20))
    assert "told 2 times" in said_to(again, COACH_ID)
    assert "heart would stop" in said_to(again, COACH_ID)
    due = await play.house.next_due(play.store)
    assert due is not None
    assert due > play.at


async def test_while_a_red_flag_is_open_nothing_asks_to_train_and_no_session_opens(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain right now")
    refused = await play.presses(CLIENT_ID, "Show the session")
    assert "Not now: you told me of something that a doctor should look at" in said_to(refused, CLIENT_ID)
    assert "Not now" in said_to(await play.says(CLIENT_ID, "/now"), CLIENT_ID)
    said = await play.until(dt.datetime(2026, 12, 3, 13, tzinfo=dt.UTC))
    assert [m for m in said if m.chat_id == CLIENT_ID and m.kind in {"prompt", "follow_up"}] == []
    assert await asks(play) == ["Mon excused", "Wed excused"]


async def test_a_push_is_refused_while_a_red_flag_is_open(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain right now")
    await play.says(COACH_ID, "/push")
    for label in ("Mara", "Go on", "Show the draft"):
        await play.presses(COACH_ID, label)
    said = await play.presses(COACH_ID, "Send it now")
    assert "a red flag is open" in said_to(said, COACH_ID)
    assert said_to(said, CLIENT_ID) == ""


async def test_only_the_coach_clears_it_and_only_with_a_note(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain right now")
    await play.presses(COACH_ID, "Clear it")
    assert (await _flag(play)) is not None
    said = await play.says(COACH_ID, "Saw Dr Sousa, ECG normal, may go on easy")
    assert "cleared you" in said_to(said, CLIENT_ID)
    assert (await _flag(play)) is None
    async with play.store.reading() as tx:
        assert (await house.red_flags.list(tx))[0].note == "Saw Dr Sousa, ECG normal, may go on easy"


async def test_once_cleared_the_client_hears_what_is_left_of_a_week_that_was_never_told(store: Store) -> None:
    play = Play(store)
    await play.coach()
    client = await play.client()
    await play.until(dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC))
    async with play.store.begin() as tx:
        promise = await house.promise_for(tx, client.id, IsoWeek(2026, 49))
        assert promise is not None
        await settle.settle(tx, client, promise, 3, hand=Hand.COACH, at=play.at)
    await play.says(CLIENT_ID, "chest pain right now")
    await play.until(dt.datetime(2026, 12, 1, 9, tzinfo=dt.UTC))  # Monday noon is over: the days are assumed
    await play.presses(COACH_ID, "Clear it")
    said = said_to(await play.says(COACH_ID, "Seen by Dr Sousa, may go on easy"), CLIENT_ID)
    assert "cleared you" in said
    assert "Ahead of you this week: Wed and Fri at 07:00." in said
    later = await play.until(dt.datetime(2026, 12, 2, 7, tzinfo=dt.UTC))
    assert [m.kind for m in later if m.chat_id == CLIENT_ID] == ["prompt"]


async def test_of_a_week_that_was_told_nothing_is_told_again_when_cleared(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain right now")
    await play.presses(COACH_ID, "Clear it")
    said = said_to(await play.says(COACH_ID, "Seen by Dr Sousa, may go on easy"), CLIENT_ID)
    assert "Ahead of you" not in said


async def test_the_coach_reads_when_a_red_flag_was_raised_however_often_it_is_told(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain right now")
    again = await play.until(play.at + dt.timedelta(minutes=30))
    assert said_to(again, COACH_ID).count("Mon 07:00 there") == 2


async def test_of_two_clients_the_flag_that_was_pressed_is_the_one_that_is_cleared(play: Play) -> None:
    await play.client(user=CLIENT_ID + 1, name="Teo")
    await play.says(CLIENT_ID + 1, "chest pain right now")
    await play.says(CLIENT_ID, "I fainted after the warm-up")
    await play.presses(COACH_ID, "Clear it")
    await play.says(COACH_ID, "Low blood sugar, says Dr Sousa; may go on")
    async with play.store.reading() as tx:
        assert await house.open_red_flag(tx, 1) is None
        assert await house.open_red_flag(tx, 2) is not None


async def test_a_red_flag_is_cleared_from_the_clients_own_card_too(play: Play) -> None:
    await play.client(user=CLIENT_ID + 1, name="Teo")
    await play.says(CLIENT_ID + 1, "chest pain right now")
    await play.says(COACH_ID, "/clients")
    said = await play.presses(COACH_ID, "Teo")
    assert "Red flag since Mon 30 Nov: “chest pain right now”" in said_to(said, COACH_ID)
    await play.presses(COACH_ID, "Clear the red flag")
    await play.says(COACH_ID, "Seen by Dr Sousa, may go on easy")
    async with play.store.reading() as tx:
        assert await house.open_red_flag(tx, 2) is None
    await play.says(COACH_ID, "/clients")
    [card] = await play.presses(COACH_ID, "Teo")
    assert "Clear the red flag" not in card.buttons


async def _flag(play: Play) -> object:
    async with play.store.reading() as tx:
        return await house.open_red_flag(tx, 1)


async def test_a_figure_of_speech_is_asked_about_once_and_counts_until_it_is_answered(play: Play) -> None:
    said = await play.says(CLIENT_ID, "thought my heart would stop on that hill")
    assert "manner of speaking" in said_to(said, CLIENT_ID)
    assert "POSSIBLE RED FLAG" in said_to(said, COACH_ID)
    assert (await _flag(play)) is not None
    said = await play.presses(CLIENT_ID, "No, a figure")
    assert (await _flag(play)) is None
    assert "manner of speaking" in said_to(said, COACH_ID)


async def test_a_figure_of_speech_that_was_none_is_a_red_flag(play: Play) -> None:
    await play.says(CLIENT_ID, "thought my heart would stop on that hill")
    said = await play.presses(CLIENT_ID, "Yes, I felt")
    assert "stop training now" in said_to(said, CLIENT_ID)
    assert "<b>RED FLAG</b>" in said_to(said, COACH_ID)


async def test_pain_is_kept_by_place_and_the_session_leaves_it_alone(play: Play) -> None:
    said = await play.says(CLIENT_ID, "left knee hurts a bit going downstairs")
    assert "knee" in said_to(said, CLIENT_ID)
    assert "knee" in said_to(said, COACH_ID)
    shown = await play.presses(CLIENT_ID, "Show the session")
    async with play.store.reading() as tx:
        kept = (await house.sessions.list(tx))[0]
    assert shown
    from core.programme.movements import our_library
    from core.terms import Place

    library = our_library()
    built = [library.by_key[key] for key in kept.body["keys"]]
    assert built
    assert all(Place.KNEE not in exercise.avoid for exercise in built)


async def test_at_the_third_mention_a_physiotherapist_is_suggested(play: Play) -> None:
    for _ in range(2):
        said = await play.says(CLIENT_ID, "my knee hurts")
        assert "physiotherapist" not in said_to(said, CLIENT_ID)
        play.at += dt.timedelta(days=1)
    said = await play.says(CLIENT_ID, "my knee hurts")
    assert "physiotherapist" in said_to(said, CLIENT_ID)


async def test_a_red_flag_counts_during_the_first_questions_too(store: Store) -> None:
    stage = Play(store)
    await stage.coach()
    await stage.says(CLIENT_ID, f"/start {await stage.invitation(COACH_ID, 'Mara')}")
    await stage.presses(CLIENT_ID, "I agree")
    said = await stage.says(CLIENT_ID, "wait, I have chest pain right now")
    assert "stop training now" in said_to(said, CLIENT_ID)
    assert "RED FLAG" in said_to(said, COACH_ID)


async def test_the_excused_session_is_no_miss(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain right now")
    async with play.store.reading() as tx:
        first = (await house.asks_of(tx, 1))[0]
    assert first.outcome is Outcome.EXCUSED
    assert not first.missed_once


async def test_a_red_flag_in_a_caption_is_read_too(play: Play) -> None:
    photo = [{"file_id": "p", "file_size": 900, "width": 10, "height": 10}]
    said = await play.sends(CLIENT_ID, photo=photo, caption="had chest pain on the last set")
    assert "stop training now" in said_to(said, CLIENT_ID)
    assert "<b>RED FLAG</b>" in said_to(said, COACH_ID)
    assert any(m.method == "copyMessage" for m in said)
