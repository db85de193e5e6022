"""A session pushed by a coach: drafted, changed by hand, sent now or in the morning, read, swapped, done, with its receipts."""

import datetime as dt
from typing import Any

from sqlalchemy import update

from core.people.records import RemoteSession
from core.store import house
from core.store.lanes import State
from core.store.queue_tables import outbox
from core.terms import Room
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play, queued, said_to

VIDEO = {"file_id": "v1", "file_size": 90_000, "duration": 8}


async def drafted(play: Play, name: str = "Mara", minutes: str = "30") -> list[Message]:
    await play.says(COACH_ID, "/push")
    for label in (name, "Go on", minutes):
        await play.presses(COACH_ID, label)
    return await play.presses(COACH_ID, "Show the draft")


async def session_of(play: Play) -> RemoteSession:
    async with play.store.reading() as tx:
        return (await house.sessions.list(tx))[-1]


def names(body: dict[str, Any]) -> list[str]:
    return [lift["name"] for lift in body["lifts"]]


async def test_one_exercise_is_swapped_in_the_draft(play: Play) -> None:
    await play.client()
    before = said_to(await drafted(play), COACH_ID)
    offered = await play.presses(COACH_ID, "Swap one")
    first = next(iter(offered[0].buttons))
    offers = (await play.presses(COACH_ID, first))[-1]
    chosen = next(iter(offers.buttons))
    after = said_to(await play.presses(COACH_ID, chosen), COACH_ID)
    assert first in before
    assert f"A. {chosen}" in after
    assert f"A. {first}" not in after


async def test_easier_and_shorter_change_the_draft(play: Play) -> None:
    await play.client()
    first = said_to(await drafted(play), COACH_ID)
    easier = said_to(await play.presses(COACH_ID, "Easier"), COACH_ID)
    assert easier != first
    shorter = said_to(await play.presses(COACH_ID, "Shorter"), COACH_ID)
    assert "about 20 min" in shorter
    await play.presses(COACH_ID, "Send it now")
    assert (await session_of(play)).minutes == 20


async def test_what_was_swapped_in_stays_when_it_gets_longer(play: Play) -> None:
    await play.client()
    await drafted(play)
    which = await play.presses(COACH_ID, "Swap one")
    old = list(which[0].buttons)[1]
    offers = (await play.presses(COACH_ID, old))[-1]
    new = list(offers.buttons)[-1]
    assert new in said_to(await play.presses(COACH_ID, new), COACH_ID)
    longer = said_to(await play.presses(COACH_ID, "Longer"), COACH_ID)
    assert "about 45 min" in longer
    assert new in longer
    assert f"{old}, " not in longer


async def test_minutes_that_no_session_takes_are_answered_in_a_sentence(play: Play) -> None:
    await play.client()
    for asked, minutes in (("3", 10), ("400", 180), ("soon", 10), ("9" * 40, 180)):
        said = await play.says(CLIENT_ID, f"/now {asked}")
        assert f"A session takes 10 to 180 minutes, and I read '{asked}'" in said[0].text
        assert f"here is one of {minutes}." in said[0].text
        assert said[1].buttons
    assert "A session takes" not in said_to(await play.says(CLIENT_ID, "/now 25"), CLIENT_ID)
    assert "A session takes" not in said_to(await play.says(CLIENT_ID, "/now"), CLIENT_ID)


async def test_a_line_of_the_coachs_own_stands_first(play: Play) -> None:
    await play.client()
    await drafted(play)
    await play.presses(COACH_ID, "Add a line")
    await play.says(COACH_ID, "Slow on the way down <3")
    await play.presses(COACH_ID, "Send it now")
    shown = await play.presses(CLIENT_ID, "Show the session")
    assert shown[0].text.startswith("Slow on the way down &lt;3")


async def test_what_two_get_spares_what_hurts_either(play: Play) -> None:
    await play.client()
    otis = await play.client(7102, "Otis", complaints=("knee",))
    await play.says(COACH_ID, "/push")
    for label in ("Mara", "Otis", "Go on"):
        await play.presses(COACH_ID, label)
    await play.presses(COACH_ID, "Show the draft")
    await play.presses(COACH_ID, "Send it now")
    sent = await session_of(play)
    assert sent.client_id == otis.id
    assert sent.body["request"]["complaints"] == ["knee"]


async def test_in_their_morning_waits_for_the_end_of_quiet_hours_where_they_are(play: Play) -> None:
    await play.client(zone="Asia/Singapore", country="SG", place="Singapore")
    await drafted(play)
    said = await play.presses(COACH_ID, "In their morning")
    assert "Mara Thu 07:00 there" in said_to(said, COACH_ID)
    key = next(m.key for m in said if m.chat_id == CLIENT_ID)
    async with play.store.reading() as tx:
        row = await queued(tx, key)
    assert row.not_before == dt.datetime(2026, 11, 25, 23, tzinfo=dt.UTC)


