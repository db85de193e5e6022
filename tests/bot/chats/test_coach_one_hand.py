"""A coach with one hand on the phone: what is seen at a glance, and what was meant for a client reaches the client."""

import datetime as dt

import pytest

from core.store import house
from core.store.engine import Store
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

PLACE = {"latitude": 60.39, "longitude": 5.32}


@pytest.fixture
async def play(store: Store) -> Play:
    """Ines and her client Mara, who lives in Lisbon; the Wednesday before the first week."""
    stage = Play(store)
    await stage.coach()
    await stage.client()
    return stage


async def zone_of_coach(play: Play) -> str:
    async with play.store.reading() as tx:
        coach = await house.coach_by_telegram(tx, COACH_ID)
    assert coach is not None
    return coach.zone


async def test_an_open_red_flag_is_seen_in_the_list_of_everyone(play: Play) -> None:
    await play.client(7102, "Teo")
    await play.says(CLIENT_ID, "chest pain since this morning")
    lines = said_to(await play.says(COACH_ID, "/clients"), COACH_ID).splitlines()
    assert "<b>red flag open</b>" in next(line for line in lines if line.startswith("Mara"))
    assert "red flag" not in next(line for line in lines if line.startswith("Teo"))


async def test_a_voice_note_is_no_note_that_clears_a_red_flag(play: Play) -> None:
    await play.says(CLIENT_ID, "chest pain since this morning")
    await play.presses(COACH_ID, "Clear it")
    said = said_to(await play.sends(COACH_ID, voice={"file_id": "v", "duration": 3}), COACH_ID)
    assert "write the note that clears the red flag" in said
    assert "Cleared" in said_to(await play.says(COACH_ID, "Saw Dr Lund: muscular, may train"), COACH_ID)


async def test_a_place_in_a_message_to_a_client_goes_to_the_client(play: Play) -> None:
    await play.says(COACH_ID, "/write")
    await play.presses(COACH_ID, "Mara")
    await play.presses(COACH_ID, "Go on")
    said = await play.sends(COACH_ID, location=PLACE)
    assert [m.method for m in said if m.chat_id == CLIENT_ID] == ["sendMessage", "copyMessage"]
    assert await zone_of_coach(play) == "Europe/Lisbon"


async def test_a_place_of_its_own_is_where_the_coach_is(play: Play) -> None:
    await play.sends(COACH_ID, location=PLACE)
    assert await zone_of_coach(play) == "Europe/Oslo"


async def test_a_hello_is_met_with_one_and_lost_words_with_the_way_to_send_them(play: Play) -> None:
    assert said_to(await play.says(COACH_ID, "hi there!"), COACH_ID).startswith("Hello.")
    said = said_to(await play.says(COACH_ID, "Mara, how is your knee?"), COACH_ID)
    assert "nothing was sent" in said
    assert "/write" in said


async def test_the_digest_again_takes_all_that_is_well_by_one_tap(play: Play) -> None:
    await play.client(7102, "Teo")
    await play.until(dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC))
    again = [m for m in await play.says(COACH_ID, "/digest") if m.buttons]
    assert [list(m.buttons) for m in again] == [["Accept all 2"]]
    await play.presses(COACH_ID, "", data=again[0].buttons["Accept all 2"])
    assert [m for m in await play.says(COACH_ID, "/digest") if m.buttons] == []


async def test_the_digest_again_calls_nobody_well_whose_number_falls(play: Play) -> None:
    async with play.store.reading() as tx:
        mara = await house.clients.get(tx, 1)
    await play.agreed(mara, 3)
    for day in (30, 32, 34):
        await play.until(dt.datetime(2026, 11, 1, 7, 30, tzinfo=dt.UTC) + dt.timedelta(days=day - 1))
        await play.says(CLIENT_ID, "done")
    await play.until(dt.datetime(2026, 12, 6, 18, tzinfo=dt.UTC))
    text = said_to(await play.says(COACH_ID, "/digest"), COACH_ID)
    assert "3 of 3 done" in text
    assert "fewer next week" in text
    assert "All is well" not in text


