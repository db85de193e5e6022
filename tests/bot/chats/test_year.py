"""The year of one client from the coach's chat: lines, the picture, accepted; then sessions follow its blocks."""

import base64
import datetime as dt

import pytest

from core.people.model import Client
from core.store import house
from core.store import programme as shelves
from core.store.engine import Store
from core.terms import Block
from core.usecases.carrying import phase_on
from tests.playhouse import COACH_ID, Play, said_to

OPENING = "Opening night,2027-03-20,,event,3,strength"


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.client()
    await stage.says(COACH_ID, "/year")
    await stage.presses(COACH_ID, "Mara")
    return stage


async def test_a_year_is_laid_out_drawn_and_accepted(play: Play) -> None:
    assert "Opening night (event, strength, 3 of 3)" in said_to(await play.says(COACH_ID, OPENING), COACH_ID)
    await play.says(COACH_ID, "Winter break,2026-12-24,2027-01-03,holiday")
    shown = await play.presses(COACH_ID, "Lay it out")
    pictures = [m for m in shown if m.method == "sendPhoto"]
    content = base64.b64decode(pictures[0].payload["files"]["photo"]["content"])
    assert content.startswith(b"\x89PNG")
    assert "for Opening night" in said_to(shown, COACH_ID)
    await play.presses(COACH_ID, "Accept")
    async with play.store.reading() as tx:
        [year] = await shelves.years.list(tx)
    assert {each["name"] for each in year.events} == {"Opening night", "Winter break"}
    assert year.blocks[0]["from"] == "2026-11-30"


async def test_every_bad_line_is_named_and_nothing_is_taken(play: Play) -> None:
    said = await play.says(COACH_ID, "Gala,2020-01-01,,event,3,strength\nRegatta,soon,,event,9,fun")
    told = said_to(said, COACH_ID)
    assert "Nothing was changed" in told
    assert "line 1: 'Gala' is over" in told
    assert "line 2: 'from' is a date" in told
    assert "line 3" not in told
    assert "Gala" not in said_to(await play.presses(COACH_ID, "12 weeks"), COACH_ID)


async def test_what_was_written_is_still_there_after_change_it(play: Play) -> None:
    await play.says(COACH_ID, OPENING)
    await play.presses(COACH_ID, "Lay it out")
    assert "Opening night" in said_to(await play.presses(COACH_ID, "Change it"), COACH_ID)


async def test_the_block_of_the_day_comes_from_the_year(play: Play) -> None:
    await play.says(COACH_ID, OPENING)
    await play.presses(COACH_ID, "Lay it out")
    await play.presses(COACH_ID, "Accept")
    async with play.store.reading() as tx:
        client = (await _clients(play))[0]
        [year] = await shelves.years.list(tx)
        for each in year.blocks:
            first = _day(each["from"])
            assert (await phase_on(tx, client, first)).block is Block(each["block"])
            for monday in each["deload"]:
                assert (await phase_on(tx, client, _day(monday))).deload
        before = await phase_on(tx, client, _day("2026-11-25"))
    assert before.block is Block.HYPERTROPHY


def _day(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


async def _clients(play: Play) -> list[Client]:
    async with play.store.reading() as tx:
        return await house.clients.list(tx)


async def test_a_line_may_be_parted_by_semicolons(play: Play) -> None:
    said = await play.says(COACH_ID, OPENING.replace(",", ";"))
    assert "Opening night (event, strength, 3 of 3)" in said_to(said, COACH_ID)
