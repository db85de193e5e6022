"""One client's turn with the tick, and what every moment of it may need."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.buttons import button
from bot.chats.turn import Speaker
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.store import house
from core.store.lanes import Kind
from core.terms import Outcome
from core.usecases.schedule import moments_of
from core.week import answering
from core.week.agenda import (
    Due,
    Known,
    to_come,
)
from core.week.budget import Spent, Unasked, is_after_unanswered_day, may_send
from core.week.model import Ask, Promise

WAITS_FOR_WORDS = frozenset({"took", "lift"})  # how long the last session took, what was lifted
TAKES_ANY_WORDS = frozenset(
    {"enrol", "trip", "hour", "meanwhile", "pause"}
)  # a question of /settings, a trip that is being told


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """One client's turn with the tick."""

    tx: AsyncConnection
    at: dt.datetime
    speaker: Speaker
    client: Client
    known: Known

    @property
    def chat(self) -> int:
        return self.client.telegram_id or 0

    @property
    def today(self) -> dt.date:
        return self.known.life.today(self.at)


def is_stale(due: Due, at: dt.datetime) -> bool:
    return due.expires_at is not None and at >= due.expires_at


def ask_of(due: Due) -> Ask:
    if due.ask is None:
        msg = f"{due.key} is about no ask"
        raise ValueError(msg)
    return due.ask


def promise_of(due: Due) -> Promise:
    if due.promise is None:
        msg = f"{due.key} is about no promise"
        raise ValueError(msg)
    return due.promise


async def excuse(round_: Round, ask: Ask) -> None:
    fresh = await house.asks.get(round_.tx, ask.id)
    await house.asks.save(round_.tx, answering.answer(fresh, Outcome.EXCUSED, at=round_.at))


async def may_send_now(round_: Round, due: Due, kind: Unasked) -> bool:
    """Keep within the budget, and write down that the message goes out: the key decides that it goes once."""
    today, week = await house.unasked_counts(round_.tx, round_.client.id, round_.today)
    sunday = IsoWeek.of(round_.today).sunday
    spent = Spent(
        today=today,
        this_week=week,
        to_come_today=_to_come(round_, due, round_.today),
        to_come_this_week=_to_come(round_, due, sunday),
    )
    if not may_send(
        kind,
        spent,
        daily=round_.client.daily_limit,
        weekly=round_.client.weekly_limit,
        after_unanswered_day=is_after_unanswered_day(round_.known.asks, round_.today),
    ):
        return False
    return await house.note_unasked(
        round_.tx, round_.client.id, key=due.key, kind=kind, day=round_.today, at=round_.at
    )


def _to_come(round_: Round, due: Due, until: dt.date) -> Mapping[Unasked, int]:
    """The unasked messages that are still to come up to and with a local day, by kind."""
    moments = moments_of(round_.known, round_.at)
    return to_come(round_.known, moments, but=due.key, at=round_.at, until=until)


async def expect(round_: Round, asked: str, about: int | None) -> None:
    """Remember what was asked last: it decides what a bare '6' means. What was open before, and waits for words, waits no more."""
    dialogue = await house.dialogue_of(round_.tx, round_.chat, round_.at)
    state = {name: value for name, value in dialogue.state.items() if name not in WAITS_FOR_WORDS}
    topic = "" if dialogue.topic in TAKES_ANY_WORDS else dialogue.topic
    await house.keep_dialogue(
        round_.tx, replace(dialogue, topic=topic, asked=asked, about=about, state=state, at=round_.at)
    )


async def tell_coach(round_: Round, text: str, key: str) -> None:
    coach = await house.coaches.get(round_.tx, round_.client.coach_id)
    if coach.telegram_id is not None:
        rows = [[button("Write", "write", round_.client.id)]]
        await round_.speaker.say(coach.telegram_id, text, rows, kind=Kind.COACH_NOTE, key=key)
