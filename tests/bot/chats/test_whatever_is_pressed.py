"""Somebody presses and writes whatever they like, with names and words full of markup: every answer arrives, and none breaks."""

import datetime as dt
import random
from dataclasses import dataclass, field

import pytest

from bot.chats.buttons import MOST_BYTES
from bot.chats.client.door import COMMANDS as OF_CLIENT
from bot.chats.coach.door import COMMANDS as OF_COACH
from bot.rehearsal.botapi.markup import parse_html, units
from core.digest.packing import LONGEST
from tests.bot.rounds.direct_store import direct_store
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play

STEPS = 250
NAMES = ("Tom <3 & Co", "</b>Dov", "Mara")
WORDS = (
    "hello", "7", "6.5", "done", "short, 20 min", "cannot today", "in Bergen 3-7 Dec <b>", "Tue Thu at 7",
    "my knee <hurts> & stings", "a & b < c", "Row <fast>: 3 x 10", "Lisbon", "18:00", "<i>x", "coach: what about <b>?",
    "again", "Squat <deep>", "cue <one>\ncue & two", "chest pain", "back", "later", "move it to Friday", "/cancel", "slept 5",
    "race <one>,2027-02-01,,event,3,strength", "/invite New <one>",
)  # fmt: skip
FOR_GOOD = ("erase", "removeyes")  # buttons; who is gone presses nothing more
HOURS = (3, 13, 30)


@dataclass(slots=True)
class Fingers:
    """What each person could press, and what they do next."""

    play: Play
    dice: random.Random
    shown: dict[int, list[str]] = field(
        default_factory=lambda: {COACH_ID: [], CLIENT_ID: [], CLIENT_ID + 1: []}
    )

    async def anything(self) -> list[Message]:
        who = self.dice.choice((COACH_ID, COACH_ID, CLIENT_ID, CLIENT_ID + 1))
        commands = sorted((OF_COACH if who == COACH_ID else OF_CLIENT).keys() - {"erase", "stop"})
        luck = self.dice.random()
        if luck < 0.25 or not self.shown[who]:
            return await self.play.says(who, f"/{self.dice.choice(commands)}")
        if luck < 0.85:
            return await self.play.presses(who, "", data=self.dice.choice(self.shown[who][-25:]))
        if luck < 0.95:
            return await self.play.says(who, self.dice.choice(WORDS))
        return await self.play.until(self.play.at + dt.timedelta(hours=self.dice.choice(HOURS)))

    def see(self, message: Message) -> None:
        if message.chat_id in self.shown:
            pressable = (data for data in message.buttons.values() if not data.startswith(FOR_GOOD))
            self.shown[message.chat_id] += pressable


def arrives(message: Message) -> None:
    """As the server takes it: markup that it can read, no longer than a message may be, buttons that say and carry something."""
    if message.payload.get("parse_mode") == "HTML":
        parse_html(message.text)
    assert units(message.text) <= LONGEST
    for label, data in message.buttons.items():
        assert label.strip()
        assert len(data.encode()) <= MOST_BYTES


@pytest.mark.parametrize("seed", range(4))
async def test_every_answer_arrives_whatever_is_pressed_and_written(seed: int) -> None:
    play = Play(direct_store())
    await play.coach(name="Ines <b>&")
    for number, name in enumerate(NAMES):
        await play.client(user=CLIENT_ID + number, name=name)
    fingers = Fingers(play, random.Random(seed))
    for _ in range(STEPS):
        for message in await fingers.anything():
            arrives(message)
            fingers.see(message)
