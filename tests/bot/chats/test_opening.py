"""A session read where the client is and as they are by now: what began to hurt since is spared, another room is another session."""

import datetime as dt

from core.people.records import RemoteSession
from core.programme.movements import our_library
from core.store import house
from core.terms import Place, Room
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

MONDAY_0705 = dt.datetime(2026, 11, 30, 7, 5, tzinfo=dt.UTC)
LIBRARY = our_library()


async def at_the_prompt(play: Play) -> None:
    """Monday morning, with a session to be done at seven."""
    client = await play.client(room=Room.DUMBBELLS)
    await play.agreed(client, 3)
    await play.until(MONDAY_0705)


async def newest(play: Play) -> RemoteSession:
    async with play.store.reading() as tx:
        return (await house.sessions.list(tx))[-1]


def against_the_knee(sent: RemoteSession) -> list[str]:
    known = [LIBRARY.by_key[lift["key"]] for lift in sent.body["lifts"] if lift["key"] in LIBRARY.by_key]
    return [each.name for each in known if Place.KNEE in each.avoid]


async def test_what_began_to_hurt_is_spared_when_the_session_is_shown_again(play: Play) -> None:
    await at_the_prompt(play)
    await play.presses(CLIENT_ID, "Show the session")
    before = await newest(play)
    assert against_the_knee(before)
    await play.says(CLIENT_ID, "my knee hurts since yesterday")
    shown = said_to(await play.presses(CLIENT_ID, "Show the session"), CLIENT_ID)
    after = await newest(play)
    assert "Chosen to spare the knee" in shown
    assert after.id == before.id
    assert after.opened_at == before.opened_at
    assert against_the_knee(after) == []


async def test_nothing_new_means_the_same_session(play: Play) -> None:
    await at_the_prompt(play)
    await play.presses(CLIENT_ID, "Show the session")
    before = await newest(play)
    assert not [key for key in before.body["keys"] if Place.UPPER_BACK in LIBRARY.by_key[key].avoid]
    await play.says(CLIENT_ID, "my upper back hurts")
    await play.presses(CLIENT_ID, "Show the session")
    assert (await newest(play)).body["lifts"] == before.body["lifts"]


async def test_another_room_is_another_session(play: Play) -> None:
    await at_the_prompt(play)
    await play.presses(CLIENT_ID, "Show the session")
    before = await newest(play)
    await play.change(before.client_id, room=Room.NONE)
    shown = said_to(await play.presses(CLIENT_ID, "Show the session"), CLIENT_ID)
    assert "min, no equipment." in shown
    assert (await newest(play)).room is Room.NONE


async def test_what_has_begun_is_not_changed_but_what_to_leave_out_is_said(play: Play) -> None:
    await at_the_prompt(play)
    await play.presses(CLIENT_ID, "Show the session")
    await play.presses(CLIENT_ID, "One by one")
    before = await newest(play)
    first = against_the_knee(before)[0]
    await play.says(CLIENT_ID, "my knee hurts")
    step = said_to(await play.presses(CLIENT_ID, "Next"), CLIENT_ID)
    assert f"You told me of the knee: leave out {first}, or take something else for it below." in step
    assert (await newest(play)).body == before.body
    await play.presses(CLIENT_ID, "I cannot do this here")
    offered = await play.waiting(CLIENT_ID)
    names = [name for name in offered[-1].buttons if name in {each.name for each in LIBRARY}]
    assert names
    assert not [each for each in LIBRARY if each.name in names and Place.KNEE in each.avoid]


async def test_a_pushed_session_that_asks_something_of_what_hurts_says_so(play: Play) -> None:
    await play.client()
    await play.says(COACH_ID, "/push")
    for label in ("Mara", "Go on", "30", "Show the draft", "Send it now"):
        await play.presses(COACH_ID, label)
    names = against_the_knee(await newest(play))
    assert names
    await play.says(CLIENT_ID, "my knee hurts")
    shown = said_to(await play.presses(CLIENT_ID, "Show the session"), CLIENT_ID)
    assert f"You told me of the knee: leave out {names[0]}" in shown


async def test_own_words_that_ask_something_of_what_hurts_say_so_too(play: Play) -> None:
    await play.client(complaints=("knee",))
    await play.says(COACH_ID, "/push")
    for label in ("Mara", "Go on"):
        await play.presses(COACH_ID, label)
    await play.says(COACH_ID, "Deck session\n\nGoblet squat 3 x 10\n\nPush-up 3 x 12")
    await play.presses(COACH_ID, "Send it now")
    shown = said_to(await play.presses(CLIENT_ID, "Show the session"), CLIENT_ID)
    assert "leave out Goblet squat, or ask your coach what to do instead." in shown
