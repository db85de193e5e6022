"""Where the parts are joined, started and stopped."""

import asyncio
import datetime as dt
import hashlib
import hmac
import logging
import random
import secrets
import socket
from collections.abc import Awaitable, Callable, Coroutine, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.ext.asyncio import AsyncConnection
from starlette.applications import Starlette
from starlette.routing import BaseRoute

from bot.bell import Bell, wait_at_most
from bot.bot_api import BotApi
from bot.chats.beforehand import Granted, Wish
from bot.clock import Clock
from bot.clockwork import Beat, Clockwork
from bot.dispatcher import Dispatcher
from bot.fetcher import Fetcher
from bot.listening import serve_app
from bot.metrics import metrics_text
from bot.receiver import Receiver, epoch_of
from bot.recorder import Hooks
from bot.sender import Sender
from bot.settings import Settings
from bot.web import Reports, Webhook, make_app
from core.store import claims, housekeeping, inbox, leases, schema
from core.store.columns import Json
from core.store.engine import Store
from core.store.inbox import Claimed
from core.store.pace import ALONE, Pace
from core.store.state_of_queues import state_of_queues
from core.store.troubles import what_to_do, will_pass

log = logging.getLogger(__name__)

TICK = dt.timedelta(seconds=5)
HOUSEKEEPING = dt.timedelta(hours=1)
NIGHTLY = dt.timedelta(minutes=10)  # how often we look whether it is time
A_NIGHT = dt.timedelta(hours=23)
AT_MOST_A_NIGHTS_WORK = dt.timedelta(minutes=30)
SILENCE = dt.timedelta(minutes=2)  # of the server, or of the metronome: then we are not well
FIRST_PAUSE_S, LONGEST_PAUSE_S = 1.0, 30.0  # where the database fails
WORKERS = 4  # on PostgreSQL; SQLite has one writer


class House(Hooks, Protocol):
    """The whole of the bot behind the queues: what it makes of an update, and of the time."""

    async def wants(self, tx: AsyncConnection, update: Mapping[str, Json], at: dt.datetime) -> Wish | None:
        """What is to be had before an update is handled, if anything."""
        ...

    async def handle(
        self,
        tx: AsyncConnection,
        update: Mapping[str, Json],
        at: dt.datetime,
        granted: Granted | None = None,
        /,
    ) -> None:
        """What one update changes, and what is to be said: all in ``tx``, without any network."""
        ...

    async def tick(self, store: Store, at: dt.datetime) -> object:
        """Whatever is due now."""
        ...

    async def nightly(self, store: Store, at: dt.datetime) -> None:
        """Once a day: what is too long for a tick."""
        ...

    async def apologise(self, tx: AsyncConnection, claimed: Claimed, at: dt.datetime) -> None:
        """One sentence to whoever wrote what could not be handled."""
        ...


@dataclass(slots=True)
class Pulse:
    """By the machine's clock: when the last tick succeeded, or, before the first one, when we began."""

    ticked_at: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """Everything that lives as long as the process, joined and not yet running."""

    settings: Settings
    store: Store
    api: BotApi
    house: House
    clock: Clock
    machine: Clock
    holder: str
    receiver: Receiver
    dispatchers: Sequence[Dispatcher]
    sender: Sender
    bells: Sequence[Bell]
    routes: Sequence[BaseRoute]
    pulse: Pulse


def house_for(token: str, username: str, clock: Clock, calendar_base: str = "") -> House:
    """The house as it serves. Its buttons are signed with a secret that the token gives: so every worker's are alike."""
    from bot.chats.buttons import Signer
    from bot.chats.turn import Desk
    from bot.house import House as WholeHouse

    signer = Signer(hmac.new(token.encode(), b"buttons", hashlib.sha256).digest())
    return WholeHouse(
        desk=Desk(
            signer=signer, bot_name=username, random_bytes=secrets.token_bytes, calendar_base=calendar_base
        ),
        clock=clock,
    )


def assemble(
    settings: Settings,
    store: Store,
    api: BotApi,
    house: House,
    *,
    clock: Clock,
    machine: Clock,
    routes: Sequence[BaseRoute] = (),
) -> Parts:
    """Join the parts.

    :param clock: the house's time.
    :param machine: that of leases, back-offs and rates.
    :param routes: what else is served over HTTP.
    """
    chance = random.Random(secrets.randbits(64))  # noqa: S311 - for back-offs and leases, not for secrets
    holder = f"{socket.gethostname()[:40]}-{secrets.token_hex(6)}"
    arrived, to_send = Bell(), Bell()
    receiver = Receiver(
        store,
        api,
        epoch=epoch_of(settings.bot_api_url, settings.token()),
        holder=holder,
        clock=clock,
        machine=machine,
        chance=chance,
        arrived=arrived,
    )
    fetcher = Fetcher(store, api, house.wants)
    dispatchers = [
        Dispatcher(
            store,
            house.handle,
            house.apologise,
            clock=clock,
            machine=machine,
            chance=chance,
            bell=arrived,
            done=to_send,
            fetcher=fetcher,
        )
        for _ in range(1 if store.is_sqlite else WORKERS)
    ]
    pace = ALONE if store.is_sqlite else Pace()
    sender = Sender(store, api, house, clock=clock, machine=machine, chance=chance, bell=to_send, pace=pace)
    return Parts(
        settings=settings,
        store=store,
        api=api,
        house=house,
        clock=clock,
        machine=machine,
        holder=holder,
        receiver=receiver,
        dispatchers=dispatchers,
        sender=sender,
        bells=[arrived, to_send],
        routes=routes,
        pulse=Pulse(machine.now()),
    )


