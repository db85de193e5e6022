"""The house on a stage of one process: people write and press, the clock is moved by hand, the outbox is read.

No network and no sleeping: what the queues do with the rows has tests of its own.
"""

import datetime as dt
import itertools
import random
from dataclasses import dataclass, field, replace
from typing import Any

from sqlalchemy import select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.beforehand import ToLearn
from bot.chats.buttons import Signer
from bot.chats.files import Wanted, read_file
from bot.chats.turn import Desk
from bot.clock import ManualClock
from bot.house import House
from bot.learning import learn
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach, Stage
from core.store import house
from core.store import house_tables as t
from core.store.engine import Store
from core.store.outbox import FIELDS, Queued, as_queued
from core.store.queue_tables import outbox
from core.terms import Room
from core.usecases import recommend, settle
from core.usecases.enrol import enrol_coach
from core.usecases.schedule import reschedule, reschedule_coach
from core.week.model import Hand

COACH_ID, CLIENT_ID = 7001, 7101
NOTHING_TO_DECLARE = (
    "45",
    "dumbbells",
    "Some months",
    "Nothing hurts",
    "Keep my",
    "Mon Wed Fri",
    "07:00",
    "8 h",
    "Yes, that",
)
WEDNESDAY = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
MONDAY = dt.datetime(2026, 11, 30, 7, tzinfo=dt.UTC)  # the first hour of the first week


@dataclass(frozen=True, slots=True)
class Message:
    """One message that waits to be sent."""

    id: int
    key: str
    chat_id: int
    kind: str
    method: str
    payload: dict[str, Any]

    @property
    def text(self) -> str:
        return str(self.payload.get("text", self.payload.get("caption", "")))

    @property
    def buttons(self) -> dict[str, str]:
        rows = self.payload.get("reply_markup", {}).get("inline_keyboard", [])
        return {b["text"]: b["callback_data"] for row in rows for b in row}


async def queued(tx: AsyncConnection, key: str) -> Queued:
    """The message with this key, whatever became of it."""
    found = await tx.execute(select(*FIELDS).where(outbox.c.key == key))
    return as_queued(found.one())


class Seeded:
    """Random bytes that are the same every time."""

    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)

    def __call__(self, count: int) -> bytes:
        return self._random.randbytes(count)


def a_desk(seed: int = 1) -> Desk:
    return Desk(
        signer=Signer(b"a secret of this stage"),
        bot_name="keptword_bot",
        random_bytes=Seeded(seed),
        calendar_base="https://bot.example.org/calendar",
    )


