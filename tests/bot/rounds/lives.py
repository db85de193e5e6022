"""People who live through weeks with the house: they answer, move, travel, fall ill and silent, by a law of dice.

Everything goes through the house itself: updates are handled, the clock is moved to what is due, ticks come late, the machine
stops for hours or days. After each step the witness looks at everything that went out and everything that is kept.
"""

import datetime as dt
import random
from collections import Counter
from collections.abc import Awaitable, Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select, update

from core.people.model import Client, SleepAsked
from core.people.records import PlannedTrip
from core.store import house
from core.store import house_tables as t
from core.store.queue_tables import outbox
from core.usecases import care, travel
from core.usecases.schedule import reschedule
from tests.bot.rounds.witness import Witness
from tests.playhouse import COACH_ID, Message, Play

ZONES = (
    "Europe/Lisbon",
    "America/New_York",
    "Pacific/Apia",
    "Pacific/Honolulu",
    "Pacific/Auckland",
    "Pacific/Kiritimati",
    "Asia/Kathmandu",
    "Africa/Cairo",
    "Australia/Lord_Howe",
    "America/Santiago",
)
WORDS = (
    *["done"] * 6,
    "can't today",
    "did half of it",
    "7",
    "6.5",
    "slept 5 hours",
    "later",
    "move it to Friday",
    "can we do Sunday instead",
    "tomorrow",
    "at 19:00",
    "at 6:00",
    "Monday done",
    "did 40 minutes",
    "only managed 10 minutes",
    "I've got a fever, in bed",
    "thanks",
    "qwertz zxcv",
    "2 sessions next week",
    "5 sessions next week",
    "Tue Thu Sat at 7",
    "/week",
    "/plan",
    "/trip",
    "/now",
    "back",
)
MOST_TURNS = 20  # ticks at one instant
OUTAGES = (*[dt.timedelta(hours=3)] * 6, *[dt.timedelta(hours=36)] * 3, dt.timedelta(days=9))


