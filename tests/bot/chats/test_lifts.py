"""Results of lifts: by words or by buttons, kept, followed by the next session, seen by the coach."""

import datetime as dt
from typing import Any

import pytest

from core.people.records import RemoteSession
from core.store import house
from core.store import programme as shelves
from core.store.engine import Store
from core.usecases import keeping
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play, said_to


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.client()
    return stage


async def trained(play: Play) -> list[dict[str, Any]]:
    """A session of thirty minutes, done. Returns its lifts."""
    await play.says(CLIENT_ID, "/now 30")
    await play.presses(CLIENT_ID, "Done")
    return list((await newest(play)).body["lifts"])


async def newest(play: Play) -> RemoteSession:
    async with play.store.reading() as tx:
        return (await house.sessions.list(tx))[-1]


async def kept(play: Play) -> list[tuple[str, dict[str, Any]]]:
    async with play.store.reading() as tx:
        return [(each.exercise, each.done) for each in await shelves.lift_results.list(tx)]


async def asked_about_lifts(play: Play) -> list[Message]:
    await play.presses(CLIENT_ID, "7")
    return await play.presses(CLIENT_ID, "30")


async def test_results_in_words_are_kept_for_the_lift_that_they_name(play: Play) -> None:
    lift = (await trained(play))[0]
    said = await play.says(CLIENT_ID, f"{lift['name']} 3x8 at 20")
    assert f"{lift['name']}: 25 Nov, 20 kg 8 8 8. Noted." in said_to(said, CLIENT_ID)
    [(key, done)] = await kept(play)
    assert key == lift["key"]
    assert (done["sets"], done["kg"], done["goal"]) == ([8, 8, 8], 20, lift["goal"])


async def test_done_and_results_in_one_message(play: Play) -> None:
    lift = (await trained(play))[0]
    await play.says(CLIENT_ID, f"slept 6.5, {lift['name']} 20 kg 8 8 7")
    assert (await kept(play))[0][1]["sets"] == [8, 8, 7]
    async with play.store.reading() as tx:
        assert [night.hours for night in await house.nights.list(tx)] == [6.5]


async def test_asked_lift_after_lift_and_answered_by_words_and_buttons(play: Play) -> None:
    lifts = await trained(play)
    assert lifts[0]["name"] in said_to(await asked_about_lifts(play), CLIENT_ID)
    assert lifts[1]["name"] in said_to(await play.says(CLIENT_ID, "12, 10, 9"), CLIENT_ID)
    await play.presses(CLIENT_ID, "Too hard")
    results = dict(await kept(play))
    assert results[lifts[0]["key"]]["sets"] == [12, 10, 9]
    assert results[lifts[1]["key"]]["feel"] == "too hard"


async def test_too_hard_about_all_of_it(play: Play) -> None:
    lifts = await trained(play)
    await play.says(CLIENT_ID, "too hard")
    assert {done["feel"] for _, done in await kept(play)} == {"too hard"}
    assert len(await kept(play)) == len(lifts)


async def test_an_unnamed_result_is_asked_back_and_not_guessed(play: Play) -> None:
    await trained(play)
    assert "Which one was that?" in said_to(await play.says(CLIENT_ID, "3x8 at 20"), CLIENT_ID)
    assert await kept(play) == []


async def test_the_next_session_follows_from_the_weight(play: Play) -> None:
    lift = (await trained(play))[0]
    top = lift["goal"][1]
    sets = " ".join([str(top)] * lift["sets"])
    await play.says(CLIENT_ID, f"{lift['name']} 20 kg {sets}")
    async with play.store.reading() as tx:
        client = (await house.clients.list(tx))[0]
        results = await shelves.results_of(tx, client.id)
    assert results[0].done["kg"] == 20
    told = said_to(await play.says(COACH_ID, "/lifts"), COACH_ID)
    assert "Whose lifts?" in told
    shown = said_to(await play.presses(COACH_ID, "Mara"), COACH_ID)
    assert f"{lift['name']}: 25 Nov, 20 kg" in shown
    assert f"every set reached {top}" in shown


async def test_a_client_without_a_session_is_read_as_before(play: Play) -> None:
    said = await play.says(CLIENT_ID, "3x8 at 20")
    assert await kept(play) == []
    assert said_to(said, CLIENT_ID)


async def test_results_are_handed_over_and_removed_with_the_rest(play: Play) -> None:
    lift = (await trained(play))[0]
    await play.says(CLIENT_ID, f"{lift['name']} 3x8 at 20")
    async with play.store.begin() as tx:
        client = (await house.clients.list(tx))[0]
        held = await keeping.held_about(tx, client)
        assert held["lift_result"][0]["done"]["kg"] == 20
        await keeping.erase(tx, client)
    assert await kept(play) == []


async def test_the_night_that_the_next_prompt_asks_about_is_not_how_long_the_last_session_took(
    play: Play,
) -> None:
    await trained(play)
    await play.presses(CLIENT_ID, "7")  # and then nobody said how long it took
    async with play.store.reading() as tx:
        client = await house.clients.get(tx, 1)
    await play.until(dt.datetime(2026, 11, 29, 19, tzinfo=dt.UTC))
    await play.agreed(client, 2)
    await play.until(dt.datetime(2026, 11, 30, 7, tzinfo=dt.UTC))
    said = await play.says(CLIENT_ID, "about 6")
    assert "Slept 6 h" in said_to(said, CLIENT_ID)
    async with play.store.reading() as tx:
        assert [a.took_minutes for a in await house.asks_of(tx, 1) if a.took_minutes] == [30]


async def test_effort_of_a_new_session_is_not_the_minutes_of_the_one_before(play: Play) -> None:
    await trained(play)
    await play.presses(CLIENT_ID, "7")
    await play.says(CLIENT_ID, "another session done")
    await play.says(CLIENT_ID, "5")
    async with play.store.reading() as tx:
        told = [(a.effort, a.took_minutes) for a in await house.asks_of(tx, 1) if a.took_place]
    assert set(told) == {(7.0, 30), (5.0, None)}


@pytest.mark.parametrize("words", ["skip", "no idea", "didn't count", "that's all"])
async def test_who_did_not_count_says_so_and_the_coach_is_not_bothered(play: Play, words: str) -> None:
    await trained(play)
    await asked_about_lifts(play)
    said = await play.says(CLIENT_ID, words)
    assert said_to(said, CLIENT_ID).strip() == "Not counted, then. That is fine."
    assert said_to(said, COACH_ID) == ""
    assert await kept(play) == []