@dataclass(slots=True)
class Play:
    """A stage: the house, and where its clock stands."""

    store: Store
    at: dt.datetime = WEDNESDAY
    clock: ManualClock = field(default_factory=lambda: ManualClock(WEDNESDAY))
    house: House = field(init=False)
    _updates: "itertools.count[int]" = field(default_factory=lambda: itertools.count(1))
    _looked_at: int = 0

    def __post_init__(self) -> None:
        self.house = House(desk=a_desk(), clock=self.clock)

    async def _handle(self, update_: dict[str, Any]) -> list[Message]:
        async with self.store.reading() as tx:
            wish = await self.house.wants(tx, update_, self.at)
        learnt = await learn(self.store, wish.today) if isinstance(wish, ToLearn) else (None,)
        async with self.store.begin() as tx:
            await self.house.handle(tx, update_, self.at, learnt[0])
        return await self.news()

    async def news(self) -> list[Message]:
        """What was put into the outbox since the last look."""
        query = select(outbox).where(outbox.c.id > self._looked_at).order_by(outbox.c.id)
        async with self.store.reading() as tx:
            fresh = (await tx.execute(query)).mappings().all()
        self._looked_at = max((row["id"] for row in fresh), default=self._looked_at)
        return [_message(row) for row in fresh]

    async def waiting(self, chat_id: int) -> list[Message]:
        async with self.store.reading() as tx:
            rows = (
                (await tx.execute(select(outbox).where(outbox.c.chat_id == chat_id).order_by(outbox.c.id)))
                .mappings()
                .all()
            )
        return [_message(row) for row in rows]

    async def says(self, user: int, text: str, **extra: Any) -> list[Message]:
        """Somebody writes."""
        number = next(self._updates)
        message = {**_envelope(user, number, self.at), "text": text, **extra}
        return await self._handle({"update_id": number, "message": message})

    async def edits(self, user: int, text: str) -> list[Message]:
        number = next(self._updates)
        return await self._handle(
            {"update_id": number, "edited_message": {**_envelope(user, number, self.at), "text": text}}
        )

    async def sends(self, user: int, **what: Any) -> list[Message]:
        """Somebody sends something other than text."""
        number = next(self._updates)
        return await self._handle(
            {"update_id": number, "message": {**_envelope(user, number, self.at), **what}}
        )

    async def sends_file(self, user: int, content: bytes, name: str, **extra: Any) -> list[Message]:
        """Somebody sends a document: it is looked at, read and handled in the three steps of the queue, without the network."""
        number = next(self._updates)
        file = {"file_id": f"file-{number}", "file_name": name, "file_size": len(content)}
        update_: dict[str, Any] = {
            "update_id": number,
            "message": {**_envelope(user, number, self.at), "document": file, **extra},
        }
        async with self.store.reading() as tx:
            wanted = await self.house.wants(tx, update_, self.at)
        brought = read_file(wanted, content) if isinstance(wanted, Wanted) else None
        async with self.store.begin() as tx:
            await self.house.handle(tx, update_, self.at, brought)
        return await self.news()

    async def presses(self, user: int, label: str, *, data: str | None = None) -> list[Message]:
        """Somebody presses the newest button with this label, or sends data of their own."""
        number = next(self._updates)
        message, found = (0, data) if data is not None else await self._newest(user, label)
        pressed = {
            "id": str(number),
            "from": {"id": user, "first_name": "Somebody"},
            "message": {"message_id": 5000 + message, "chat": {"id": user, "type": "private"}},
            "data": found,
        }
        return await self._handle({"update_id": number, "callback_query": pressed})

    async def _newest(self, user: int, label: str) -> tuple[int, str]:
        for message in reversed(await self.waiting(user)):
            found = next((d for text, d in message.buttons.items() if text.startswith(label)), None)
            if found is not None:
                return message.id, found
        msg = f"{user} has no button '{label}'"
        raise AssertionError(msg)

    async def blocks(self, user: int, *, left: bool = True) -> list[Message]:
        number = next(self._updates)
        member = {
            "from": {"id": user},
            "chat": {"id": user, "type": "private"},
            "new_chat_member": {"status": "kicked" if left else "member"},
        }
        return await self._handle({"update_id": number, "my_chat_member": member})

    async def until(self, at: dt.datetime) -> list[Message]:
        """Let time pass, stopping at everything that is due."""
        while (due := await self.house.next_due(self.store)) is not None and due <= at:
            self.at = max(self.at, due)
            if not await self.house.tick(self.store, self.at):
                break
        self.at = max(self.at, at)
        return await self.news()

    # --- people -------------------------------------------------------------------------------------------------------

    async def coach(self, user: int = COACH_ID, name: str = "Ines Prado", **fields: Any) -> Coach:
        """A coach who has set up zone and digest hour."""
        new = Coach(
            id=0, name=name, telegram_id=user, stage=Stage.ACTIVE, **{"zone": "Europe/Lisbon", **fields}
        )
        async with self.store.begin() as tx:
            added = await house.coaches.add(tx, new)
            await reschedule_coach(tx, added, self.at)
        return added

    async def coach_by_link(self, user: int = COACH_ID, city: str = "Lisbon") -> Coach:
        """A coach who came in by their link."""
        token = f"coach-token-{user}"
        async with self.store.begin() as tx:
            await enrol_coach(tx, "Ines Prado", token, at=self.at)
        await self.says(user, f"/start {token}")
        await self.says(user, city)
        await self.presses(user, "18:00")
        async with self.store.reading() as tx:
            found = await house.coach_by_telegram(tx, user)
        assert found is not None
        return found

    async def invitation(self, coach: int, name: str) -> str:
        """The token of a new client's link."""
        said = await self.says(coach, f"/invite {name}")
        return said[0].text.rsplit("start=", 1)[1]

    async def enrol(self, user: int, token: str, *, lately: str = "2", city: str = "Lisbon") -> int:
        """A client with nothing to declare. Returns the taps that it took."""
        await self.says(user, f"/start {token}")
        await self.presses(user, "I agree")
        await self.says(user, city)
        for label in (lately, *NOTHING_TO_DECLARE):
            await self.presses(user, label)
        await self.presses(user, "None of these")
        taps = 14
        if int(lately) >= 3:
            await self.presses(user, "Yes")
            taps += 1
        return taps

    async def client(
        self, user: int = CLIENT_ID, name: str = "Mara", coach: int = COACH_ID, **fields: Any
    ) -> Client:
        """A client who is enrolled and confirmed: lives in Lisbon, two sessions a week lately, Mon Wed Fri at 07:00."""
        usual = {
            "zone": "Europe/Lisbon",
            "country": "PT",
            "place": "Lisbon",
            "lately": 2,
            "room": Room.DUMBBELLS,
        }
        days = {
            "usual_days": (1, 3, 5),
            "usual_time": dt.time(7),
            "first_week": IsoWeek.of(self.at.date()).next(),
        }
        async with self.store.begin() as tx:
            their_coach = await house.coach_by_telegram(tx, coach)
            assert their_coach is not None
            new = Client(
                id=0,
                coach_id=their_coach.id,
                name=name,
                telegram_id=user,
                stage=Stage.ACTIVE,
                consented_at=self.at,
                **{**usual, **days, **fields},
            )
            added = await house.clients.add(tx, new)
            learnt, _ = await recommend.population(tx, self.at.date())
            await recommend.first_promise(tx, added, self.at, learnt)
            await reschedule(tx, added.id, self.at)
        await self.news()
        return added

    async def agreed(self, client: Client, number: int) -> None:
        """The coach settles the coming week, and the client takes the days."""
        async with self.store.begin() as tx:
            week = IsoWeek.of((await house.circumstances(tx, client)).today(self.at)).next()
            promise = await house.promise_for(tx, client.id, week)
            assert promise is not None
            settled = await settle.settle(tx, client, promise, number, hand=Hand.COACH, at=self.at)
            settled = await house.promises.save(tx, replace(settled, told_at=self.at))
            await settle.agree(tx, client, settled, number, hand=Hand.CLIENT, at=self.at)
            await reschedule(tx, client.id, self.at)

    async def mara_on_monday(self) -> Client:
        """She has agreed to two sessions, Monday and Wednesday at 07:00; it is Monday, and she has been prompted."""
        client = await self.client()
        await self.agreed(client, 2)
        await self.until(MONDAY)
        return client

    async def change(self, client_id: int, **fields: Any) -> None:
        """Set fields of a client directly."""
        async with self.store.begin() as tx:
            await tx.execute(update(t.client).where(t.client.c.id == client_id).values(**fields))


def _envelope(user: int, number: int, at: dt.datetime) -> dict[str, Any]:
    return {
        "message_id": number,
        "date": int(at.timestamp()),
        "chat": {"id": user, "type": "private"},
        "from": {"id": user, "first_name": "Somebody", "is_bot": False},
    }


def _message(row: Any) -> Message:
    return Message(row["id"], row["key"], row["chat_id"], row["kind"], row["method"], row["payload"] or {})


def said_to(messages: list[Message], chat_id: int) -> str:
    """Everything that goes to one chat, as one text."""
    return "\n".join(m.text for m in messages if m.chat_id == chat_id)
