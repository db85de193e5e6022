"""The house: what the queues and the metronome call. Everything that Keptword does begins in one of these functions."""

import datetime as dt
import logging
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from dataclasses import dataclass, replace

from sqlalchemy import Table
from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.beforehand import Granted, Wish
from bot.chats.client import set_aside
from bot.chats.incoming import read
from bot.chats.phrases import coach as to_coach
from bot.chats.router import route, wanted
from bot.chats.turn import Desk, Speaker
from bot.clock import Clock
from bot.rounds.client_round import tick_client
from bot.rounds.coach_round import tick_coach
from core.people.model import Stage
from core.store import house
from core.store import house_tables as t
from core.store.columns import Json
from core.store.engine import Store
from core.store.inbox import Claimed, body_of
from core.store.lanes import Kind, State
from core.store.outbox import Queued
from core.store.shelf import Missing
from core.store.troubles import will_pass
from core.store.unread import left_out
from core.usecases.schedule import reschedule
from core.week.model import Ask

log = logging.getLogger(__name__)

AGAIN_AFTER = dt.timedelta(minutes=10)  # somebody over whom a tick stumbled
AT_ONCE = 200  # clients and coaches dealt with at one tick; the rest are due at the next
APOLOGY = "Sorry, I could not deal with your last message. It is kept, and somebody will look at it. Please say it another way."


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """Everything behind the two queues."""

    desk: Desk
    clock: Clock

    async def wants(self, tx: AsyncConnection, update: Mapping[str, Json], at: dt.datetime) -> Wish | None:
        """What is to be had before an update is handled: its file, or what a first promise is reckoned by."""
        return await wanted(tx, self.desk, update, at)

    async def handle(
        self,
        tx: AsyncConnection,
        update: Mapping[str, Json],
        at: dt.datetime,
        granted: Granted | None = None,
        /,
    ) -> None:
        """Deal with one update, in the transaction that marks it handled; ``granted`` is what came of its wish."""
        await route(tx, self.desk, update, at, granted)

    async def apologise(self, tx: AsyncConnection, claimed: Claimed, at: dt.datetime) -> None:
        """Say one sentence to whoever wrote what we could not deal with; a sign of danger in it is heeded all the same."""
        if claimed.chat_id <= 0:  # no private chat
            return
        speaker = Speaker(tx, at, self.desk, occasion=f"sorry:{claimed.id}")
        if not await set_aside.heed(speaker, claimed.chat_id, await _words_of(tx, claimed)):
            await speaker.say(claimed.chat_id, APOLOGY, kind=Kind.REPLY)

    async def tick(self, store: Store, at: dt.datetime) -> int:
        """Deal with everything that is due by now. Costs what is due, not what exists."""
        async with store.reading() as tx:
            coaches = await house.due_coaches(tx, at, AT_ONCE)
            clients = await house.due_clients(tx, at, AT_ONCE)
        for client_id in clients:
            async with _on_their_own(store, t.client, client_id, at), store.begin() as tx:
                await tick_client(tx, self.desk, client_id, at)
        for coach_id in coaches:
            async with _on_their_own(store, t.coach, coach_id, at):
                await tick_coach(store, self.desk, coach_id, at)
        return len(clients) + len(coaches)

    async def next_due(self, store: Store) -> dt.datetime | None:
        """When something is due next."""
        async with store.reading() as tx:
            return await house.next_due_at(tx)

    async def nightly(self, store: Store, at: dt.datetime) -> None:
        """Plan everybody anew: zone rules may have changed, and mornings are planned two days ahead."""
        async with store.reading() as tx:
            everybody = await house.names_of(tx, t.client.c.telegram_id.is_not(None))
        for client_id, _ in everybody:
            async with _on_their_own(store, t.client, client_id, at), store.begin() as tx:
                await reschedule(tx, client_id, at)

    async def still_true(self, tx: AsyncConnection, row: Queued) -> bool:
        """Whether a message that waited still makes sense: the world may have moved on meanwhile."""
        if row.kind is Kind.SESSION and row.key.startswith("session:"):
            return await _may_be_offered(tx, row)
        ask = await _ask_of(tx, row)
        if ask is None:
            return True
        client = await house.clients.find(tx, t.client.c.id == ask.client_id)
        return (
            client is not None
            and client.may_be_asked
            and ask.is_open
            and row.key.split(":")[2] == str(ask.revision)
        )

    async def ended(self, tx: AsyncConnection, row: Queued, state: State) -> None:
        """What the end of a message means: a session was sent, an ask was not prompted after all, somebody cannot be reached."""
        if state is State.SENT and row.key.startswith("session:"):
            await _session_sent(tx, row.key, self.clock.now())
        if state in {State.EXPIRED, State.DEAD, State.UNREACHABLE} and row.kind in {
            Kind.PROMPT,
            Kind.FOLLOW_UP,
        }:
            await _not_prompted(tx, row)
        if state is State.UNREACHABLE:
            await self._unreachable(tx, row.chat_id, self.clock.now())

    async def _unreachable(self, tx: AsyncConnection, chat_id: int, at: dt.datetime) -> None:
        """Nothing more is asked of who blocked us; the coach is told once."""
        coach = await house.coach_by_telegram(tx, chat_id)
        if coach is not None:
            await house.coaches.save(tx, replace(await house.coaches.lock(tx, coach.id), unreachable=True))
            return
        client = await house.client_by_telegram(tx, chat_id, locked=True)
        if client is None or client.unreachable:
            return
        await house.clients.save(tx, replace(client, unreachable=True))
        coach = await house.coaches.get(tx, client.coach_id)
        if coach.telegram_id is not None:
            speaker = Speaker(tx, at, self.desk, occasion=f"unreachable:{client.id}:{at:%Y-%m-%dT%H}")
            await speaker.say(
                coach.telegram_id, to_coach.unreachable(client), kind=Kind.COACH_NOTE, person=str(client.id)
            )
        await reschedule(tx, client.id, at)


