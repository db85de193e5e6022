"""A coach and a client come in: links, consent, questions, screening, the first promise."""

import datetime as dt

import pytest

from bot.chats.buttons import button
from bot.chats.phrases import privacy
from core.people.model import Client, Stage
from core.store import house
from core.store.engine import Store
from core.terms import Level, Room
from tests.playhouse import CLIENT_ID, COACH_ID, NOTHING_TO_DECLARE, Play, said_to


@pytest.fixture
async def play(store: Store) -> Play:
    return Play(store)


async def _client(play: Play) -> Client:
    async with play.store.reading() as tx:
        found = await house.client_by_telegram(tx, CLIENT_ID)
    assert found is not None
    return found


async def test_a_stranger_gets_one_polite_line_an_hour(play: Play) -> None:
    assert said_to(await play.says(1, "hello"), 1) == privacy.STRANGER
    assert await play.says(1, "hello?") == []
    play.at += dt.timedelta(hours=1)
    assert said_to(await play.says(1, "hello??"), 1) == privacy.STRANGER


async def test_a_coach_confirms_zone_and_digest_hour(play: Play) -> None:
    coach = await play.coach_by_link()
    assert (coach.zone, coach.digest_at, coach.stage) == ("Europe/Lisbon", dt.time(18), Stage.ACTIVE)
    assert coach.next_due_at is not None


async def test_a_link_opens_once(play: Play) -> None:
    await play.coach()
    token = await play.invitation(COACH_ID, "Mara")
    assert "Hello Mara" in said_to(await play.says(CLIENT_ID, f"/start {token}"), CLIENT_ID)
    assert said_to(await play.says(7102, f"/start {token}"), 7102) == privacy.BAD_LINK


async def test_a_link_expires(play: Play) -> None:
    await play.coach()
    token = await play.invitation(COACH_ID, "Mara")
    play.at += dt.timedelta(hours=72)
    assert said_to(await play.says(CLIENT_ID, f"/start {token}"), CLIENT_ID) == privacy.BAD_LINK


async def test_only_the_hash_of_a_link_is_kept(play: Play) -> None:
    await play.coach()
    token = await play.invitation(COACH_ID, "Mara")
    async with play.store.reading() as tx:
        kept = await house.invitations.list(tx)
    assert all(token not in str(invitation) for invitation in kept)


@pytest.mark.parametrize(("lately", "taps"), [("2", 14), ("4", 15)])
async def test_nothing_to_declare_takes_at_most_fifteen_taps(play: Play, lately: str, taps: int) -> None:
    await play.coach()
    assert await play.enrol(CLIENT_ID, await play.invitation(COACH_ID, "Mara"), lately=lately) == taps
    client = await _client(play)
    assert client.stage is Stage.WAITING
    assert (client.zone, client.country, client.lately, client.minutes) == (
        "Europe/Lisbon",
        "PT",
        int(lately),
        45,
    )
    assert (client.room, client.level, client.usual_days) == (Room.DUMBBELLS, Level.INTERMEDIATE, (1, 3, 5))
    assert (client.usual_time, client.sleep_need) == (dt.time(7), 8.0)
    assert client.consented_at == play.at


async def test_nothing_is_asked_before_consent(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    assert "Is that all right" in said_to(await play.says(CLIENT_ID, "hi there"), CLIENT_ID)
    assert (await _client(play)).consented_at is None


async def test_the_questions_can_be_left_and_resumed(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, "Lisbon")
    play.at += dt.timedelta(days=2)
    assert "How many sessions a week" in said_to(await play.says(CLIENT_ID, "/week"), CLIENT_ID)
    await play.presses(CLIENT_ID, "3")
    assert (await _client(play)).lately == 3


async def test_an_answer_can_be_corrected_by_going_back(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, "Lisbon")
    await play.presses(CLIENT_ID, "5")
    assert "How many sessions a week" in said_to(await play.presses(CLIENT_ID, "Back"), CLIENT_ID)
    await play.presses(CLIENT_ID, "2")
    assert (await _client(play)).lately == 2


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        ("nine", "not a number of sessions"),
        ("12", "not a number of sessions"),
        ("2.5", "not a number of sessions"),
    ],
)
async def test_a_bad_answer_says_what_is_wrong_and_asks_again(play: Play, words: str, complaint: str) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, "Lisbon")
    said = await play.says(CLIENT_ID, words)
    assert complaint in said_to(said, CLIENT_ID)
    assert "0" in said[0].buttons


