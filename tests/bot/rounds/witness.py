"""What must hold whatever happens: everything that goes out and everything that is kept, looked at after each step.

The rules are told here once more, from the asks alone, and not by the functions that they judge.
"""

import datetime as dt
import io
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from core.adherence.history import parse_history, write_history
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach, Stage
from core.store import house
from core.store import house_tables as t
from core.terms import Outcome
from core.usecases import history
from core.week.circumstances import Circumstances
from core.week.model import Ask, Hand, Promise
from tests.bot.rounds.rules_told_again import (
    BROKEN,
    TOOK_PLACE,
    held,
    is_left,
    last_day_unanswered,
    last_number,
    most_allowed,
    took_place,
    wants_quiet,
)
from tests.playhouse import COACH_ID, Message, Play

WEEKDAYS = re.compile(r"\b(?:mon|tue|wed|thu|fri|sat|sun)", re.IGNORECASE)
UNASKED_KINDS = frozenset({"prompt", "follow_up", "sleep", "weekly"})
BY_LETTER = {"d": Outcome.DONE, "s": Outcome.SHORT, "m": Outcome.MISSED}


@dataclass(slots=True)
class Witness:
    """What has been seen of some clients of one coach, and what was wrong with it."""

    play: Play
    faults: list[str] = field(default_factory=list)
    said: Counter[str] = field(default_factory=Counter)
    seen: Counter[str] = field(default_factory=Counter)  # how often each rule had something to judge
    _keys: set[str] = field(default_factory=set)
    _unasked: Counter[tuple[int, dt.date]] = field(default_factory=Counter)
    _issued: set[int] = field(default_factory=set)
    _numbers: dict[int, tuple[int | None, bool]] = field(default_factory=dict)
    _settled: dict[int, dt.datetime | None] = field(default_factory=dict)
    _quiet: set[int] = field(default_factory=set)  # clients who were silent before this step
    # How asks stood before time passed.
    _stood: dict[int, tuple[Outcome | None, bool]] = field(default_factory=dict)

    def fault(self, words: str) -> None:
        self.faults.append(f"{self.play.at:%a %d %b %H:%M} UTC: {words}")

    # --- what goes out ------------------------------------------------------------------------------------------------

    async def look(self, messages: Sequence[Message]) -> None:
        """Everything that has just gone out to a client unasked; and where the promises stand now."""
        async with self.play.store.reading() as tx:
            unasked = [m for m in messages if m.kind in UNASKED_KINDS and m.chat_id != COACH_ID]
            for message in unasked:
                self.said[message.kind] += 1
                client = await house.client_by_telegram(tx, message.chat_id)
                assert client is not None
                life = await house.circumstances(tx, client)
                self.check_message(message, client, life)
                await self.check_sense(tx, message, client, life)
            for client in await house.clients.list(tx):
                await self.check_numbers(tx, client)

    def check_message(self, message: Message, client: Client, life: Circumstances) -> None:
        here = f"{message.key} to {client.name} at {life.where.local_at(self.play.at)}"
        if message.key in self._keys:
            self.fault(f"twice: {here}")
        self._keys.add(message.key)
        wall, today = life.where.local_at(self.play.at).time(), life.where.local_at(self.play.at).date()
        if wants_quiet(client, wall):
            self.fault(f"in quiet hours: {here}")
        if client.paused_until is not None and today <= client.paused_until:
            self.fault(f"in a pause: {here}")
        if not life.where.stay_at(self.play.at).in_reach:
            self.fault(f"out of reach: {here}")
        if client.stage is not Stage.ACTIVE:
            self.fault(f"to who stopped: {here}")
        if message.key.startswith("week:") and message.key.count(":") == 3:
            return  # the coach changed the number: outside the budget
        day = (client.id, life.today(self.play.at))
        self._unasked[day] += 1
        if self._unasked[day] > client.daily_limit:
            self.fault(f"more than {client.daily_limit} a day: {here}")
        week = IsoWeek.of(day[1])
        told = sum(n for (who, on), n in self._unasked.items() if who == client.id and on in week)
        if told > client.weekly_limit:
            self.fault(f"more than {client.weekly_limit} a week: {here}")

    async def check_sense(self, tx: Any, message: Message, client: Client, life: Circumstances) -> None:
        """Nothing but the weekly message goes out in silence, none asks to train under a red flag, each is about an open ask."""
        if client.id in self._quiet and message.kind != "weekly":
            self.fault(f"in silence: {message.key} to {client.name}")
        asks = await house.asks_of(tx, client.id)
        if message.kind in {"sleep", "follow_up"} and last_day_unanswered(asks, life.today(self.play.at)):
            self.fault(f"after an unanswered day: {message.key} to {client.name}")
        flags = await house.red_flags.list(tx, t.red_flag.c.client_id == client.id)
        to_train = message.kind != "sleep" and "rest week" not in message.text
        if to_train and any(flag.cleared_at is None for flag in flags):
            self.fault(f"under a red flag: {message.key} to {client.name}")
        if not message.key.startswith("ask:"):
            return
        ask = await house.asks.get(tx, int(message.key.split(":")[1]))
        about = f"{message.key} of {ask.day} to {client.name} on {life.today(self.play.at)}"
        if not ask.is_open:
            self.fault(f"about an ask that has ended: {about}")
        ahead = (ask.day - life.today(self.play.at)).days
        name = f"ask {ask.id}, revision {ask.revision}, {message.kind}"
        if name in self._keys:
            self.fault(f"twice: {name} to {client.name}")
        self._keys.add(name)
        if message.kind == "prompt":
            self.seen["prompt on its day" if ahead == 0 else "prompt on the evening before"] += 1
            begins = life.where.resolve(ask.day, ask.at)
            evening = begins is not None and begins - self.play.at <= dt.timedelta(days=1)
            if ahead < 0 or (ahead > 0 and (ask.at >= client.quiet_to or not evening)):
                self.fault(f"a prompt {ahead} days ahead of its session at {ask.at:%H:%M}: {about}")
        if message.kind == "follow_up" and ahead > 0:
            self.fault(f"asked after before it was due: {about}")

    # --- what is kept -------------------------------------------------------------------------------------------------

    async def before(self) -> dict[int, tuple[Outcome | None, bool]]:
        """How every ask stands, and who is silent, before time passes."""
        async with self.play.store.reading() as tx:
            self._quiet = {c.id for c in await house.clients.list(tx) if c.silent_since is not None}
            self._stood = {a.id: (a.outcome, a.withdrawn) for a in await house.asks.list(tx)}
            return self._stood

    async def check_tick(self, before: Mapping[int, tuple[Outcome | None, bool]]) -> None:
        """Time alone ends what is open, and changes nothing that was said."""
        async with self.play.store.reading() as tx:
            after = {a.id: (a.outcome, a.withdrawn) for a in await house.asks.list(tx)}
            for client in await house.clients.list(tx):
                await self.check_silence(tx, client)
        ended = {(Outcome.UNANSWERED, False), (Outcome.EXCUSED, False), (None, True), (None, False)}
        for key, was in before.items():
            now = after[key]
            if was == (None, False):
                if now not in ended:
                    self.fault(f"time made ask {key} {now}")
            elif now != was:
                self.fault(f"time changed ask {key} from {was} to {now}")
        self._quiet, self._stood = set(), {}

    async def check_silence(self, tx: Any, client: Client) -> None:
        """Two asked days in a row without any message begin it."""
        asked: dict[dt.date, list[Ask]] = {}
        for ask in await house.asks_of(tx, client.id):
            if ask.prompted_at is not None and not ask.withdrawn and not ask.extra:
                asked.setdefault(ask.day, []).append(ask)
        ended = [day for day in sorted(asked) if all(a.outcome is not None for a in asked[day])][-2:]
        if len(ended) < 2 or any(a.outcome is not Outcome.UNANSWERED for day in ended for a in asked[day]):
            return
        first = min(a.prompted_at for a in asked[ended[0]] if a.prompted_at is not None)
        if client.heard_at is None or client.heard_at < first:
            self.seen["silence"] += 1
            if client.silent_since is None and client.stage is Stage.ACTIVE:
                self.fault(f"{client.name} has said nothing to {ended} and is not silent")

    async def kept(self, user: int) -> tuple[Client, dt.date, dict[int, Ask]]:
        """What is kept of a client's sessions."""
        async with self.play.store.reading() as tx:
            client = await house.client_by_telegram(tx, user)
            assert client is not None
            today = (await house.circumstances(tx, client)).today(self.play.at)
            return client, today, {a.id: a for a in await house.asks_of(tx, client.id)}

    async def check_turn(self, user: int, said: str, before: Mapping[int, Ask]) -> None:
        """What one message or tap may change: one session more, none of a closed week, and an extra only where no ask is left."""
        client, today, after = await self.kept(user)
        fresh = [a for a in after.values() if a.outcome in TOOK_PLACE and not took_place(before.get(a.id))]
        if len(fresh) > max(1, len(WEEKDAYS.findall(said))):
            self.fault(f"'{said}' counted {len(fresh)} sessions of {client.name}")
        for ask in before.values():
            closed = today > ask.week.monday + dt.timedelta(days=9)
            if closed and ask.id in after and after[ask.id].outcome is not ask.outcome:
                self.fault(
                    f"'{said}' changed {client.name}'s closed {ask.week}: {ask.outcome} to {after[ask.id].outcome}"
                )
        for extra in (a for a in fresh if a.extra and today <= a.week.monday + dt.timedelta(days=9)):
            self.seen["extra"] += 1
            was_left = [a for a in held(list(before.values())) if a.week == extra.week and is_left(a)]
            left = [a for a in was_left if is_left(after[a.id])]  # one message may fill several
            if left:
                self.fault(
                    f"'{said}' made an extra of {client.name}'s {extra.day} while the ask of {left[0].day} was left"
                )

    async def check_press(self, user: int, data: str) -> None:
        """A tap on an outcome is what is kept, unless it came too late."""
        parts = data.split("~", maxsplit=1)[0].split(":")
        if parts[0] != "o" or parts[1] not in BY_LETTER:
            return
        async with self.play.store.reading() as tx:
            client = await house.client_by_telegram(tx, user)
            assert client is not None
            ask = await house.asks.find(tx, t.ask.c.id == int(parts[2]))
            today = (await house.circumstances(tx, client)).today(self.play.at)
        if ask is None or ask.withdrawn or client.stage is not Stage.ACTIVE or ask.day > today:
            return
        self.seen["tap on an outcome"] += 1
        in_time = today <= ask.week.monday + dt.timedelta(days=9)
        ends = Outcome.EXTRA if ask.extra else BY_LETTER[parts[1]]  # done or short, an extra stays one
        if in_time and ask.outcome is not ends:
            self.fault(f"a tap on {parts[1]} left ask {ask.id} {ask.outcome}")

    async def check_numbers(self, tx: Any, client: Client) -> None:
        """After a miss a week keeps its number; nobody is put more than one up without their own yes; nobody but the coach raises."""
        promises = await house.promises_of(tx, client.id)
        asks = await house.asks_of(tx, client.id)
        for promise in promises[-3:]:
            own = held([a for a in asks if a.week == promise.week])
            missed = any(a.missed_once or a.outcome in BROKEN for a in own)
            number, had_missed = self._numbers.get(promise.id, (None, False))
            if had_missed and number is not None and (promise.agreed or 0) < number:
                self.fault(
                    f"{client.name}'s {promise.week} had a miss and went from {number} to {promise.agreed}"
                )
            self.seen["number after a miss"] += had_missed and missed
            last = last_number([p for p in promises if p.week < promise.week], asks)
            if promise.agreed != number and promise.agreed_by is Hand.ASSUMED and last is not None:
                self.seen["assumed agreed"] += 1
                ended = sum(not a.is_open for a in own)
                then = last_number([p for p in promises if p.week < promise.week], self._as_they_stood(asks))
                if (promise.agreed or 0) > max(last + 1, (then or 0) + 1, ended):
                    self.fault(f"{client.name}'s {promise.week}: {promise.agreed} without a yes after {last}")
            self._numbers[promise.id] = (
                promise.agreed,
                missed and (had_missed or promise.agreed is not None),
            )
            await self.check_settled(tx, client, promise, last, own)

    def _as_they_stood(self, asks: Sequence[Ask]) -> list[Ask]:
        """Before this tick, which may have agreed first and then ended what was still open of the week before."""
        return [
            replace(ask, outcome=self._stood[ask.id][0], withdrawn=self._stood[ask.id][1])
            if ask.id in self._stood
            else ask
            for ask in asks
        ]

    async def check_settled(
        self, tx: Any, client: Client, promise: Promise, last: int | None, own: Sequence[Ask]
    ) -> None:
        """What was settled by nobody is no raise, unless the coach has switched that on."""
        fresh = self._settled.get(promise.id) != promise.settled_at
        self._settled[promise.id] = promise.settled_at
        if not fresh or promise.settled_by is not Hand.ASSUMED or last is None:
            return
        coach: Coach = await house.coaches.get(tx, client.coach_id)
        self.seen["assumed settled"] += 1
        most = max(last, client.floor or 0, sum(not a.is_open for a in own))
        if not coach.raise_without_me and (promise.settled or 0) > most:
            self.fault(f"{client.name}'s {promise.week}: {promise.settled} settled by nobody after {last}")

    async def check_issued(self) -> None:
        """No raise that the rules forbid."""
        async with self.play.store.reading() as tx:
            fresh = await house.promises.list(tx, t.promise.c.issued_at == self.play.at)
            for promise in (p for p in fresh if p.id not in self._issued):
                self._issued.add(promise.id)
                client = await house.clients.get(tx, promise.client_id)
                asks = await house.asks_of(tx, client.id)
                earlier = [p for p in await house.promises_of(tx, client.id) if p.week < promise.week]
                today = (await house.circumstances(tx, client)).today(self.play.at)
                running = promise.week.previous()
                waiting = [a.day for a in held(asks) if a.week == running and a.is_open and a.day <= today]
                eve = min([today, running.sunday, *(day - dt.timedelta(days=1) for day in waiting)])
                most, why = most_allowed(client, earlier, asks, max(eve, running.monday))
                self.seen[f"issued, {why}"] += 1
                if promise.recommended is not None and promise.recommended > most:
                    self.fault(
                        f"{client.name}'s {promise.week}: {promise.recommended} recommended where {most} is the most ({why})"
                    )

    # --- at the end ---------------------------------------------------------------------------------------------------

    async def see_the_end(self) -> None:
        """No ask without an end, none outside its week, no more than promised; and the history is what was said."""
        async with self.play.store.reading() as tx:
            for client in await house.clients.list(tx):
                asks = await house.asks_of(tx, client.id)
                promises = {p.week: p for p in await house.promises_of(tx, client.id)}
                today = (await house.circumstances(tx, client)).today(self.play.at)
                for ask in asks:
                    self.check_ask(client, ask, today)
                for week, promise in promises.items():
                    self.check_promise(
                        client, promise, [a for a in asks if a.week == week], IsoWeek.of(today)
                    )
                rows = await history.rows_of(tx, client)
                self.check_history(client, asks, promises, rows)

    def check_ask(self, client: Client, ask: Ask, today: dt.date) -> None:
        name = f"{client.name}'s ask {ask.id} of {ask.day}"
        self.seen[f"ask {ask.outcome or ('withdrawn' if ask.withdrawn else 'open')}"] += 1
        if ask.day not in ask.week:
            self.fault(f"{name} is outside {ask.week}")
        if ask.is_open and ask.day < today - dt.timedelta(days=2):
            self.fault(f"{name} has no end")
        if ask.outcome is Outcome.UNANSWERED and ask.prompted_at is None:
            self.fault(f"{name} is unanswered and was never asked")
        if ask.withdrawn and ask.outcome is not None:
            self.fault(f"{name} is withdrawn and {ask.outcome}")

    def check_promise(self, client: Client, promise: Promise, asks: Sequence[Ask], running: IsoWeek) -> None:
        name = f"{client.name}'s {promise.week}"
        own = held(asks)
        if promise.number is not None and len(own) > promise.number:
            self.fault(f"{name} holds {len(own)} asks and promises {promise.number}")
        if promise.agreed_by is Hand.ASSUMED and (promise.agreed or 0) > (promise.settled or 0):
            self.fault(f"{name}: assumed {promise.agreed} above the settled {promise.settled}")
        over = promise.week < running
        if over and promise.agreed is None and promise.settled and own and promise.told_at is None:
            self.fault(f"{name} was never told")

    def check_history(
        self, client: Client, asks: Sequence[Ask], promises: Mapping[IsoWeek, Promise], rows: Sequence[Any]
    ) -> None:
        """The file is valid by its own checks, and says of each day what the asks say."""
        if not rows:
            return
        file = io.StringIO()
        write_history(rows, file)
        parse_history(file.getvalue().splitlines())
        numbered = {week for week, promise in promises.items() if promise.number}
        told = Counter((r.date, r.outcome, r.promised, r.minutes, r.lowered) for r in rows)
        kept = Counter(
            (a.day, a.outcome, *_of_week(promises.get(a.week)), a.minutes, _lowered(promises.get(a.week)))
            for a in asks
            if not a.withdrawn and (a.extra or a.week in numbered)
        )
        self.seen["row of the history"] += len(rows)
        if told != kept:
            self.fault(f"{client.name}: the history says {told - kept} where {kept - told} was said")
        for ask in held(asks):
            if ask.outcome in TOOK_PLACE and ask.week not in numbered:
                self.fault(f"{client.name}: ask {ask.id} took place in a week without a number")


def _of_week(promise: Promise | None) -> tuple[int]:
    return ((promise.number or 0) if promise is not None else 0,)


def _lowered(promise: Promise | None) -> bool:
    return promise is not None and promise.lowered
