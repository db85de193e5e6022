"""A coach who has nobody to choose, or has left off: what is said still says what to do next."""

import pytest

from core.store import house
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to


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
