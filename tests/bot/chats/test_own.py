"""What is the coach's own: added from the chat, and taken before ours."""

import pytest

from core.store import house
from core.store import programme as shelves
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

SESSION = "Deck session\n\nGoblet squat 3 x 10\n\nPush-up 3 x 12\n\nRow with the band 3 x 15"


async def add_exercise(play: Play, name: str = "Crate squat") -> None:
    await play.says(COACH_ID, "/own")
    await play.presses(COACH_ID, "Add an exercise")
    await play.says(COACH_ID, name)
    await play.presses(COACH_ID, "squat")
    await play.presses(COACH_ID, "dumbbells")
    await play.says(COACH_ID, "Hips first\nCrate stays still")


async def test_an_exercise_is_added_and_built_in_before_ours(play: Play) -> None:
    await play.client()
    await add_exercise(play)
    said = await play.sends(COACH_ID, voice={"file_id": "a", "file_size": 10, "duration": 2})
    assert "Kept for Crate squat" in said_to(said, COACH_ID)
    shown = await play.says(CLIENT_ID, "/now 30")
    assert "Crate squat" in said_to(shown, CLIENT_ID)
    assert any(label.startswith("See Crate squat") for m in shown for label in m.buttons)


@pytest.mark.parametrize(("cues", "taken"), [("Hips first", False), ("Hips first\nSpares: knee", True)])
async def test_an_own_exercise_is_kept_from_whom_it_may_hurt(play: Play, cues: str, taken: bool) -> None:
    """What the coach did not say of it is taken to be what its pattern usually asks."""
    await play.client(complaints=("knee",))
    await play.says(COACH_ID, "/own")
    for step in ("Add an exercise",):
        await play.presses(COACH_ID, step)
    await play.says(COACH_ID, "Crate squat")
    await play.presses(COACH_ID, "squat")
    asked = await play.presses(COACH_ID, "dumbbells")
    assert "Nobody whose ankle, hip, knee or lower back hurts will get it" in said_to(asked, COACH_ID)
    await play.says(COACH_ID, cues)
    shown = said_to(await play.says(CLIENT_ID, "/now 30"), CLIENT_ID)
    assert ("Crate squat" in shown) is taken


async def test_what_is_typed_instead_of_tapped_is_taken_and_a_bad_name_is_asked_again(play: Play) -> None:
    await play.says(COACH_ID, "/own")
    await play.presses(COACH_ID, "Add an exercise")
    for name in ("\u2003", "x" * 61):
        assert "one to 60 characters" in said_to(await play.says(COACH_ID, name), COACH_ID)
    await play.says(COACH_ID, "Crate squat")
    again = await play.says(COACH_ID, "the legs")
    assert "Which pattern does Crate squat train?" in said_to(again, COACH_ID)
    assert "squat" in again[0].buttons
    assert "What does it need" in said_to(await play.says(COACH_ID, "Squat"), COACH_ID)
    assert "What does it need" in said_to(await play.says(COACH_ID, "a crate"), COACH_ID)
    await play.says(COACH_ID, "dumbbells")
    said = said_to(await play.says(COACH_ID, "Hips first"), COACH_ID)
    assert "Crate squat is yours now: squat, dumbbells." in said


async def test_the_same_name_changes_the_exercise(play: Play) -> None:
    coach = await play.coach(7009, "Rui Sol")
    await add_exercise(play)
    await add_exercise(play, "crate squat")
    async with play.store.reading() as tx:
        everyone = await shelves.own_exercises.list(tx)
        theirs = await shelves.exercises_of(tx, coach.id)
    assert [each.name for each in everyone] == ["crate squat"]
    assert theirs == []


async def keep_session(play: Play) -> None:
    await play.says(COACH_ID, "/own")
    await play.presses(COACH_ID, "Write a session")
    await play.says(COACH_ID, SESSION)
    await play.presses(COACH_ID, "dumbbells")
    await play.presses(COACH_ID, "30")
    said = await play.presses(COACH_ID, "Keep it")
    assert "Kept: Deck session" in said_to(said, COACH_ID)


async def test_a_kept_session_comes_before_one_of_ours_but_not_twice_running(play: Play) -> None:
    await play.client()
    await keep_session(play)
    assert "Deck session" in said_to(await play.says(CLIENT_ID, "/now 30"), CLIENT_ID)
    await play.presses(CLIENT_ID, "Done")
    assert "Deck session" not in said_to(await play.says(CLIENT_ID, "/now 30"), CLIENT_ID)


async def test_a_kept_session_is_not_given_where_it_does_not_fit(play: Play) -> None:
    await play.client(complaints=("knee",))
    await keep_session(play)
    assert "Deck session" not in said_to(await play.says(CLIENT_ID, "/now 30"), CLIENT_ID)


async def test_one_of_mine_is_pushed_and_read_part_by_part(play: Play) -> None:
    await play.client()
    await keep_session(play)
    await play.says(COACH_ID, "/push")
    for label in ("Mara", "Go on", "One of mine", "Deck session", "Send it now"):
        await play.presses(COACH_ID, label)
    await play.presses(CLIENT_ID, "Show the session")
    await play.presses(CLIENT_ID, "One by one")
    part = await play.presses(CLIENT_ID, "Next")
    assert "Goblet squat" in said_to(part, CLIENT_ID)
    assert "Push-up" not in said_to(part, CLIENT_ID)


async def test_own_words_of_a_push_are_kept_for_again(play: Play) -> None:
    await play.client()
    await play.says(COACH_ID, "/push")
    for label in ("Mara", "Go on"):
        await play.presses(COACH_ID, label)
    await play.says(COACH_ID, SESSION)
    await play.presses(COACH_ID, "Keep it for again")
    await play.presses(COACH_ID, "Keep it")
    await play.presses(COACH_ID, "Send it now")
    async with play.store.reading() as tx:
        assert [s.title for s in await shelves.own_sessions.list(tx)] == ["Deck session"]
        assert len(await house.sessions.list(tx)) == 1


async def test_what_is_taken_away_is_gone(play: Play) -> None:
    await play.client()
    await add_exercise(play)
    await play.says(COACH_ID, "/own")
    await play.presses(COACH_ID, "Crate squat")
    await play.presses(COACH_ID, "Take it away")
    assert "Nothing of your own yet" in said_to(await play.says(COACH_ID, "/own"), COACH_ID)


async def test_a_new_exercise_takes_nothing_over_from_one_that_was_taken_away(play: Play) -> None:
    """Its video, its weights, an old button: all of that is the other one's."""
    await add_exercise(play)
    await play.says(COACH_ID, "/own")
    await play.presses(COACH_ID, "Crate squat")
    old = await keys(play)
    await play.presses(COACH_ID, "Take it away")
    await add_exercise(play, "Rope row")
    assert not set(old) & set(await keys(play))


async def keys(play: Play) -> list[str]:
    async with play.store.reading() as tx:
        return [each.key for each in await shelves.own_exercises.list(tx)]
