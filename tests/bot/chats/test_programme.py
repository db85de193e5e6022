"""A programme goes out as a file, and one that was written for a client comes before what is built."""

import base64

import pytest

from core.programme.movements import our_library
from core.programme.sheets.programme import programme_csv, read_programme
from core.store import house
from core.store import programme as shelves
from core.store.engine import Store
from core.usecases import keeping, own, sheets
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play, said_to

WRITTEN = """block,week,session,exercise,sets,repetitions,unit,rir,rest_s,kg,note
strength,1,1,Goblet squat,3,8 to 12,repetitions,2,60,20,
strength,1,1,Two-dumbbell bent-over row,3,8,repetitions,2,60,,
strength,1,2,Dumbbell hip thrust,3,10,repetitions,2,60,,
"""


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.client()
    return stage


def content_of(sent: Message) -> bytes:
    return base64.b64decode(sent.payload["files"]["document"]["content"])


async def take_in(play: Play) -> int:
    async with play.store.begin() as tx:
        client = (await house.clients.list(tx))[0]
        rows = read_programme(WRITTEN.encode(), "written.csv", our_library())
        return len(await sheets.take_in(tx, client, rows, play.at))


async def test_the_next_weeks_go_out_as_a_spreadsheet_that_can_be_read_again(play: Play) -> None:
    await play.says(COACH_ID, "/programme")
    workbook, text = await play.presses(COACH_ID, "Mara")
    rows = read_programme(content_of(workbook), "programme.xlsx", our_library())
    assert read_programme(content_of(text), "programme.csv", our_library()) == rows
    assert {row.week for row in rows} == {1, 2, 3, 4}
    assert {row.session for row in rows} == {1, 2}
    assert read_programme(programme_csv(rows), "again.csv", our_library()) == rows


async def test_what_was_written_comes_in_order_and_before_what_is_built(play: Play) -> None:
    assert await take_in(play) == 2
    await play.change((await clients(play))[0], minutes=45)
    first = said_to(await play.says(CLIENT_ID, "/now 45"), CLIENT_ID)
    assert "Goblet squat, 3 × 8 to 12 repetitions, 2 left in reserve, 20 kg; rest 60 s" in first
    await play.presses(CLIENT_ID, "Done")
    assert "Strength, week 1, session 2" in said_to(await play.says(CLIENT_ID, "/now 45"), CLIENT_ID)
    await play.presses(CLIENT_ID, "Done")
    assert "Hypertrophy, about" in said_to(await play.says(CLIENT_ID, "/now 45"), CLIENT_ID)


async def test_what_was_written_for_one_is_for_nobody_else(play: Play) -> None:
    await take_in(play)
    await play.client(7102, "Otis")
    assert "week 1, session 1" not in said_to(await play.says(7102, "/now 45"), 7102)


async def test_taking_in_again_replaces_and_erasing_removes(play: Play) -> None:
    await take_in(play)
    await take_in(play)
    async with play.store.begin() as tx:
        [client] = await house.clients.list(tx)
        assert len(await own.programme_of(tx, client)) == 2
        await keeping.erase(tx, client)
        assert await shelves.own_sessions.list(tx) == []


async def test_the_next_programme_begins_at_its_beginning_whatever_was_done_of_the_last(play: Play) -> None:
    await take_in(play)
    await play.change((await clients(play))[0], minutes=45)
    await play.says(CLIENT_ID, "/now 45")
    await play.presses(CLIENT_ID, "Done")
    await take_in(play)
    assert "week 1, session 1" in said_to(await play.says(CLIENT_ID, "/now 45"), CLIENT_ID)


async def test_a_file_that_is_too_large_gets_a_clear_sentence(play: Play) -> None:
    file = {"file_id": "d", "file_name": "year.xlsx", "file_size": 30_000_000}
    said = await play.sends(COACH_ID, document=file)
    assert said_to(said, COACH_ID) == "The file has 30 MB; I read up to 5 MB."


async def clients(play: Play) -> list[int]:
    async with play.store.reading() as tx:
        return [client.id for client in await house.clients.list(tx)]