@dataclass(slots=True)
class Lives:
    """Some clients of one coach, and what has been seen of them."""

    play: Play
    dice: random.Random
    clients: list[int] = field(default_factory=list)  # Telegram ids
    silent_on: frozenset[str] = frozenset()  # words that nobody says
    witness: Witness = field(init=False)
    steps: int = 0
    outages: int = 0
    did: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        self.witness = Witness(self.play)

    # --- who they are -------------------------------------------------------------------------------------------------

    async def enter(self, number: int) -> None:
        """A coach, and clients all over the world who train at any hour."""
        await self.play.coach(
            zone=self.dice.choice(ZONES), raise_without_me=self.dice.random() < 0.3, digest_at=dt.time(18)
        )
        for n in range(number):
            user = 7200 + n
            await self.play.client(
                user,
                f"Client {n}",
                zone=self.dice.choice(ZONES),
                usual_days=tuple(sorted(self.dice.sample(range(1, 8), self.dice.randint(1, 5)))),
                usual_time=dt.time(self.dice.choice((5, 6, 7, 9, 12, 18, 20, 22)), self.dice.choice((0, 30))),
                lately=self.dice.randint(0, 5),
                sleep_asked=self.dice.choice(list(SleepAsked)),
                floor=self.dice.choice((None, None, 1, 2, 3)),
                daily_limit=self.dice.choice((1, 2, 2, 3)),
                weekly_limit=self.dice.choice((4, 12, 12)),
            )
            self.clients.append(user)

    # --- what happens -------------------------------------------------------------------------------------------------

    async def live(self, weeks: int) -> None:
        """So many weeks, a few hours at a time."""
        end = self.play.at + dt.timedelta(weeks=weeks)
        while self.play.at < end:
            await self.pass_time(dt.timedelta(minutes=self.dice.randint(30, 60 * 14)))
            for user in self.clients:
                if self.dice.random() < 0.4:
                    await self.act(user)
            if self.dice.random() < 0.4:
                await self.coach_acts()
            if self.dice.random() < 0.03:
                self.outages += 1
                self.play.at += self.dice.choice(OUTAGES)
        await self.pass_time(dt.timedelta(days=16))
        await self.witness.see_the_end()

    async def pass_time(self, span: dt.timedelta) -> None:
        """Let what is due happen, sometimes a little late."""
        until, turns = self.play.at + span, Counter[dt.datetime]()
        while (due := await self.play.house.next_due(self.play.store)) is not None and due <= until:
            self.play.at = max(self.play.at, due)
            if self.dice.random() < 0.25:
                self.play.at += dt.timedelta(minutes=self.dice.randint(1, 600))
            before = await self.witness.before()
            dealt = await self.play.house.tick(self.play.store, self.play.at)
            self.steps += 1
            await self.witness.look(await self.play.news())
            await self.witness.check_tick(before)
            await self.witness.check_issued()
            turns[self.play.at] += 1
            if not dealt or turns[self.play.at] > MOST_TURNS:
                self.witness.fault("what is due comes again and again, or is not dealt with")
                break
        self.play.at = max(self.play.at, until)

    async def act(self, user: int) -> None:
        """One thing that a client does."""
        doings: Sequence[tuple[Callable[[int], Awaitable[None]], float]] = (
            (self.press_something, 60),
            (self.say_something, 25),
            (self.travel, 2),
            (self.change_something, 2),
            (self.pause_or_stop, 0.7),
            (self.raise_a_flag, 0.5),
        )
        doing = self.dice.choices([d for d, _ in doings], [weight for _, weight in doings])[0]
        await doing(user)
        self.did[doing.__name__] += 1
        self.steps += 1
        await self.witness.look(await self.play.news())

    async def press_something(self, user: int) -> None:
        """A button of one of the last messages, mostly of the newest; now and then one of weeks ago."""
        recent = await self.buttons_of(user, 3 if self.dice.random() < 0.9 else 200)
        if not recent:
            return
        message = self.dice.choice(recent)
        label, data = self.dice.choice(list(message.buttons.items()))
        if label == "Remove it all":
            return
        *_, before = await self.witness.kept(user)
        await self.witness.look(await self.play.presses(user, label, data=data))
        await self.witness.check_turn(user, data, before)
        await self.witness.check_press(user, data)

    async def say_something(self, user: int) -> None:
        words = self.dice.choice([w for w in WORDS if w not in self.silent_on])
        for _ in range(2 if self.dice.random() < 0.1 else 1):
            *_, before = await self.witness.kept(user)
            await self.witness.look(await self.play.says(user, words))
            await self.witness.check_turn(user, words, before)

    async def travel(self, user: int) -> None:
        async with self.play.store.begin() as tx:
            client = await self.client(tx, user)
            today = (await house.circumstances(tx, client)).today(self.play.at)
            coming = await travel.coming_trips(tx, client, self.play.at)
            if coming and self.dice.random() < 0.4:
                await travel.call_off(tx, client, self.dice.choice(coming), self.play.at)
            else:
                first = today + dt.timedelta(days=self.dice.randint(-1, 8))
                length = self.dice.choice((0, 1, 3, 6, 12))
                trip = PlannedTrip(
                    id=0,
                    client_id=client.id,
                    place="Elsewhere",
                    zone=self.dice.choice(ZONES),
                    first=first,
                    last=first + dt.timedelta(days=length),
                    in_reach=self.dice.random() < 0.8,
                )
                await travel.plan_trip(tx, client, trip, self.play.at)
            await reschedule(tx, client.id, self.play.at)

    async def change_something(self, user: int) -> None:
        """A setting, at any moment."""
        choices: Sequence[Mapping[str, Any]] = (
            {"usual_time": dt.time(self.dice.randint(5, 22))},
            {
                "quiet_from": dt.time(self.dice.choice((20, 21, 22))),
                "quiet_to": dt.time(self.dice.choice((6, 7, 9))),
            },
            {"daily_limit": self.dice.choice((1, 2, 3))},
            {"weekly_limit": self.dice.choice((3, 4, 12))},
            {"sleep_asked": self.dice.choice(list(SleepAsked))},
            {"confidence": self.dice.choice((0.6, 0.8, 0.95))},
            {"zone": self.dice.choice(ZONES)},
            {"usual_days": tuple(sorted(self.dice.sample(range(1, 8), 3)))},
        )
        async with self.play.store.begin() as tx:
            client = await self.client(tx, user)
            values = dict(self.dice.choice(choices))
            await tx.execute(update(t.client).where(t.client.c.id == client.id).values(**values))
            await travel.mend_week(tx, await self.client(tx, user), self.play.at)
            await reschedule(tx, client.id, self.play.at)

    async def pause_or_stop(self, user: int) -> None:
        if self.dice.random() < 0.3:
            await self.witness.look(await self.play.says(user, "/stop"))
            await self.pass_time(dt.timedelta(days=self.dice.randint(0, 9)))
            await self.witness.look(await self.play.says(user, "back"))
            return
        await self.witness.look(await self.play.says(user, "/pause"))
        await self.witness.look(await self.play.presses(user, self.dice.choice(("1 week", "2 weeks"))))

    async def raise_a_flag(self, user: int) -> None:
        await self.witness.look(await self.play.says(user, "sharp chest pain and dizzy on the stairs"))
        await self.pass_time(dt.timedelta(hours=self.dice.randint(1, 60)))
        async with self.play.store.begin() as tx:
            client = await self.client(tx, user)
            await care.clear_red_flags(tx, client, "seen by a doctor", self.play.at)
            await reschedule(tx, client.id, self.play.at)

    async def coach_acts(self) -> None:
        waiting = await self.buttons_of(COACH_ID, 8)
        useful = ("Accept", "Hold", "Rest", "Another", "Change", "Settle", "3", "4", "5", "6")
        pressed = [data for m in waiting for label, data in m.buttons.items() if label.startswith(useful)]
        if pressed:
            await self.witness.look(await self.play.presses(COACH_ID, "", data=self.dice.choice(pressed)))

    async def buttons_of(self, chat: int, most: int) -> list[Message]:
        """The last messages of a chat that carry buttons."""
        query = select(outbox).where(outbox.c.chat_id == chat).order_by(outbox.c.id.desc()).limit(3 * most)
        async with self.play.store.reading() as tx:
            rows = (await tx.execute(query)).mappings().all()
        found = [
            Message(r["id"], r["key"], r["chat_id"], r["kind"], r["method"], r["payload"] or {}) for r in rows
        ]
        return [m for m in found if m.buttons][:most]

    async def client(self, tx: Any, user: int) -> Client:
        found = await house.client_by_telegram(tx, user)
        assert found is not None
        return found
