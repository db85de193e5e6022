"""People who live through weeks with the house: they answer, move, travel, fall ill and silent, by a law of dice; and what must hold.

Everything goes through the house itself: updates are handled, the clock is moved to what is due, ticks come late, the machine
stops for hours or days. After each step everything that went out and everything that is kept is checked against the rules.
"""

import datetime as dt
import io
import random
from collections import Counter
from collections.abc import Awaitable, Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select, update

from core.adherence.history import parse_history, write_history
from core.calendar.weeks import IsoWeek
from core.people.model import Client, SleepAsked, Stage
from core.people.records import PlannedTrip
from core.store import house
from core.store import house_tables as t
from core.store.queue_tables import outbox
from core.terms import Outcome
from core.usecases import care, history, travel
from core.usecases.schedule import reschedule
from core.week.circumstances import Circumstances
from core.week.count import of_promise
from core.week.model import Ask, Hand, Promise
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
UNASKED_KINDS = frozenset({"prompt", "follow_up", "sleep", "weekly"})
OUTAGES = (*[dt.timedelta(hours=3)] * 6, *[dt.timedelta(hours=36)] * 3, dt.timedelta(days=9))
BY_LETTER = {"d": Outcome.DONE, "s": Outcome.SHORT, "m": Outcome.MISSED}


