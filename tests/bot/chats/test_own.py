"""What belongs to the client: trips, pausing, stopping, coming back, data; and what must never break the queue."""

import base64
import datetime as dt
import json

import pytest
from sqlalchemy import select

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Stage
from core.store import house
from core.store.engine import Store
from core.store.schema import all_tables
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

MONDAY = dt.datetime(2026, 11, 30, 7, tzinfo=dt.UTC)
CANARY = "Quiberon-canary-7f3a"


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.agreed(await stage.client(), 3)
    return stage


async def mara(play: Play) -> Client:
    async with play.store.reading() as tx:
        found = await house.client_by_telegram(tx, CLIENT_ID)
    assert found is not None
    return found


async def test_a_trip_in_words_moves_the_prompts_to_the_clock_there(play: Play) -> None:
    said = await play.says(CLIENT_ID, "in Singapore 1-6 Dec")
    assert "Singapore, 1 to 6 Dec" in said_to(said, CLIENT_ID)
    await play.presses(CLIENT_ID, "a hotel gym")
    said = await play.until(dt.datetime(2026, 12, 1, 22, 59, tzinfo=dt.UTC))
    wednesday = [m for m in said if m.kind == "prompt" and "hotel gym" in m.text]
    assert wednesday == []
    said = await play.until(dt.datetime(2026, 12, 1, 23, 0, tzinfo=dt.UTC))  # Wednesday 07:00 in Singapore
    assert "a hotel gym" in said_to([m for m in said if m.kind == "prompt"], CLIENT_ID)


async def test_a_zone_change_never_doubles_a_prompt(play: Play) -> None:
    first = await play.until(MONDAY)
    await play.says(CLIENT_ID, "in New York 30 Nov to 6 Dec")
    later = await play.until(MONDAY + dt.timedelta(hours=20))
    keys = [m.key for m in (*first, *later) if m.kind == "prompt"]
    assert len(keys) == len(set(keys)) == 1


async def test_out_of_reach_nothing_is_asked_and_nothing_counted(play: Play) -> None:
    await play.says(CLIENT_ID, "in Reykjavik 30 Nov to 6 Dec")
    await play.presses(CLIENT_ID, "Out of reach")
    said = await play.until(dt.datetime(2026, 12, 7, tzinfo=dt.UTC))
    assert [m for m in said if m.chat_id == CLIENT_ID and m.kind in {"prompt", "follow_up", "sleep"}] == []
    async with play.store.reading() as tx:
        assert all(a.withdrawn for a in await house.asks_of_week(tx, 1, IsoWeek(2026, 49)))


async def test_the_coach_notes_a_trip_in_a_line(play: Play) -> None:
    await play.says(COACH_ID, "/clients")
    await play.presses(COACH_ID, "Mara")
    await play.presses(COACH_ID, "Add a trip")
    said = await play.says(COACH_ID, "in Bergen 3-7 Dec")
    assert "Bergen, 3 to 7 Dec" in said_to(said, COACH_ID)
    assert "Your coach has noted a trip" in said_to(said, CLIENT_ID)


async def test_a_pause_asks_nothing_until_it_is_over(play: Play) -> None:
    await play.says(CLIENT_ID, "/pause")
    said = await play.presses(CLIENT_ID, "2 weeks")
    assert "Paused up to and including Tue 8 Dec" in said_to(said, CLIENT_ID)
    assert "pauses" in said_to(said, COACH_ID)
    said = await play.until(dt.datetime(2026, 12, 8, 23, tzinfo=dt.UTC))
    assert said_to(said, CLIENT_ID) == ""


async def test_stop_works_at_once_and_back_brings_them_back(play: Play) -> None:
    said = await play.says(CLIENT_ID, "/stop")
    assert "I have stopped" in said_to(said, CLIENT_ID)
    assert (await mara(play)).stage is Stage.STOPPED
    said = await play.until(dt.datetime(2026, 12, 20, tzinfo=dt.UTC))
    assert said_to(said, CLIENT_ID) == ""
    assert "back on" in said_to(await play.says(CLIENT_ID, "back"), CLIENT_ID)
    assert (await mara(play)).stage is Stage.ACTIVE


async def test_who_blocks_the_bot_is_asked_nothing_until_they_write_again(play: Play) -> None:
    await play.blocks(CLIENT_ID)
    assert (await mara(play)).unreachable
    said = await play.until(MONDAY + dt.timedelta(hours=12))
    assert said_to(said, CLIENT_ID) == ""
    await play.says(CLIENT_ID, "hello")
    assert not (await mara(play)).unreachable