async def test_an_ambiguous_city_is_asked_back(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    said = await play.says(CLIENT_ID, "Springfield")
    assert len(said[0].buttons) > 1
    await play.presses(CLIENT_ID, next(iter(said[0].buttons)))
    assert (await _client(play)).place == "Springfield"


async def test_a_location_tells_the_zone_and_the_ocean_does_not(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    assert "no town" in said_to(
        await play.sends(CLIENT_ID, location={"latitude": -40.0, "longitude": -110.0}), CLIENT_ID
    )
    await play.sends(CLIENT_ID, location={"latitude": 60.39, "longitude": 5.32})
    assert (await _client(play)).zone == "Europe/Oslo"


async def test_a_declared_sign_goes_to_the_coach_and_needs_a_note(play: Play) -> None:
    await play.coach()
    token = await play.invitation(COACH_ID, "Mara")
    await play.says(CLIENT_ID, f"/start {token}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, "Lisbon")
    for label in (
        "2",
        "45",
        "dumbbells",
        "Years",
        "knee",
        "Go on",
        "Get str",
        "Any day",
        "18:30",
        "8 h",
        "Yes, that",
    ):
        await play.presses(CLIENT_ID, label)
    await play.presses(CLIENT_ID, "3")
    said = await play.presses(CLIENT_ID, "Go on")
    assert "see a doctor before you start" in said_to(said, CLIENT_ID)
    assert "fainted" in said_to(said, COACH_ID)
    assert "doctor first" in said_to(await play.presses(COACH_ID, "Confirm"), COACH_ID)
    assert (await _client(play)).stage is Stage.WAITING
    await play.says(COACH_ID, "Dr Sousa agreed on 24 Nov, light effort.")
    assert (await _client(play)).stage is Stage.ACTIVE
    async with play.store.reading() as tx:
        assert (await house.screenings.list(tx))[0].note == "Dr Sousa agreed on 24 Nov, light effort."


@pytest.mark.parametrize("between", ["none", "what is number 8?", "/week"])
async def test_what_was_declared_stays_declared_whatever_is_written_between(play: Play, between: str) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, "Lisbon")
    for label in ("2", *NOTHING_TO_DECLARE):
        await play.presses(CLIENT_ID, label)
    await play.presses(CLIENT_ID, "3")
    [again] = await play.says(CLIENT_ID, between)
    assert "3 •" in again.buttons
    said = said_to(await play.presses(CLIENT_ID, "Go on"), COACH_ID)
    assert "Declared: dizzy spells, or having fainted." in said


async def test_going_on_with_nothing_ticked_declares_nothing_to_be_well(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, "Lisbon")
    for label in ("2", *NOTHING_TO_DECLARE):
        await play.presses(CLIENT_ID, label)
    await play.presses(CLIENT_ID, "3")
    await play.presses(CLIENT_ID, "3")  # taken back
    data = play.house.desk.signer.data(button("", "scrdone"), CLIENT_ID)
    said = await play.presses(CLIENT_ID, "", data=data)
    assert "Before any training" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""
    assert (await _client(play)).stage is Stage.ENROLLING


async def test_without_the_coachs_word_nothing_is_asked_and_no_session_is_sent(play: Play) -> None:
    await play.coach()
    await play.enrol(CLIENT_ID, await play.invitation(COACH_ID, "Mara"))
    said = await play.until(play.at + dt.timedelta(days=14))
    assert said_to(said, CLIENT_ID) == ""


async def test_the_first_promise_starts_on_the_monday_after_and_is_at_most_what_was_lately(
    play: Play,
) -> None:
    await play.coach()
    await play.enrol(CLIENT_ID, await play.invitation(COACH_ID, "Mara"), lately="2")
    await play.presses(COACH_ID, "Confirm")
    async with play.store.reading() as tx:
        promise = (await house.promises_of(tx, (await _client(play)).id))[0]
    assert str(promise.week) == "2026-W49"
    assert promise.recommended is not None
    assert 1 <= promise.recommended <= 2


async def test_a_name_with_markup_is_shown_as_it_is(play: Play) -> None:
    await play.coach()
    said = await play.says(COACH_ID, "/invite <b>Tom & Co</b>")
    assert "&lt;b&gt;Tom &amp; Co&lt;/b&gt;" in said[0].text


async def test_a_coach_sees_own_clients_only(play: Play) -> None:
    await play.coach()
    await play.client()
    await play.coach(7002, "Otto Lind", zone="Europe/Oslo")
    assert "no clients yet" in said_to(await play.says(7002, "/clients"), 7002)
    mine = await play.says(COACH_ID, "/clients")
    look = mine[0].buttons["Mara"]
    assert "had its day" in said_to(await play.presses(7002, "", data=look), 7002)


@pytest.mark.parametrize("leave", ["/stop", "pause for a week"])
async def test_who_leaves_before_the_coach_has_confirmed_comes_back_to_waiting_for_it(
    play: Play, leave: str
) -> None:
    await play.coach()
    await play.enrol(CLIENT_ID, await play.invitation(COACH_ID, "Mara"))
    await play.says(CLIENT_ID, leave)
    assert "Ines Prado has yet to confirm" in said_to(await play.says(CLIENT_ID, "back"), CLIENT_ID)
    assert (await _client(play)).stage is Stage.WAITING
    await play.says(CLIENT_ID, "/now")
    async with play.store.reading() as tx:
        assert await house.sessions.list(tx) == []
    await play.presses(COACH_ID, "Confirm")
    assert (await _client(play)).stage is Stage.ACTIVE


async def test_before_the_coach_has_confirmed_there_is_nothing_to_pause(play: Play) -> None:
    await play.coach()
    await play.enrol(CLIENT_ID, await play.invitation(COACH_ID, "Mara"))
    [said] = await play.says(CLIENT_ID, "/pause")
    assert "Ines Prado has yet to confirm" in said.text
    assert said.buttons == {}


async def test_who_stops_amid_the_first_questions_comes_back_to_them(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    await play.says(CLIENT_ID, "Lisbon")
    await play.says(CLIENT_ID, "/stop")
    said = said_to(await play.says(CLIENT_ID, "/back"), CLIENT_ID)
    assert "a week" in said
    assert (await _client(play)).stage is Stage.ENROLLING


@pytest.mark.parametrize(
    ("question", "words", "kept"),
    [
        ("lately", "2-3", 2),
        ("lately", "3 or 4 times", 3),
        ("minutes", "1 hour", 60),
        ("minutes", "1,5 hours", 90),
        ("minutes", "45 min", 45),
    ],
)
async def test_numbers_are_read_as_people_write_them(
    play: Play, question: str, words: str, kept: int
) -> None:
    await play.coach()
    await play.client()
    await play.presses(
        CLIENT_ID, "", data=play.house.desk.signer.data(button("", "change", question), CLIENT_ID)
    )
    await play.says(CLIENT_ID, words)
    assert getattr(await _client(play), question) == kept


async def test_a_city_that_was_written_is_told_with_the_clock_there(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    assert "Bergen, where it is 13:00 now" in said_to(await play.says(CLIENT_ID, "Bergen, Norway"), CLIENT_ID)


async def test_a_sticker_puts_the_question_again(play: Play) -> None:
    await play.coach()
    await play.says(CLIENT_ID, f"/start {await play.invitation(COACH_ID, 'Mara')}")
    await play.presses(CLIENT_ID, "I agree")
    assert "Where do you live?" in said_to(await play.sends(CLIENT_ID, sticker={"file_id": "s"}), CLIENT_ID)


async def test_another_hour_says_from_when_it_holds(play: Play) -> None:
    await play.coach()
    await play.client()
    await play.says(CLIENT_ID, "/settings")
    await play.presses(CLIENT_ID, "hour")
    assert "what is planned already stays" in said_to(await play.says(CLIENT_ID, "6 am"), CLIENT_ID)
