"""Everybody with a phone: what came is read, and what they mean to do is done when its time has come."""

import datetime as dt
import random
from collections.abc import Collection
from dataclasses import dataclass, field

from bot.rehearsal.botapi.world import World
from bot.rehearsal.people.client import ClientPerson
from bot.rehearsal.people.coach import CoachPerson
from bot.rehearsal.people.plans import Agenda, Deed, Plan
from bot.rehearsal.people.sight import sight_of
from bot.rehearsal.phone import Phone
from bot.rehearsal.transcript import Line
from core.errors import Refused

WEEK = dt.timedelta(days=7)
NEWS = frozenset({"message"})
CHANGES = NEWS | {"edit"}


@dataclass(slots=True)
class Crowd:
    """``in_hand``: phones that somebody at the page holds; their owners do nothing of their own."""

    world: World
    agenda: Agenda = field(default_factory=Agenda)
    people: dict[int, ClientPerson | CoachPerson] = field(default_factory=dict)
    in_hand: frozenset[int] = frozenset()
    unread: list[tuple[int, int]] = field(default_factory=list)

    def hear(self, line: Line) -> None:
        """Something was sent to a phone: to be read when the bot has finished."""
        person = self.people.get(line.chat)
        looked_at = CHANGES if isinstance(person, CoachPerson) else NEWS
        if person is not None and line.author == "bot" and line.what in looked_at:
            self.unread.append((line.chat, line.number))

    def read(self, at: dt.datetime) -> None:
        """Everybody looks at what came."""
        waiting, self.unread = self.unread, []
        for chat, number in waiting:
            message = self.world.find(chat, number)
            if message is not None and chat not in self.in_hand:
                self.people[chat].read(message, sight_of(message), at)

    def take_in_hand(self, chats: Collection[int]) -> None:
        self.in_hand = frozenset(chats)

    def next_at(self) -> dt.datetime | None:
        return self.agenda.next_at()

    def act(self, at: dt.datetime) -> int:
        """Do everything that is due; how many things that were."""
        due = self.agenda.due(at)
        for plan in due:
            self._do(plan, at)
        return len(due)

    def _do(self, plan: Plan, at: dt.datetime) -> None:
        person = self.people[plan.chat]
        if plan.deed is Deed.WEEK:
            self.agenda.add(plan.at + WEEK, plan.chat, Deed.WEEK)
            person.begin_week(at)
        elif plan.chat in self.in_hand:
            return
        elif plan.deed in {Deed.DRIFT, Deed.RETURN} and isinstance(person, ClientPerson):
            person.drifting = plan.deed is Deed.DRIFT
        else:
            self._use_phone(plan)

    def _use_phone(self, plan: Plan) -> None:
        phone = Phone(self.world, self.world.people[plan.chat])
        try:
            match plan.deed:
                case Deed.SAY:
                    phone.send(plan.words)
                case Deed.REPLY:
                    phone.send(plan.words, reply_to=plan.message)
                case Deed.START:
                    phone.start(plan.words)
                case Deed.TAP:
                    self._tap(phone, plan)
                case Deed.BLOCK:
                    phone.block()
                case Deed.UNBLOCK:
                    phone.unblock()
                case _:
                    return
        except Refused:  # the message is gone, or the bot is blocked: then not
            return

    def _tap(self, phone: Phone, plan: Plan) -> None:
        message = self.world.find(plan.chat, plan.message)
        buttons = [b for row in (message.buttons if message else []) for b in row if "callback_data" in b]
        found = next((b for b in buttons if b["text"].startswith(plan.words)), None)
        if found is not None:
            phone.press(plan.message, found["callback_data"])


def chance_of(seed: int, name: str) -> random.Random:
    """Everybody's own luck, so that one more person changes nobody else's life."""
    return random.Random(f"{seed} {name}")  # noqa: S311 - a play