@dataclass(slots=True)
class Lives:
    """Some clients of one coach, and what has been seen of them."""

    play: Play
    dice: random.Random
    clients: list[int] = field(default_factory=list)  # Telegram ids
    faults: list[str] = field(default_factory=list)
    said: Counter[str] = field(default_factory=Counter)
    steps: int = 0
    outages: int = 0
    _keys: set[str] = field(default_factory=set)
    _unasked: Counter[tuple[int, dt.date]] = field(default_factory=Counter)
    _issued: set[int] = field(default_factory=set)

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
        await self.see_the_end()

    async def pass_time(self, span: dt.timedelta) -> None:
        """Let what is due happen, sometimes a little late."""
        until = self.play.at + span
        while (due := await self.play.house.next_due(self.play.store)) is not None and due <= until:
            self.play.at = max(self.play.at, due)
            if self.dice.random() < 0.25:
                self.play.at += dt.timedelta(minutes=self.dice.randint(1, 600))
            before = await self.outcomes()
            dealt = await self.play.house.tick(self.play.store, self.play.at)
            self.steps += 1
            await self.look(await self.play.news())
            self.check_tick(before, await self.outcomes())
            await self.check_issued()
            if not dealt:
                self.faults.append(f"{self.play.at}: due, but nothing was dealt with")
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
        self.steps += 1
        await self.look(await self.play.news())

    async def press_something(self, user: int) -> None:
        """A button of one of the last messages, mostly of the newest; now and then one of weeks ago."""
        recent = await self.buttons_of(user, 3 if self.dice.random() < 0.9 else 200)
        if not recent:
            return
        message = self.dice.choice(recent)
        label, data = self.dice.choice(list(message.buttons.items()))
        if label == "Remove it all":
            return
        await self.look(await self.play.presses(user, label, data=data))
        await self.check_press(user, data)

    async def say_something(self, user: int) -> None:
        words = self.dice.choice(WORDS)
        await self.look(await self.play.says(user, words))
        if self.dice.random() < 0.1:
            await self.look(await self.play.says(user, words))

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
            await self.look(await self.play.says(user, "/stop"))
            await self.pass_time(dt.timedelta(days=self.dice.randint(0, 9)))
            await self.look(await self.play.says(user, "back"))
            return
        await self.look(await self.play.says(user, "/pause"))
        await self.look(await self.play.presses(user, self.dice.choice(("1 week", "2 weeks"))))

    async def raise_a_flag(self, user: int) -> None:
        await self.look(await self.play.says(user, "sharp chest pain and dizzy on the stairs"))
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
            await self.look(await self.play.presses(COACH_ID, "", data=self.dice.choice(pressed)))

    async def buttons_of(self, chat: int, most: int) -> list[Message]:
        """The last messages of a chat that carry buttons."""
        query = select(outbox).where(outbox.c.chat_id == chat).order_by(outbox.c.id.desc()).limit(3 * most)
        async with self.play.store.reading() as tx:
            rows = (await tx.execute(query)).mappings().all()
        found = [
            Message(r["id"], r["key"], r["chat_id"], r["kind"], r["method"], r["payload"] or {}) for r in rows
        ]
        return [m for m in found if m.buttons][:most]

    # --- what must hold -----------------------------------------------------------------------------------------------

    async def client(self, tx: Any, user: int) -> Client:
        found = await house.client_by_telegram(tx, user)
        assert found is not None
        return found

    async def look(self, messages: Sequence[Message]) -> None:
        """Everything that has just gone out to a client unasked."""
        unasked = [m for m in messages if m.kind in UNASKED_KINDS and m.chat_id != COACH_ID]
        self.said.update(m.kind for m in unasked)
        if not unasked:
            return
        async with self.play.store.reading() as tx:
            for message in unasked:
                client = await self.client(tx, message.chat_id)
                self.check_message(message, client, await house.circumstances(tx, client))

    def check_message(self, message: Message, client: Client, life: Circumstances) -> None:
        here = f"{message.key} to {client.name} at {life.where.local_at(self.play.at)}"
        if message.key in self._keys:
            self.faults.append(f"twice: {here}")
        self._keys.add(message.key)
        if life.is_quiet(self.play.at):
            self.faults.append(f"in quiet hours: {here}")
        if not life.hears(self.play.at):
            self.faults.append(f"in a pause or out of reach: {here}")
        if client.stage is not Stage.ACTIVE:
            self.faults.append(f"to who stopped: {here}")
        if message.key.startswith("week:") and message.key.count(":") == 3:
            return  # the coach changed the number: outside the budget
        day = (client.id, life.today(self.play.at))
        self._unasked[day] += 1
        if self._unasked[day] > client.daily_limit:
            self.faults.append(f"more than {client.daily_limit} a day: {here}")
        week = IsoWeek.of(day[1])
        if (
            sum(n for (who, on), n in self._unasked.items() if who == client.id and on in week)
            > client.weekly_limit
        ):
            self.faults.append(f"more than {client.weekly_limit} a week: {here}")

    async def check_issued(self) -> None:
        """No raise that the rules forbid, counted here from the asks alone."""
        async with self.play.store.reading() as tx:
            fresh = await house.promises.list(tx, t.promise.c.issued_at == self.play.at)
            for promise in (p for p in fresh if p.id not in self._issued):
                self._issued.add(promise.id)
                client = await house.clients.get(tx, promise.client_id)
                asks = await house.asks_of(tx, client.id)
                earlier = [p for p in await house.promises_of(tx, client.id) if p.week < promise.week]
                most = most_allowed(client, earlier, asks)
                if promise.recommended is not None and promise.recommended > most:
                    self.faults.append(
                        f"{client.name}'s {promise.week}: {promise.recommended} recommended where {most} is the most"
                    )

    async def outcomes(self) -> dict[int, tuple[Outcome | None, bool]]:
        async with self.play.store.reading() as tx:
            return {a.id: (a.outcome, a.withdrawn) for a in await house.asks.list(tx)}

    def check_tick(
        self,
        before: Mapping[int, tuple[Outcome | None, bool]],
        after: Mapping[int, tuple[Outcome | None, bool]],
    ) -> None:
        """Time alone ends what is open, and changes nothing that was said."""
        for key, (outcome, withdrawn) in before.items():
            now = after[key]
            ended = {(Outcome.UNANSWERED, False), (Outcome.EXCUSED, False), (None, True), (None, False)}
            if (outcome, withdrawn) == (None, False):
                if now not in ended:
                    self.faults.append(f"{self.play.at}: time made ask {key} {now}")
            elif now != (outcome, withdrawn):
                self.faults.append(f"{self.play.at}: time changed ask {key} from {outcome} to {now}")

    async def check_press(self, user: int, data: str) -> None:
        """A tap on an outcome is what is kept, unless it came too late."""
        parts = data.split("~", maxsplit=1)[0].split(":")
        if parts[0] != "o" or parts[1] not in BY_LETTER:
            return
        async with self.play.store.reading() as tx:
            client = await self.client(tx, user)
            ask = await house.asks.find(tx, t.ask.c.id == int(parts[2]))
            today = (await house.circumstances(tx, client)).today(self.play.at)
        if ask is None or ask.withdrawn or client.stage is not Stage.ACTIVE or ask.day > today:
            return
        if today <= ask.week.next().monday + dt.timedelta(days=2) and ask.outcome is not BY_LETTER[parts[1]]:
            self.faults.append(f"{self.play.at}: a tap on {parts[1]} left ask {ask.id} {ask.outcome}")

    async def see_the_end(self) -> None:
        """No ask without an end, none outside its week, no more than promised; and the history is what was said."""
        async with self.play.store.reading() as tx:
            for user in self.clients:
                client = await self.client(tx, user)
                asks = await house.asks_of(tx, client.id)
                promises = {p.week: p for p in await house.promises_of(tx, client.id)}
                today = (await house.circumstances(tx, client)).today(self.play.at)
                for ask in asks:
                    self.check_ask(client, ask, today)
                for week, promise in promises.items():
                    self.check_promise(client, promise, [a for a in asks if a.week == week])
                rows = await history.rows_of(tx, client)
                self.check_history(client, asks, promises, rows)

    def check_ask(self, client: Client, ask: Ask, today: dt.date) -> None:
        name = f"{client.name}'s ask {ask.id} of {ask.day}"
        if ask.day not in ask.week:
            self.faults.append(f"{name} is outside {ask.week}")
        if ask.is_open and ask.day < today - dt.timedelta(days=2):
            self.faults.append(f"{name} has no end")
        if ask.outcome is Outcome.UNANSWERED and ask.prompted_at is None:
            self.faults.append(f"{name} is unanswered and was never asked")
        if ask.withdrawn and ask.outcome is not None:
            self.faults.append(f"{name} is withdrawn and {ask.outcome}")

    def check_promise(self, client: Client, promise: Promise, asks: Sequence[Ask]) -> None:
        name = f"{client.name}'s {promise.week}"
        held = of_promise(asks)
        if promise.number is not None and len(held) > promise.number:
            self.faults.append(f"{name} holds {len(held)} asks and promises {promise.number}")
        if promise.agreed_by is Hand.ASSUMED and (promise.agreed or 0) > (promise.settled or 0):
            self.faults.append(f"{name}: assumed {promise.agreed} above the settled {promise.settled}")
        if promise.agreed is None and promise.settled and held and promise.told_at is None:
            self.faults.append(f"{name} was never told")

    def check_history(
        self, client: Client, asks: Sequence[Ask], promises: Mapping[IsoWeek, Promise], rows: Sequence[Any]
    ) -> None:
        """The file is valid by its own checks, and says of each day what the asks say."""
        if not rows:
            return
        file = io.StringIO()
        write_history(rows, file)
        parse_history(file.getvalue().splitlines())
        told = Counter((r.date, r.outcome) for r in rows)
        kept = Counter(
            (a.day, a.outcome)
            for a in asks
            if not a.withdrawn and (a.extra or ((p := promises.get(a.week)) is not None and bool(p.number)))
        )
        if told != kept:
            self.faults.append(f"{client.name}: the history says {told - kept} where {kept - told} was said")
        for ask in of_promise(asks):
            if ask.took_place and not (promises[ask.week].number if ask.week in promises else 0):
                self.faults.append(f"{client.name}: ask {ask.id} took place in a week without a number")


