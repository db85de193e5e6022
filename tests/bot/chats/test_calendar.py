"""A client's calendar feed: its address in the chat, what is served there, and how it ends."""

import datetime as dt
import re
from dataclasses import replace
from typing import Any

import httpx
import icalendar
import pytest
from starlette.applications import Starlette

from bot.calendar_feed import calendar_base, calendar_route
from bot.settings import Settings
from core.store.engine import Store
from tests.playhouse import CLIENT_ID, Play, said_to


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.agreed(await stage.client(zone="Asia/Singapore", country="SG"), 2)
    return stage


async def address(play: Play) -> str:
    said = said_to(await play.says(CLIENT_ID, "/calendar"), CLIENT_ID)
    found = re.search(r"https://bot\.example\.org(/calendar/[\w-]+\.ics)", said)
    assert found, said
    return found.group(1)


async def get(play: Play, path: str) -> httpx.Response:
    app = Starlette(routes=[calendar_route(play.store, play.clock)])
    async with httpx.AsyncClient(transport=httpx.ASGITransport(app=app), base_url="http://bot") as client:
        return await client.get(path)


def events_in(content: bytes) -> dict[str, Any]:
    calendar: Any = icalendar.Calendar.from_ical(content)
    return {str(event["uid"]): event for event in calendar.walk("VEVENT")}


async def test_the_feed_holds_the_sessions_at_the_hour_where_the_client_is(play: Play) -> None:
    served = await get(play, await address(play))
    assert served.headers["content-type"].startswith("text/calendar")
    begins = sorted(e.decoded("dtstart") for e in events_in(served.content).values())
    assert begins == [
        dt.datetime(2026, 11, 29, 23, tzinfo=dt.UTC),  # Monday 07:00 in Singapore
        dt.datetime(2026, 12, 1, 23, tzinfo=dt.UTC),
    ]


async def test_a_moved_session_is_the_same_entry_later(play: Play) -> None:
    path = await address(play)
    play.at = dt.datetime(2026, 11, 30, 1, tzinfo=dt.UTC)
    before = events_in((await get(play, path)).content)
    await play.says(CLIENT_ID, "move it to Thursday")
    after = events_in((await get(play, path)).content)
    assert before.keys() == after.keys()
    moved = [uid for uid in after if after[uid]["sequence"] > before[uid]["sequence"]]
    assert [after[uid].decoded("dtstart") for uid in moved] == [dt.datetime(2026, 12, 2, 23, tzinfo=dt.UTC)]


async def test_a_new_address_ends_the_old_one_and_a_wrong_one_is_nothing(play: Play) -> None:
    old = await address(play)
    new = await address(play)
    assert (await get(play, new)).status_code == 200
    assert (await get(play, old)).status_code == 404
    assert (await get(play, "/calendar/guessed.ics")).status_code == 404


async def test_where_phones_cannot_reach_it_no_address_is_given(play: Play) -> None:
    house = play.house
    play.house = replace(house, desk=replace(house.desk, calendar_base=""))
    assert "cannot be reached" in said_to(await play.says(CLIENT_ID, "/calendar"), CLIENT_ID)


@pytest.mark.parametrize(
    ("given", "base"),
    [
        ({}, ""),
        ({"listen": "0.0.0.0:8800"}, ""),
        ({"listen": "[::]:8800"}, ""),
        ({"listen": "203.0.113.5:8800"}, "http://203.0.113.5:8800/calendar"),
        ({"webhook_url": "https://bot.example.org/telegram/4mOFGv"}, "https://bot.example.org/calendar"),
    ],
)
def test_the_base_is_where_phones_can_reach_us(given: dict[str, str], base: str) -> None:
    assert calendar_base(Settings.model_validate(given)) == base