async def test_sixty_names_are_not_read_out(play: Play) -> None:
    for number in range(20):
        await play.client(7200 + number, f"Crew {number:02}")
    await play.says(COACH_ID, "/write")
    said = said_to(await play.presses(COACH_ID, "Everyone"), COACH_ID)
    assert "Crew 06 and 14 more: what you send next goes to them" in said
    assert "Crew 06 and 14 more." in said_to(await play.says(COACH_ID, "Well done"), COACH_ID)


async def test_a_number_is_the_length_of_a_session_and_no_session_in_own_words(play: Play) -> None:
    await play.says(COACH_ID, "/push")
    for label in ("Mara", "Go on"):
        await play.presses(COACH_ID, label)
    assert "dumbbells, 25 minutes?" in said_to(await play.says(COACH_ID, "25 min"), COACH_ID)
    assert "Draft" in said_to(await play.says(COACH_ID, "3 rounds: squat 10, push-up 10"), COACH_ID)


async def test_the_digest_again_begins_with_who_needs_the_coach_most(play: Play) -> None:
    for number, name in ((7102, "Aron"), (7103, "Zita")):
        await play.agreed(await play.client(number, name), 1)
    await play.until(dt.datetime(2026, 11, 30, 8, tzinfo=dt.UTC))
    await play.says(7102, "can't today")
    await play.says(7103, "can't today, my knee hurts")
    await play.until(dt.datetime(2026, 12, 6, 18, tzinfo=dt.UTC))
    asked = [m.text for m in await play.says(COACH_ID, "/digest") if "Another number" in m.buttons]
    assert asked[0].startswith("<b>Zita</b>")


@pytest.mark.parametrize("comes_back", ["unblocked", "in words"])
async def test_digests_come_again_to_a_coach_who_had_blocked_the_bot(play: Play, comes_back: str) -> None:
    await play.blocks(COACH_ID)
    await play.until(dt.datetime(2026, 12, 1, 12, tzinfo=dt.UTC))  # a Sunday has gone by
    if comes_back == "unblocked":
        await play.blocks(COACH_ID, left=False)
    else:
        await play.says(COACH_ID, "/clients")
    said = await play.until(dt.datetime(2026, 12, 6, 18, tzinfo=dt.UTC))
    assert "Week 49" in said_to(said, COACH_ID)


@pytest.mark.parametrize(
    ("command", "says"),
    [
        ("/write Mara", "Write to Mara:"),
        ("/write mar", "Write to Mara:"),
        ("/write Mara how is the knee", "Write to Mara:"),
        ("/clients mara", "Likes to train"),
        ("/lifts Mara", "Mara has told no results"),
        ("/push Mara", "For Mara: dumbbells"),
        ("/write Nobody", "Write to whom?"),
    ],
)
async def test_a_name_after_a_command_saves_the_taps(play: Play, command: str, says: str) -> None:
    assert says in said_to(await play.says(COACH_ID, command), COACH_ID)


async def test_a_name_that_two_bear_is_asked_for(play: Play) -> None:
    await play.client(7102, "Marina")
    assert "Write to whom?" in said_to(await play.says(COACH_ID, "/write mar"), COACH_ID)
    assert "Write to Mara:" in said_to(await play.says(COACH_ID, "/write Mara"), COACH_ID)


async def test_a_word_of_thanks_does_not_take_the_place_of_what_was_written(play: Play) -> None:
    await play.says(COACH_ID, "/push Mara")
    await play.says(COACH_ID, "Three rounds:\nswing 10")
    assert said_to(await play.says(COACH_ID, "thanks!"), COACH_ID).strip() == "Any time."
    said = await play.presses(COACH_ID, "Send it now")
    assert "sends you a session: Three rounds. It waits" in said_to(said, CLIENT_ID)


async def test_a_voice_note_beside_a_draft_is_told_where_it_belongs(play: Play) -> None:
    await play.says(COACH_ID, "/push Mara")
    await play.says(COACH_ID, "Three rounds:\nswing 10")
    said = await play.sends(COACH_ID, voice={"file_id": "v", "duration": 3})
    assert "stays with one exercise" in said_to(said, COACH_ID)