async def abandon_what_a_dead_process_held(parts: Parts) -> None:
    """Only where this is the only process on the database, which on SQLite it is."""
    now = parts.machine.now()
    async with parts.store.begin() as tx:
        await leases.release_all(tx, now=now)
        await inbox.abandon_leases(tx)
        await claims.abandon_leases(tx, now)


async def run(parts: Parts, stopping: asyncio.Event) -> None:
    """Until ``stopping`` is set; what is under way is then finished. A loop that dies takes everything down."""
    clockwork = Clockwork(_beats(parts), parts.clock)
    try:
        async with asyncio.TaskGroup() as loops:
            for loop in _loops(parts, stopping):
                loops.create_task(_or_stop(loop, stopping))
            clockwork.start()
            await stopping.wait()
            clockwork.stop()
            for bell in parts.bells:
                bell.ring()
    finally:
        await _step_down(parts)


def _loops(parts: Parts, stopping: asyncio.Event) -> list[Coroutine[Any, Any, None]]:
    settings = parts.settings
    loops = [
        begin_again("the sender", parts.sender.forever, stopping),
        serve_app(app_of(parts), settings.listen_host, settings.listen_port, stopping),
        *(begin_again("a dispatcher", each.forever, stopping) for each in parts.dispatchers),
    ]
    if settings.webhook_url is None:
        loops.append(begin_again("the receiver", parts.receiver.forever, stopping))
    return loops


async def begin_again(
    name: str, loop: Callable[[asyncio.Event], Awaitable[None]], stopping: asyncio.Event
) -> None:
    """A loop over which the database failed begins again, a little later each time; any other fault ends it."""
    pause_s = FIRST_PAUSE_S
    while not stopping.is_set():
        try:
            await loop(stopping)
        except Exception as error:
            if not will_pass(error):
                raise
            log.warning("%s begins again: %s", name, what_to_do(error))
            await wait_at_most(stopping, pause_s)
            pause_s = min(2 * pause_s, LONGEST_PAUSE_S)


async def _or_stop(loop: Coroutine[Any, Any, None], stopping: asyncio.Event) -> None:
    try:
        await loop
    except BaseException:
        stopping.set()
        raise


async def _step_down(parts: Parts) -> None:
    """Let another process poll at once."""
    try:
        async with parts.store.begin() as tx:
            await leases.release(tx, "receiver", parts.holder, now=parts.machine.now())
    except (SQLAlchemyError, OSError) as error:
        log.warning("the lease of the receiver was not given back (%s)", type(error).__name__)


def _beats(parts: Parts) -> list[Beat]:
    async def tick(at: dt.datetime) -> None:
        await parts.house.tick(parts.store, at)
        parts.pulse.ticked_at = parts.machine.now()
        for bell in parts.bells:
            bell.ring()

    async def tidy(at: dt.datetime) -> None:
        changed = 1
        while changed:
            async with parts.store.begin() as tx:
                changed = await housekeeping.tidy(tx, at=at, machine_now=parts.machine.now())
        await parts.store.empty_journal()  # what was erased in the chat is gone from the disk within the hour

    async def nightly(at: dt.datetime) -> None:
        if await _hold(parts, "nightly", AT_MOST_A_NIGHTS_WORK):
            await parts.house.nightly(parts.store, at)
            await _hold(parts, "nightly", A_NIGHT)

    return [
        Beat("tick", TICK, tick),
        Beat("housekeeping", HOUSEKEEPING, tidy),
        Beat("nightly", NIGHTLY, nightly),
    ]


async def _hold(parts: Parts, name: str, lasting: dt.timedelta) -> bool:
    async with parts.store.begin() as tx:
        return await leases.hold(tx, name, parts.holder, now=parts.machine.now(), lasting=lasting)


def app_of(parts: Parts) -> Starlette:
    """What this bot serves."""
    settings, webhook = parts.settings, None
    if settings.webhook_url is not None and settings.webhook_secret is not None:
        secret = settings.webhook_secret.get_secret_value()
        webhook = Webhook(url=settings.webhook_url, secret=secret, receiver=parts.receiver)
    reports = Reports(unready=lambda: unready(parts), metrics=lambda: metrics(parts))
    return make_app(reports, webhook, parts.routes)


async def unready(parts: Parts) -> list[str]:
    """What is missing before we are ready, a sentence each."""
    try:
        found = await schema.current(parts.store)
    except (SQLAlchemyError, OSError) as error:
        return [f"the database does not answer ({type(error).__name__})"]
    missing = []
    if found != schema.newest():
        missing.append("the schema is not up to date: run 'keptword migrate'")
    now, since, ticked = parts.machine.now(), parts.receiver.troubled_since, parts.pulse.ticked_at
    if since is not None and now - since > SILENCE:
        missing.append(f"the server has not answered a poll since {since:%H:%M} UTC")
    if now - ticked > SILENCE:
        missing.append(f"no tick has succeeded since {ticked:%H:%M} UTC: the log says why")
    return missing


async def metrics(parts: Parts) -> str:
    at = parts.clock.now()
    async with parts.store.reading() as tx:
        state = await state_of_queues(tx, at=at)
    now, polled = parts.machine.now(), parts.receiver.answered_at
    ages_s = {"tick": (now - parts.pulse.ticked_at).total_seconds()}
    if polled is not None:
        ages_s["poll"] = (now - polled).total_seconds()
    return metrics_text(
        state, parts.receiver, parts.dispatchers, parts.sender, at_s=at.timestamp(), ages_s=ages_s
    )
