"""The invented coach: settles on Sundays, answers questions, sees red flags and clears them with a note."""

import datetime as dt
import random
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bot.rehearsal.botapi.models import Message
from bot.rehearsal.people import sayings
from bot.rehearsal.people.plans import Agenda, Deed, when_awake
from bot.rehearsal.people.sight import Sight, labels_of

_LINK = re.compile(r"start=([\w-]+)")


@dataclass(slots=True, kw_only=True)
class CoachPerson:
    """``awaits``: the phone to which invitations are forwarded."""

    chat: int
    name: str
    chance: random.Random
    agenda: Agenda
    zone: str
    awaits: int = 0
    away: bool = False

    def read(self, message: Message, sight: Sight, at: dt.datetime) -> None:
        reading = READINGS.get(sight)
        if reading is not None:
            reading(self, message, at)

    def begin_week(self, at: dt.datetime) -> None:
        """Nothing of a coach's own."""

    def well(self, message: Message, at: dt.datetime) -> None:
        if self.chance.random() < 0.95:
            self._tap(at, self.chance.uniform(4, 50), "Accept ", message)

    def choice(self, message: Message, at: dt.datetime) -> None:
        accept = next(label for label in labels_of(message) if label.startswith("Accept "))
        wanted = ("Accept ", "Hold", "Another number", "Rest week", "")
        label = self.chance.choices(wanted, (70, 12, 10, 2, 6))[0]
        if label and not any(each.startswith(label) for each in labels_of(message)):
            label = accept
        if label:
            self._tap(at, self.chance.uniform(5, 55), label, message)

    def number(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, 0.3, self.chance.choice(("1", "2", "2", "3", "3", "4")), message)

    def confirm(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, self.chance.uniform(10, 200), "Confirm, begin", message)

    def alarm(self, message: Message, at: dt.datetime) -> None:
        self._tap(at, self.chance.uniform(2, 30), "I have seen this", message)
        self._tap(at, self.chance.uniform(1200, 4000), "Clear it", message)

    def note(self, _message: Message, at: dt.datetime) -> None:
        self._add(at, 2, Deed.SAY, self.chance.choice(sayings.COACH_NOTES), 0)

    def remark(self, message: Message, at: dt.datetime) -> None:
        if "?" in message.text or self.chance.random() < 0.2:
            words = self.chance.choice(sayings.COACH_ANSWERS)
            self._add(at, self.chance.uniform(10, 400), Deed.REPLY, words, message.id)

    def wish(self, message: Message, at: dt.datetime) -> None:
        settle = next(label for label in labels_of(message) if label.startswith("Settle "))
        self._tap(at, self.chance.uniform(10, 300), self.chance.choice((settle, "Leave it")), message)

    def link(self, message: Message, at: dt.datetime) -> None:
        """Forward an invitation to whom it is for."""
        token = _LINK.search(message.text)
        if token is not None and self.awaits:
            self.agenda.add(at + dt.timedelta(minutes=30), self.awaits, Deed.START, token[1])

    def _tap(self, at: dt.datetime, minutes: float, label: str, message: Message) -> None:
        self._add(at, minutes, Deed.TAP, label, message.id)

    def _add(self, at: dt.datetime, minutes: float, deed: Deed, words: str, message: int) -> None:
        when = (at + dt.timedelta(minutes=minutes)).replace(microsecond=0)
        self.agenda.add(when_awake(when, self.zone), self.chat, deed, words, message)


READINGS: Mapping[Sight, Callable[[CoachPerson, Message, dt.datetime], None]] = {
    Sight.WELL: CoachPerson.well,
    Sight.CHOICE: CoachPerson.choice,
    Sight.NUMBER: CoachPerson.number,
    Sight.CONFIRM: CoachPerson.confirm,
    Sight.ALARM: CoachPerson.alarm,
    Sight.NOTE: CoachPerson.note,
    Sight.REMARK: CoachPerson.remark,
    Sight.WISH: CoachPerson.wish,
    Sight.LINK: CoachPerson.link,
}