async def _words_of(tx: AsyncConnection, claimed: Claimed) -> str:
    """What somebody wrote; nothing where the update itself cannot be opened."""
    with left_out(f"update {claimed.id}"):
        update = await body_of(tx, claimed)
        return read(update).text if isinstance(update, dict) else ""
    return ""


@asynccontextmanager
async def _on_their_own(store: Store, people: Table, key: int, at: dt.datetime) -> AsyncIterator[None]:
    """Whatever is wrong with one person, the others go on; they are looked at again a little later."""
    try:
        yield
    except Missing:
        return  # erased since they were found to be due
    except Exception as error:
        if will_pass(error):
            raise  # what was due is still due at the next tick
        log.exception("%s %s could not be dealt with; again in %s", people.name, key, AGAIN_AFTER)
        async with store.begin() as tx:
            await house.put_off(tx, people, key, until=at + AGAIN_AFTER)


async def _may_be_offered(tx: AsyncConnection, row: Queued) -> bool:
    """A session that waited for the morning does not go out if a red flag came, or the client stopped, meanwhile."""
    client = await house.client_by_telegram(tx, row.chat_id)
    return (
        client is not None
        and client.stage is Stage.ACTIVE
        and await house.open_red_flag(tx, client.id) is None
    )


async def _ask_of(tx: AsyncConnection, row: Queued) -> Ask | None:
    """The ask that a prompt or follow-up is about."""
    if row.kind not in {Kind.PROMPT, Kind.FOLLOW_UP} or not row.key.startswith("ask:"):
        return None
    return await house.asks.find(tx, t.ask.c.id == int(row.key.split(":")[1]))


async def _session_sent(tx: AsyncConnection, key: str, at: dt.datetime) -> None:
    known = await house.sessions.find(tx, t.remote_session.c.key == key)
    if known is None or known.sent_at is not None:
        return
    await house.clients.lock(tx, known.client_id)
    sent = await house.sessions.get(tx, known.id)  # it may have been opened meanwhile
    await house.sessions.save(tx, replace(sent, sent_at=sent.sent_at or at))


async def _not_prompted(tx: AsyncConnection, row: Queued) -> None:
    """An ask that was not prompted is no evidence: at its close it is withdrawn."""
    known = await _ask_of(tx, row)
    if known is None:
        return
    await house.clients.lock(tx, known.client_id)
    ask = await house.asks.get(tx, known.id)
    if row.key.split(":")[2] != str(ask.revision):
        return  # it has moved since, and what it is asked now is another message
    for each in await house.asks_of_week(tx, ask.client_id, ask.week):
        together = each.id == ask.id or (each.day == ask.day and each.prompted_at == ask.prompted_at)
        only_this = row.kind is Kind.PROMPT or each.prompted_at == each.followed_up_at
        if together and only_this and each.outcome is None:
            await house.asks.save(tx, replace(each, prompted_at=None))
