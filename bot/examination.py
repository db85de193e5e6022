"""What ``keptword doctor`` looks at: each examination says what is wrong and what to do, or nothing."""

import datetime as dt
import tempfile
import zoneinfo
from collections.abc import AsyncIterator, Mapping
from email.utils import parsedate_to_datetime
from pathlib import Path

import httpx
from sqlalchemy.ext.asyncio import AsyncConnection

from bot.clock import Clock
from bot.keys import cipher_for, key_file
from bot.opening import what_is_wrong_with
from bot.settings import Settings
from core.calendar.zones import data_version
from core.errors import Fault
from core.store import house, schema, witness
from core.store import house_tables as t
from core.store.cipher import Cipher
from core.store.engine import Store, normalised, open_store, sqlite_file
from core.store.troubles import what_to_do
from core.store.unread import reason
from core.usecases import history
from core.usecases.schedule import moments_of

MOST_SKEW = dt.timedelta(seconds=30)
OLD_ZONES = dt.timedelta(days=400)
ASK_S = 10.0
UNAUTHORISED = frozenset({401, 404})


async def examine(settings: Settings, clock: Clock) -> AsyncIterator[tuple[str, str | None]]:
    """Go through everything: pairs of what was looked at, and what is wrong with it (None where nothing is)."""
    yield "the folder of the database", folder(settings)
    async for found in database(settings, clock.now()):
        yield found
    yield "the zone data", zone_data(clock.now())
    async for found in server(settings, clock):
        yield found


def folder(settings: Settings) -> str | None:
    """Whether the database's folder can be written."""
    file = _file_of(settings)
    if file is None:
        return None
    place = file.parent
    try:
        if file.is_dir():
            return (
                f"{file} is a folder: name a file in KEPTWORD_DATABASE_URL, such as {file / 'keptword.db'}."
            )
        nearest = next((p for p in (place, *place.parents) if p.exists()), Path("/"))
        with tempfile.TemporaryFile(dir=nearest):
            return None
    except OSError:
        pass
    return f"The folder {place} cannot be written. Give it to the user who runs Keptword, or name another in KEPTWORD_DATABASE_URL."


def _file_of(settings: Settings) -> Path | None:
    """The database's file; None where it is on a server."""
    address = normalised(settings.database)
    return sqlite_file(address) if address.get_backend_name() == "sqlite" else None


def readers(file: Path) -> str | None:
    """Whether others on this machine may read the database or its key."""
    open_ones = [
        str(each) for each in (file, key_file(file)) if each.exists() and each.stat().st_mode & 0o077
    ]
    if not open_ones:
        return None
    return f"Other users of this machine may read {' and '.join(open_ones)}: run 'chmod 600 {' '.join(open_ones)}'."


async def database(settings: Settings, at: dt.datetime) -> AsyncIterator[tuple[str, str | None]]:
    """Whether the database is there and private, answers, has the newest schema, and opens with the key. Nothing is made."""
    file = _file_of(settings)
    try:
        if file is not None and not file.is_file():
            if not file.exists():
                yield "the database", f"There is no {file} yet. {what_is_wrong_with(None)}"
            return
        if file is not None:
            yield "who may read it", readers(file)
    except OSError:
        return  # it was said of the folder
    try:
        cipher = cipher_for(settings, may_make=False)
    except Fault as fault:
        yield "the data key", " ".join(fault.lines)
        return
    async for found in _answers(settings, cipher, at):
        yield found


async def _answers(
    settings: Settings, cipher: Cipher, at: dt.datetime
) -> AsyncIterator[tuple[str, str | None]]:
    store = None
    try:
        store = open_store(settings.database, cipher)
        found = await schema.current(store)
        yield "the schema", what_is_wrong_with(found)
        if found is not None:
            yield "the data key", await _key(store)
        if found == schema.newest():
            yield "the clients", await clients(store, at)
    except Fault as fault:
        yield "the database", " ".join(fault.lines)
    except Exception as error:  # noqa: BLE001 - whatever a driver raises, it is told as one sentence
        yield "the database", what_to_do(error) or f"The database does not answer ({type(error).__name__})."
    finally:
        if store is not None:
            await store.close()