async def test_a_session_that_waits_does_not_go_out_after_a_red_flag(play: Play) -> None:
    await play.client()
    await drafted(play)
    said = await play.presses(COACH_ID, "In their morning")
    key = next(m.key for m in said if m.chat_id == CLIENT_ID)
    async with play.store.begin() as tx:
        row = await queued(tx, key)
        assert await play.house.still_true(tx, row)
    await play.says(CLIENT_ID, "I had chest pain on the stairs")
    async with play.store.begin() as tx:
        assert not await play.house.still_true(tx, row)


async def test_a_video_for_an_exercise_goes_with_it_and_is_kept_for_again(play: Play) -> None:
    await play.client()
    await drafted(play)
    which = await play.presses(COACH_ID, "Video or voice note")
    name = next(iter(which[0].buttons))
    await play.presses(COACH_ID, name)
    said = await play.sends(COACH_ID, video=VIDEO)
    assert f"Kept for {name}" in said_to(said, COACH_ID)
    await play.presses(COACH_ID, "Send it now")
    await play.presses(CLIENT_ID, "Show the session")
    seen = await play.presses(CLIENT_ID, f"See {name}"[:40])
    copied = next(m for m in seen if m.method == "copyMessage")
    assert copied.payload["from_chat_id"] == COACH_ID
    again = await drafted(play)
    assert f"With a video or voice note of yours: {name}" in said_to(again, COACH_ID)


async def test_a_picture_is_no_video(play: Play) -> None:
    await play.client()
    await drafted(play)
    which = await play.presses(COACH_ID, "Video or voice note")
    await play.presses(COACH_ID, next(iter(which[0].buttons)))
    said = await play.sends(COACH_ID, photo=[{"file_id": "p", "file_size": 3}])
    assert "A video, a round video or a voice note" in said_to(said, COACH_ID)


async def test_the_client_goes_step_by_step_and_swaps_what_the_room_lacks(play: Play) -> None:
    await play.client(room=Room.DUMBBELLS)
    await drafted(play)
    await play.presses(COACH_ID, "Send it now")
    await play.presses(CLIENT_ID, "Show the session")
    await play.presses(CLIENT_ID, "One by one")
    await play.presses(CLIENT_ID, "Next")
    old = names((await session_of(play)).body)
    offers = (await play.presses(CLIENT_ID, "I cannot do this here"))[-1]
    chosen = next(iter(offers.buttons))
    shown = await play.presses(CLIENT_ID, chosen)
    assert chosen in said_to(shown, CLIENT_ID)
    body = (await session_of(play)).body
    assert chosen in names(body)
    assert old[0] not in names(body)
    assert chosen in body["messages"][0]


async def test_after_done_effort_then_minutes_then_lifts(play: Play) -> None:
    await play.client()
    await drafted(play)
    await play.presses(COACH_ID, "Send it now")
    await play.presses(CLIENT_ID, "Show the session")
    said = await play.presses(CLIENT_ID, "Done")
    assert "Mara has done 30 minutes" in said_to(said, COACH_ID)
    assert "how long" in said_to(await play.presses(CLIENT_ID, "7"), CLIENT_ID)
    lift = names((await session_of(play)).body)[0]
    assert lift in said_to(await play.says(CLIENT_ID, "35"), CLIENT_ID)
    async with play.store.reading() as tx:
        ask = (await house.asks.list(tx))[-1]
    assert (ask.effort, ask.took_minutes) == (7, 35)


async def test_done_in_words_marks_the_session_that_was_opened(play: Play) -> None:
    await play.client()
    await drafted(play)
    await play.presses(COACH_ID, "Send it now")
    await play.presses(CLIENT_ID, "Show the session")
    await play.says(CLIENT_ID, "done")
    assert "done Wed 12:00" in said_to(await play.says(COACH_ID, "/sent"), COACH_ID)
    await play.presses(CLIENT_ID, "Take it back")
    assert "done Wed" not in said_to(await play.says(COACH_ID, "/sent"), COACH_ID)


async def test_a_form_check_says_of_which_session_and_exercise_and_the_answer_comes_back(play: Play) -> None:
    await play.client()
    await drafted(play)
    await play.presses(COACH_ID, "Send it now")
    await play.presses(CLIENT_ID, "Show the session")
    await play.presses(CLIENT_ID, "One by one")
    await play.presses(CLIENT_ID, "Next")
    said = await play.sends(CLIENT_ID, video=VIDEO, caption="depth ok?")
    lift = names((await session_of(play)).body)[0]
    told = said_to(said, COACH_ID)
    assert "session: 30 minutes, dumbbells" in told
    assert f"at {lift}" in told
    copied = next(m for m in said if m.method == "copyMessage")
    async with play.store.begin() as tx:
        await tx.execute(
            update(outbox).where(outbox.c.key == copied.key).values(state=State.SENT.value, message_id=777)
        )
    answer = await play.says(COACH_ID, "Deeper, please", reply_to_message={"message_id": 777})
    assert "Deeper, please" in said_to(answer, CLIENT_ID)


async def test_a_stale_draft_button_says_so(play: Play) -> None:
    await play.client()
    await drafted(play)
    await play.presses(COACH_ID, "Send it now")
    assert "had its day" in said_to(await play.presses(COACH_ID, "Easier"), COACH_ID)
