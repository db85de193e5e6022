"""A whole queue for a test: a store, a server that may misbehave, clocks that stand still, and everything that joins them."""

import datetime as dt
import random
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select
from sqlalchemy.ext.asyncio import AsyncConnection

from bot.bell import Bell
from bot.bot_api import BotApi
from bot.chats.beforehand import Granted
from bot.chats.files import Brought
from bot.clock import ManualClock
from bot.dispatcher import Dispatcher
from bot.receiver import Receiver
from bot.sender import Sender
from core.store import outbox
from core.store.columns import Json
from core.store.engine import Store
from core.store.inbox import Claimed
from core.store.lanes import Kind, State
from core.store.outbox import Outgoing, Queued
from core.store.queue_tables import inbox as inbox_table
from core.store.queue_tables import outbox as outbox_table
from tests.fake_api import TOKEN, FakeApi, serving

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
SECOND, MINUTE, HOUR = dt.timedelta(seconds=1), dt.timedelta(minutes=1), dt.timedelta(hours=1)


@dataclass(slots=True)
class House:
    """Answers every message with 'heard: ...', and remembers what became of what it said."""

    untrue: set[str] = field(default_factory=set)
    broken: set[str] = field(default_factory=set)
    handled: list[Mapping[str, Any]] = field(default_factory=list)
    ends: list[tuple[str, State]] = field(default_factory=list)
    stumbles: int = 0

    async def handle(
        self, tx: AsyncConnection, update: Mapping[str, Json], at: dt.datetime, granted: Granted | None = None
    ) -> None:
        message: Any = update["message"]
        if isinstance(granted, Brought):
            message = {**message, "text": str(granted.content or granted.faults)}
        if "poison" in message["text"] or self.stumbles:
            self.stumbles -= bool(self.stumbles)
            raise ValueError(message["text"])
        self.handled.append(update)
        key, text = f"reply/{update['update_id']}", f"heard: {message['text']}"
        reply = outgoing(key, chat=message["chat"]["id"], kind=Kind.REPLY, text=text)
        await outbox.enqueue(tx, reply, at=at)

    async def apologise(self, tx: AsyncConnection, claimed: Claimed, at: dt.datetime) -> None:
        await outbox.enqueue(
            tx, outgoing(f"sorry/{claimed.id}", chat=claimed.chat_id, kind=Kind.REPLY, text="sorry"), at=at
        )

    async def still_true(self, tx: AsyncConnection, row: Queued) -> bool:  # noqa: ARG002
        if row.key in self.broken:
            raise LookupError(row.key)
        return row.key not in self.untrue

    async def ended(self, tx: AsyncConnection, row: Queued, state: State) -> None:  # noqa: ARG002
        if row.key == "tell me not":
            raise LookupError(row.key)
        self.ends.append((row.key, state))


@dataclass(slots=True)
class Queues:
    """Both queues, to be stepped by hand."""

    store: Store
    server: FakeApi
    api: BotApi
    house: House
    clock: ManualClock
    machine: ManualClock
    receiver: Receiver
    dispatcher: Dispatcher
    sender: Sender

    async def enqueue(self, *messages: Outgoing) -> None:
        async with self.store.begin() as tx:
            for message in messages:
                await outbox.enqueue(tx, message, at=self.clock.now())

    async def send_all(self) -> None:
        """Send what can be sent, moving the machine's clock, never the house's."""
        while True:
            while await self.sender.send_next():
                pass
            ready_at = (await self.sender.outlook()).ready_at
            if ready_at is None:
                return
            self.machine.move_to(max(ready_at, self.machine.now() + dt.timedelta(microseconds=1)))

    async def handle_all(self) -> None:
        while await self.dispatcher.handle_next():
            pass

    async def states(self) -> dict[str, str]:
        async with self.store.reading() as tx:
            rows = await tx.execute(
                select(outbox_table.c.key, outbox_table.c.state).order_by(outbox_table.c.id)
            )
            return {row.key: row.state for row in rows}

    async def inbox_states(self) -> list[str]:
        async with self.store.reading() as tx:
            return list((await tx.execute(select(inbox_table.c.state).order_by(inbox_table.c.id))).scalars())

    def another_sender(self, seed: int = 2) -> Sender:
        """Of another process on the same store."""
        return Sender(
            self.store,
            self.api,
            self.house,
            clock=self.clock,
            machine=self.machine,
            chance=seeded(seed),
            bell=Bell(),
        )


def seeded(seed: int) -> random.Random:
    return random.Random(seed)


def outgoing(
    key: str, *, chat: int = 7, kind: Kind = Kind.PROMPT, text: str | None = None, **more: Any
) -> Outgoing:
    return Outgoing(
        key=key,
        chat_id=chat,
        kind=kind,
        method="sendMessage",
        payload={"text": text or key, "parse_mode": "HTML"},
        **more,
    )


def message(update_id: int, text: str = "done", chat: int = 7) -> dict[str, Any]:
    person = {"id": chat, "is_bot": False, "first_name": "Ines"}
    return {
        "update_id": update_id,
        "message": {
            "message_id": update_id,
            "date": 1,
            "chat": {"id": chat, "type": "private"},
            "from": person,
            "text": text,
        },
    }


@asynccontextmanager
async def queues_on(store: Store) -> AsyncIterator[Queues]:
    clock, machine = ManualClock(NOON), ManualClock(dt.datetime(2031, 1, 1, tzinfo=dt.UTC))
    chance, house, bell = seeded(1), House(), Bell()
    async with serving(FakeApi()) as server:
        api = BotApi(TOKEN, server.url)
        await api.open()
        receiver = Receiver(
            store,
            api,
            epoch="test",
            holder="test",
            clock=clock,
            machine=machine,
            chance=chance,
            arrived=bell,
        )
        dispatcher = Dispatcher(
            store,
            house.handle,
            house.apologise,
            clock=clock,
            machine=machine,
            chance=chance,
            bell=bell,
            done=Bell(),
        )
        sender = Sender(store, api, house, clock=clock, machine=machine, chance=chance, bell=Bell())
        yield Queues(store, server, api, house, clock, machine, receiver, dispatcher, sender)
        await receiver.finish()
        await api.close_connections()