async def test_two_silent_days_begin_silence_and_any_word_ends_it(play: Play) -> None:
    said = await play.until(dt.datetime(2026, 12, 3, 12, tzinfo=dt.UTC))
    assert "silent since Mon 30 Nov" in said_to(said, COACH_ID)
    assert said_to(await play.until(dt.datetime(2026, 12, 6, 17, tzinfo=dt.UTC)), CLIENT_ID) == ""
    said = await play.says(CLIENT_ID, "sorry, mad week")
    assert "Nothing is owed" in said_to(said, CLIENT_ID)
    assert "not sure I read" not in said_to(said, CLIENT_ID)
    assert "Mara is back" in said_to(said, COACH_ID)
    assert (await mara(play)).silent_since is None


async def test_a_silent_week_asks_once_on_sunday(play: Play) -> None:
    await play.until(dt.datetime(2026, 12, 6, 23, tzinfo=dt.UTC))
    said = await play.until(dt.datetime(2026, 12, 14, 11, tzinfo=dt.UTC))
    to_client = [m for m in said if m.chat_id == CLIENT_ID]
    assert [m.kind for m in to_client] == ["weekly"]
    assert "no backlog" in to_client[0].text
    async with play.store.reading() as tx:
        week = await house.asks_of_week(tx, 1, IsoWeek(2026, 50))
    assert [(a.day, a.weekly) for a in week if not a.withdrawn] == [(dt.date(2026, 12, 13), True)]


async def test_export_holds_everything_and_is_a_file(play: Play) -> None:
    await play.says(CLIENT_ID, f"coach, {CANARY}")
    said = await play.says(CLIENT_ID, "/export")
    document = next(m for m in said if m.method == "sendDocument")
    held = json.loads(base64.b64decode(document.payload["files"]["document"]["content"]))
    assert held["client"]["name"] == "Mara"
    assert CANARY in json.dumps(held)
    assert {"ask", "promise", "night", "remark", "trip", "screening"} <= set(held)


async def test_erase_leaves_no_trace(play: Play) -> None:
    await play.says(CLIENT_ID, f"coach, {CANARY}")
    await play.says(CLIENT_ID, "in Lisbon 3-7 Dec")
    await play.says(CLIENT_ID, "/erase")
    said = await play.presses(CLIENT_ID, "Remove it all")
    assert "Everything about you has been removed" in said_to(said, CLIENT_ID)
    assert "has left" in said_to(said, COACH_ID)
    async with play.store.reading() as tx:
        for table in all_tables().sorted_tables:
            rows = (await tx.execute(select(table))).mappings().all()
            assert CANARY not in repr([dict(r) for r in rows]), table.name
        assert await house.clients.list(tx) == []
        assert await house.asks.list(tx) == []


@pytest.mark.parametrize(
    "words",
    ["x" * 4096, "\U0001f6b2" * 500, "שלום, התאמנתי היום", "<b>done</b> & <i>", "\x00", " ", "/", "/nosuch"],
)
async def test_odd_texts_get_a_clear_sentence_and_the_queue_goes_on(play: Play, words: str) -> None:
    said = await play.says(CLIENT_ID, words)
    assert said_to(said, CLIENT_ID)
    assert "Traceback" not in said_to(said, CLIENT_ID)
    assert said_to(await play.says(CLIENT_ID, "/week"), CLIENT_ID)


@pytest.mark.parametrize(
    "update",
    [
        {},
        {"update_id": 1},
        {"update_id": 1, "message": {}},
        {"update_id": 1, "message": {"chat": {"id": 5, "type": "private"}}},
        {"update_id": 1, "message": {"from": 5, "chat": "x", "text": 7}},
        {"update_id": 1, "callback_query": {"from": {"id": CLIENT_ID}, "data": None}},
        {"update_id": "x", "poll": {}},
        {
            "update_id": 1,
            "my_chat_member": {"chat": {"id": -5, "type": "group"}, "new_chat_member": {"status": "member"}},
        },
    ],
)
async def test_malformed_updates_are_left_alone_or_answered(play: Play, update: dict[str, object]) -> None:
    async with play.store.begin() as tx:
        await play.house.handle(tx, update, play.at)  # type: ignore[arg-type]


async def test_a_group_is_left(play: Play) -> None:
    group = {
        "message_id": 1,
        "chat": {"id": -77, "type": "group"},
        "from": {"id": CLIENT_ID},
        "text": "hello",
    }
    async with play.store.begin() as tx:
        await play.house.handle(tx, {"update_id": 1, "message": group}, play.at)  # type: ignore[dict-item]
    said = await play.news()
    assert [(m.method, m.chat_id) for m in said] == [("leaveChat", -77)]


async def test_a_sticker_is_asked_back(play: Play) -> None:
    said = await play.sends(CLIENT_ID, sticker={"file_id": "s", "emoji": "!"})
    assert "words and buttons" in said_to(said, CLIENT_ID)
