"""What the doctor finds: each fault is named, and said with what to do."""

import datetime as dt
from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from bot.clock import ManualClock, SystemClock
from bot.examination import examine, folder, skew, zone_data
from bot.keys import cipher_for
from bot.rehearsal.app import make_app
from bot.rehearsal.botapi.api import make_api
from bot.rehearsal.serve import LocalServer
from bot.settings import Settings
from core.errors import Fault
from core.people.model import Client, Coach
from core.store import house, witness
from core.store.cipher import Cipher, new_key
from core.store.engine import open_store
from core.store.schema import downgrade, upgrade
from tests.bot.commands.installation import spoil
from tests.quiet_stage import QuietStage

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
TOKEN = "7000000001:AAF-kPw0invented0invented0invented00"  # noqa: S105 - invented


@pytest.fixture
async def file(tmp_path: Path) -> Path:
    """A database with a coach in it."""
    place = tmp_path / "data" / "keptword.db"
    store = open_store(f"sqlite:///{place}", Cipher([KEY]), foreign_keys=False)
    await upgrade(store)
    async with store.begin() as tx:
        await witness.check(tx)
        await house.coaches.add(tx, Coach(id=0, name="Ines Prado"))
    await store.close()
    return place


KEY = new_key()


def settings(file: Path, **more: object) -> Settings:
    return Settings.model_validate({"database_url": f"sqlite:///{file}", "data_key": KEY, **more})


async def found(wanted: Settings, clock: SystemClock | ManualClock) -> dict[str, str | None]:
    return {looked_at: fault async for looked_at, fault in examine(wanted, clock)}


@pytest.fixture
async def url() -> AsyncIterator[tuple[str, str]]:
    """A local Bot API: its address and its token."""
    api = make_api(SystemClock())
    async with LocalServer(make_app(api, QuietStage(api.world, ManualClock(NOW))), port=0) as server:
        yield server.url, api.world.token
    await api.close()


async def test_a_sound_installation_is_in_order(file: Path, url: tuple[str, str]) -> None:
    told = await found(settings(file, bot_api_url=url[0], bot_token=url[1]), SystemClock())
    assert set(told) >= {"the schema", "the data key", "the zone data", "the Bot API", "the clock"}
    assert set(told.values()) == {None}


async def test_a_wrong_token_is_found(file: Path, url: tuple[str, str]) -> None:
    told = await found(settings(file, bot_api_url=url[0], bot_token=TOKEN), SystemClock())
    assert "does not know this token" in (told["the Bot API"] or "")


async def test_an_unreachable_api_is_found(file: Path) -> None:
    told = await found(settings(file, bot_api_url="http://127.0.0.1:9", bot_token=TOKEN), SystemClock())
    assert "does not answer" in (told["the Bot API"] or "")
    assert TOKEN not in str(told)


async def test_a_lost_key_is_found(file: Path) -> None:
    told = await found(settings(file, data_key=new_key()), SystemClock())
    assert "Put the old key back" in (told["the data key"] or "")


async def test_an_old_schema_is_found(file: Path) -> None:
    store = open_store(f"sqlite:///{file}", Cipher([KEY]), foreign_keys=False)
    await downgrade(store, "0001")
    await store.close()
    assert "keptword migrate" in ((await found(settings(file), SystemClock()))["the schema"] or "")


def test_a_skewed_clock_is_found() -> None:
    headers = {"date": "Wed, 25 Nov 2026 12:00:00 GMT"}
    assert skew(headers, NOW + dt.timedelta(seconds=30)) is None
    assert "95 seconds ahead of" in (skew(headers, NOW + dt.timedelta(seconds=95)) or "")
    assert (
        skew({}, NOW)
        is skew({"date": "yesterday"}, NOW)
        is skew({"date": "Wed, 25 Nov 2026 12:00:00 -0000"}, NOW)
        is None
    )
    assert "3600 seconds behind" in (skew(headers, NOW - dt.timedelta(hours=1)) or "")


def test_stale_zone_data_are_found() -> None:
    assert zone_data(NOW) is None
    assert "pip install -U tzdata" in (zone_data(NOW + dt.timedelta(days=900)) or "")


def test_a_folder_that_cannot_be_written_is_found() -> None:
    assert "cannot be written" in (folder(settings(Path("/proc/nothing/keptword.db"))) or "")


async def test_looking_makes_nothing(tmp_path: Path) -> None:
    """Who looks is often not who serves: a key that root made would be closed to the bot."""
    place = tmp_path / "not yet" / "keptword.db"
    told = await found(Settings.model_validate({"database_url": f"sqlite:///{place}"}), SystemClock())
    assert "'keptword migrate' makes them" in (told["the database"] or "")
    assert not place.parent.exists()


async def test_what_others_may_read_is_found(file: Path) -> None:
    file.with_suffix(".key").write_text(KEY)
    file.with_suffix(".key").chmod(0o644)
    said = (await found(settings(file), SystemClock()))["who may read it"]
    assert (
        said
        == f"Other users of this machine may read {file.with_suffix('.key')}: run 'chmod 600 {file.with_suffix('.key')}'."
    )
    file.with_suffix(".key").chmod(0o600)
    assert (await found(settings(file), SystemClock()))["who may read it"] is None


async def test_a_damaged_database_is_found(file: Path) -> None:
    spoil(file)
    assert "keptword restore" in ((await found(settings(file), SystemClock()))["the database"] or "")


async def test_a_folder_in_the_place_of_the_database_is_found(file: Path) -> None:
    told = await found(settings(file.parent), SystemClock())
    assert "is a folder" in (told["the folder of the database"] or "")


async def test_a_place_that_cannot_even_be_looked_for_is_found(tmp_path: Path) -> None:
    """As a folder of somebody else's is; this one also to root, who may do all."""
    wanted = settings(tmp_path / ("x" * 300) / "keptword.db")
    told = await found(wanted, SystemClock())
    assert "cannot be written" in (told["the folder of the database"] or "")
    with pytest.raises(Fault, match="cannot be looked for"):
        cipher_for(Settings.model_validate({"database_url": wanted.database}))


async def test_a_client_who_cannot_be_read_is_named_by_number_alone(file: Path) -> None:
    store = open_store(f"sqlite:///{file}", Cipher([KEY]))
    async with store.begin() as tx:
        for name, zone in (("Mara", "Europe/Lisbon"), ("Dov", "Nowhere/At_All")):
            await house.clients.add(tx, Client(id=0, coach_id=1, name=name, zone=zone))
    await store.close()
    told = (await found(settings(file), ManualClock(NOW)))["the clients"] or ""
    assert told.startswith("client #2 cannot be read: the time zone 'Nowhere/At_All' is not known. ")
    assert "#1" not in told
    assert "Dov" not in told
