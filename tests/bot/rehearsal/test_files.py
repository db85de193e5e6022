"""Files sent from a phone to the whole bot, over the local server's real HTTP: asked for, fetched, read, answered."""

import datetime as dt
from collections.abc import AsyncIterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from starlette.applications import Starlette

from bot.clock import ManualClock
from bot.dispatcher import FETCH_ATTEMPTS
from bot.rehearsal.botapi.api import BotApi, make_api
from bot.rehearsal.botapi.limits import Limits
from bot.rehearsal.botapi.server import DOWNLOAD, bot_api_routes
from bot.rehearsal.botapi.trouble import Kind
from bot.rehearsal.phone import Phone
from bot.rehearsal.serve import LocalServer
from bot.rehearsal.works import Works, set_up
from core.people.model import Client, Coach, Stage
from core.store import house
from core.store import programme as shelves
from core.store.cipher import new_key
from tests.core.calendar.test_trip_file import calendar

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
PROGRAMME = b"block,week,session,exercise,sets,repetitions\nstrength,1,1,Goblet squat,3,8 to 12\n"
TOUR = calendar("SUMMARY:Tour\r\nLOCATION:Bergen\r\nDTSTART;VALUE=DATE:20261203\r\nDTEND;VALUE=DATE:20261208")


@dataclass(frozen=True, slots=True)
class Scene:
    works: Works
    api: BotApi
    machine: ManualClock
    coach: Phone
    client: Phone

    def heard(self, phone: Phone) -> str:
        return phone.received()[-1].text


@pytest.fixture
async def stage(tmp_path: Path) -> AsyncIterator[Scene]:
    clock, machine = ManualClock(NOW), ManualClock(NOW)
    api = make_api(clock, limits=Limits(clock, on=False))
    coach, client = (Phone(api.world, api.world.add_person(name)) for name in ("Ines", "Mara"))
    async with LocalServer(Starlette(routes=bot_api_routes(api))) as server:
        async with set_up(
            file=tmp_path / "keptword.db",
            key=new_key(),
            world=api.world,
            clock=clock,
            machine=machine,
            seed=1,
            tell=lambda _row: None,
            url=server.url,
        ) as works:
            await _people(works, coach.chat.id, client.chat.id)
            for phone in (coach, client):
                phone.start()
            await works.calm()
            yield Scene(works, api, machine, coach, client)
        await api.close()


async def _people(works: Works, coach_chat: int, client_chat: int) -> None:
    async with works.store.begin() as tx:
        coach = await house.coaches.add(
            tx, Coach(id=0, name="Ines Prado", telegram_id=coach_chat, stage=Stage.ACTIVE)
        )
        mara = Client(
            id=0,
            coach_id=coach.id,
            name="Mara",
            telegram_id=client_chat,
            stage=Stage.ACTIVE,
            consented_at=NOW,
            zone="Europe/Lisbon",
            place="Lisbon",
        )
        await house.clients.add(tx, mara)
        await house.clients.add(tx, replace(mara, name="Otis", telegram_id=None))


async def test_a_programme_goes_from_the_coachs_phone_to_the_clients_sessions(stage: Scene) -> None:
    stage.coach.send_document(PROGRAMME, name="plan.csv", mime="text/csv")
    await stage.works.calm()
    assert "A programme: 1 session, 1 exercise. For whom?" in stage.heard(stage.coach)
    stage.coach.tap("Mara")
    await stage.works.calm()
    stage.coach.tap("Take it in")
    await stage.works.calm()
    assert "Taken in: 1 session for Mara" in stage.heard(stage.coach)
    async with stage.works.store.reading() as tx:
        [kept] = await shelves.own_sessions.list(tx)
    assert "Goblet squat, 3 × 8 to 12 repetitions" in kept.words


async def test_a_calendar_goes_from_the_clients_phone_to_the_plan(stage: Scene) -> None:
    stage.client.send_document(TOUR, name="tour.ics", mime="text/calendar")
    await stage.works.calm()
    assert "Bergen, Norway" in stage.heard(stage.client)
    stage.client.tap("Take it")
    await stage.works.calm()
    async with stage.works.store.reading() as tx:
        [trip] = await house.trips.list(tx)
    assert (trip.place, trip.zone) == ("Bergen", "Europe/Oslo")


@pytest.mark.parametrize("method", ["getFile", DOWNLOAD])
@pytest.mark.parametrize("kind", [Kind.SERVER_ERROR, Kind.CUT])
async def test_trouble_on_the_way_is_got_over(stage: Scene, method: str, kind: Kind) -> None:
    stage.api.trouble.plan(kind, method=method)
    stage.coach.send_document(PROGRAMME, name="plan.csv", mime="text/csv")
    stage.coach.send("/clients")
    await _until_heard(stage, "Your clients")
    texts = [message.text for message in stage.coach.received()]
    asked = next(n for n, text in enumerate(texts) if "For whom?" in text)
    assert "Your clients" in texts[asked + 1]  # what came after the file is answered after it


async def test_a_file_that_cannot_be_had_is_told_of(stage: Scene) -> None:
    stage.api.trouble.plan(Kind.SERVER_ERROR, method=DOWNLOAD, times=FETCH_ATTEMPTS)
    stage.coach.send_document(PROGRAMME, name="plan.csv", mime="text/csv")
    await _until_heard(stage, "could not get the file from Telegram")


async def _until_heard(stage: Scene, words: str) -> None:
    """Step the queues by hand; the machine's clock goes on where an update waits to be tried again."""
    while stage.api.world.updates.count:
        await stage.works.receiver.poll_once(0)
    for _ in range(4 * FETCH_ATTEMPTS):
        while await stage.works.dispatcher.handle_next():
            await stage.works.dispatcher.finish()
        while await stage.works.sender.send_next():
            pass
        if any(words in message.text for message in stage.coach.received()):
            return
        stage.machine.advance(dt.timedelta(minutes=1))
    pytest.fail(f"nobody said '{words}'")
