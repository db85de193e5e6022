"""``keptword serve``: the bot."""

import argparse
import asyncio
import contextlib
import logging
import signal
import threading
from typing import TYPE_CHECKING

from core.errors import Fault

if TYPE_CHECKING:
    from bot.settings import Settings
    from core.store.engine import Store

HELP = "run the bot: receive, answer, ask at the right time"

log = logging.getLogger(__name__)

# A start after an outage has a crowd to answer first, and the reading would hold it up.
READ_AHEAD_AFTER_S = 60.0


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--verbose", action="store_true", help="log more; never words, names or the token")


def run(args: argparse.Namespace) -> int:
    from bot.log import configure_log
    from bot.settings import read_settings

    settings = read_settings()
    settings.token()
    configure_log(logging.DEBUG if args.verbose else logging.INFO)
    try:
        asyncio.run(_serve(settings))
    except* Fault as faults:
        raise Fault(*_lines(faults)) from None
    return 0


def _lines(faults: BaseExceptionGroup[Fault]) -> list[str]:
    lines: list[str] = []
    for fault in faults.exceptions:
        lines += fault.lines if isinstance(fault, Fault) else _lines(fault)
    return lines


async def _serve(settings: "Settings") -> None:
    from bot.only_process import only_process
    from bot.opening import be_sure_of, is_new, migrate, open_installation
    from core.store.engine import normalised, sqlite_file

    stopping = _until_told()
    address = normalised(settings.database)
    alone = address.get_backend_name() == "sqlite"
    if await is_new(settings):
        log.info("a new database: laying out its tables")
        await migrate(settings)
    store = open_installation(settings)
    with only_process(sqlite_file(address)) if alone else contextlib.nullcontext():
        try:
            await be_sure_of(store)
            await _serve_from(settings, store, stopping, alone=alone)
        finally:
            await store.close()


async def _serve_from(settings: "Settings", store: "Store", stopping: asyncio.Event, *, alone: bool) -> None:
    from bot.acquaintance import get_acquainted
    from bot.bot_api import BotApi
    from bot.calendar_feed import calendar_base, calendar_route
    from bot.clock import SystemClock
    from bot.wiring import abandon_what_a_dead_process_held, assemble, house_for, run

    clock, api = SystemClock(), BotApi(settings.token(), settings.bot_api_url)
    await api.open()
    try:
        username = await get_acquainted(settings, api, stopping)
        if username is None:
            return
        house = house_for(settings.token(), username, clock, calendar_base(settings))
        routes = [calendar_route(store, clock)]
        parts = assemble(settings, store, api, house, clock=clock, machine=clock, routes=routes)
        if alone:
            await abandon_what_a_dead_process_held(parts)
        log.info("ready, as @%s", username)
        _read_cities_ahead()
        await run(parts, stopping)
    finally:
        await api.close_connections()


def _read_cities_ahead() -> None:
    """The first city that somebody writes is looked up as fast as the next: the gazetteer is read beside the loop, once it runs."""
    reading = threading.Thread(target=_read_cities, name="gazetteer", daemon=True)
    asyncio.get_running_loop().call_later(READ_AHEAD_AFTER_S, reading.start)


def _read_cities() -> None:
    import ctypes

    from core.calendar.gazetteer import gazetteer

    gazetteer()
    with contextlib.suppress(AttributeError, OSError):  # another C library than GNU's keeps no such store
        ctypes.CDLL(None).malloc_trim(0)  # what the reading needed goes back to the machine


def _until_told() -> asyncio.Event:
    """Set by the first SIGTERM or SIGINT; the second one ends the process as usual."""
    stopping, loop = asyncio.Event(), asyncio.get_running_loop()

    def stop(number: signal.Signals) -> None:
        log.info("%s: finishing what is under way", number.name)
        loop.remove_signal_handler(number)
        stopping.set()

    for number in (signal.SIGTERM, signal.SIGINT):
        loop.add_signal_handler(number, stop, number)
    return stopping