def most_allowed(client: Client, earlier: Sequence[Promise], asks: Sequence[Ask]) -> int:
    """The most that may be recommended after these weeks; what is still open counts as not done."""
    floor = client.floor or 0
    last: Promise | None = None
    least, forbidden = 7, False
    for promise in earlier:
        week = [a for a in of_promise(asks) if a.week == promise.week and promise.number]
        done = sum(a.outcome is Outcome.DONE for a in week)
        short = sum(a.outcome is Outcome.SHORT for a in week)
        excused = any(a.outcome is Outcome.EXCUSED for a in week)
        broken = any(a.outcome in {Outcome.MISSED, Outcome.UNANSWERED} or a.is_open for a in week)
        if done + short or broken:
            last, least, forbidden = promise, 7, broken
        if week and promise.number:
            least = min(least, promise.number)
        forbidden = forbidden or promise.lowered or excused or short > done
    if last is None or last.number is None:
        first = 2 if client.lately is None else max(1, client.lately)
        return max(first, floor)
    return max(min(last.number, least) + (not forbidden), floor)


async def live(play: Play, seed: int, *, clients: int, weeks: int) -> Lives:
    """Play it. The faults are in what is returned."""
    lives = Lives(play, random.Random(seed))
    await lives.enter(clients)
    await lives.live(weeks)
    return lives