async def _key(store: Store) -> str | None:
    try:
        async with store.begin() as tx:
            await witness.check(tx)
    except Fault as fault:
        return " ".join(fault.lines)
    return None


async def clients(store: Store, at: dt.datetime) -> str | None:
    """Whether everybody's rows can be read. Numbers stand for names: what is printed here is sent to others for help."""
    broken = list[str]()
    async with store.reading() as tx:
        for client_id, _ in await house.names_of(tx):
            why = await _why_not_read(tx, client_id, at)
            if why is not None:
                broken.append(f"client #{client_id} cannot be read: {why}")
    if not broken:
        return None
    return (
        f"{'; '.join(broken)}. Nothing is asked of them meanwhile, and the others are served. Put it right in the database, in the "
        "rows of that number in 'client' and of that client_id in the other tables, or take the latest backup."
    )


async def _why_not_read(tx: AsyncConnection, client_id: int, at: dt.datetime) -> str | None:
    try:
        client = await house.clients.find(tx, t.client.c.id == client_id)
        if client is not None:
            moments_of(await house.known_of(tx, client, at), at)
            await history.rows_of(tx, client)
    except Exception as error:  # noqa: BLE001 - whatever it is, it is told
        return reason(error)
    return None


def zone_data(now: dt.datetime) -> str | None:
    """Whether the zone data come from the package, and are not too old."""
    if zoneinfo.TZPATH:
        return "The zone data are read from this machine instead of the 'tzdata' package. Unset PYTHONTZPATH and restart."
    release = data_version()
    year, _, number = release.partition(".")
    made = dt.datetime(int(year), min(12, int(number.partition(".")[0]) * 2), 1, tzinfo=dt.UTC)
    if now - made > OLD_ZONES:
        return f"The zone data are of release {release}, more than a year old: zones have changed since. Run 'pip install -U tzdata'."
    return None


async def server(settings: Settings, clock: Clock) -> AsyncIterator[tuple[str, str | None]]:
    """Whether the Bot API is there, knows our token, and agrees about the time."""
    if settings.bot_token is None:
        yield (
            "the token",
            "KEPTWORD_BOT_TOKEN is missing: @BotFather in Telegram gives one. Only 'keptword rehearse' does without.",
        )
        return
    try:
        async with httpx.AsyncClient(trust_env=False, timeout=ASK_S) as client:
            answer = await client.get(f"{settings.bot_api_url}/bot{settings.token()}/getMe")
    except httpx.HTTPError as error:
        yield (
            "the Bot API",
            f"{settings.bot_api_url} does not answer ({type(error).__name__}). Is the network up, and KEPTWORD_BOT_API_URL right?",
        )
        return
    yield "the Bot API", _answer(answer.status_code)
    yield "the clock", skew(answer.headers, clock.now())


def _answer(status: int) -> str | None:
    if status in UNAUTHORISED:
        return "The Bot API does not know this token: copy it again from @BotFather into KEPTWORD_BOT_TOKEN, or make a new one there."
    if status >= 400:
        return f"The Bot API answered with an error ({status}). Try again later; if it stays, look at KEPTWORD_BOT_API_URL."
    return None


def skew(headers: Mapping[str, str], now: dt.datetime) -> str | None:
    """Whether this machine's clock agrees with the server's, to half a minute."""
    told = headers.get("date")
    try:
        apart = now - parsedate_to_datetime(told or "")
    except (ValueError, TypeError):  # none told, or nothing that can be compared
        return None
    if abs(apart) <= MOST_SKEW:
        return None
    way = "ahead of" if apart > dt.timedelta() else "behind"
    seconds = round(abs(apart).total_seconds())
    return f"This machine's clock is {seconds} seconds {way} the server's: prompts would come at the wrong time. Turn on NTP."
