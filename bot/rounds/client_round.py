"""What is due for one client: prompts, follow-ups, the close of the day, settling and agreeing that nobody did in time.

Each moment is dealt with in the order of its instant, each changes the state so that it is not due again, and each message has a
key of its own: planning the same moment twice says nothing twice.
"""

import datetime as dt
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, replace

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.buttons import Button, button
from bot.chats.client.answers import outcome_rows
from bot.chats.client.plan import offer_rows
from bot.chats.phrases import coach as to_coach
from bot.chats.phrases import day as of_day
from bot.chats.phrases import week as of_week
from bot.chats.turn import Desk, Speaker
from core.calendar.weeks import IsoWeek
from core.people.model import Client, SleepAsked
from core.store import house
from core.store.lanes import Kind
from core.terms import Outcome, Room
from core.usecases import settle, silence
from core.usecases.schedule import moments_of, reschedule
from core.usecases.sessions import slept_short_twice
from core.week import answering
from core.week.agenda import (
    Due,
    Known,
    Moment,
    carried_already,
    carries_sleep,
    first_due,
    to_come,
)
from core.week.budget import Spent, Unasked, is_after_unanswered_day, may_send
from core.week.count import of_promise
from core.week.model import Ask, Promise
from core.week.replanning import withdraw
from core.wellbeing.jet_lag import Arrival, arrival_before

MOST_MOMENTS = 60  # of one client at one tick; more is a fault, and the next tick goes on


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


async def tick_client(tx: AsyncConnection, desk: Desk, client_id: int, at: dt.datetime) -> int:
    """Deal with everything that is due for a client. Returns how many moments that were."""
    dealt = 0
    for dealt in range(MOST_MOMENTS):  # noqa: B007 - counted
        client = await house.clients.lock(tx, client_id)
        known = await house.known_of(tx, client, at)
        due = first_due(moments_of(known, at), known.life, at)
        if due is None:
            break
        speaker = Speaker(tx, at, desk, occasion=f"round:{due.key}", about=str(client_id))
        await DEALT[due.moment](Round(tx=tx, at=at, speaker=speaker, client=client, known=known), due)
    await reschedule(tx, client_id, at)
    return dealt


def is_stale(due: Due, at: dt.datetime) -> bool:
    return due.expires_at is not None and at >= due.expires_at


# --- asking -----------------------------------------------------------------------------------------------------------


async def prompt(round_: Round, due: Due) -> None:
    """The short prompt before a session; two on a day are one prompt."""
    ask = _ask(due)
    await house.asks.save(round_.tx, replace(ask, prompted=ask.revision))
    if await house.open_red_flag(round_.tx, round_.client.id) is not None:
        await _excuse(round_, ask)
        return
    if is_stale(due, round_.at) or not await _may_send(round_, due, Unasked.PROMPT):
        return
    together = [ask, *_others_that_day(round_, ask)]
    for each in together:
        await house.asks.save(round_.tx, replace(each, prompted=each.revision, prompted_at=round_.at))
    if round_.client.unwell_since is not None:
        await _ask_whether_better(round_, due, ask)
        return
    await _say_prompt(round_, due, ask, together)


def _others_that_day(round_: Round, ask: Ask) -> list[Ask]:
    """The other open asks of the same day and hour's prompt."""
    return [
        a
        for a in of_promise(round_.known.asks)
        if a.id != ask.id and a.day == ask.day and a.needs_prompt and not a.weekly
    ]


async def _say_prompt(round_: Round, due: Due, ask: Ask, together: list[Ask]) -> None:
    life = round_.known.life
    sleep = _asks_sleep(round_, ask)
    lighter = await slept_short_twice(round_.tx, round_.client, ask.day)
    there = life.where.stay_at(
        life.session_at(ask.day, ask.at) or round_.at
    )  # on the day of a flight: before or after it
    room = there.room or round_.client.room or Room.NONE
    also = together[1] if len(together) > 1 else None
    arrival = _fresh_arrival(round_, together)
    text = of_day.prompt(ask, round_.today, room, sleep=sleep, lighter=lighter, also=also, arrival=arrival)
    await _expect(round_, "sleep" if sleep else "session", ask.id)
    if sleep:
        await _no_message_of_its_own(round_, ask.day)
    await round_.speaker.say(
        round_.chat, text, prompt_rows(ask), kind=Kind.PROMPT, key=due.key, expires_at=due.expires_at
    )


def _fresh_arrival(round_: Round, together: list[Ask]) -> Arrival | None:
    """An arrival from far, where this is the first prompt since: it is said once, and never in a message of its own."""
    arrival = arrival_before(together[0].day, round_.known.life.where)
    own = {a.id for a in together}
    if arrival is None or any(
        a.prompted_at is not None and a.day >= arrival.day and a.id not in own
        for a in of_promise(round_.known.asks)
    ):
        return None
    return arrival


def prompt_rows(ask: Ask) -> list[list[Button]]:
    """Under a prompt: look at it, or say how it stands."""
    return [
        [button("Show the session", "show", ask.id)],
        [button("Done", "o", "d", ask.id), button("A short one", "o", "s", ask.id)],
        [button("Another day", "mv", ask.id), button("Can't today", "o", "m", ask.id)],
    ]


def _asks_sleep(round_: Round, ask: Ask) -> bool:
    """Whether this prompt carries the question about the night: in the morning of its own day, once, where sleep is asked."""
    if round_.client.sleep_asked is SleepAsked.NEVER or ask.day in round_.known.nights_known:
        return False
    if carried_already(ask, round_.known):
        return False
    return ask.day == round_.today and carries_sleep(ask, round_.known.life)


async def _ask_whether_better(round_: Round, due: Due, ask: Ask) -> None:
    rows = [[button("Better, back on", "better", "y", ask.id), button("Not yet", "better", "n", ask.id)]]
    await _expect(round_, "session", ask.id)
    await round_.speaker.say(
        round_.chat,
        of_day.better(ask, round_.today),
        rows,
        kind=Kind.PROMPT,
        key=due.key,
        expires_at=due.expires_at,
    )


async def follow_up(round_: Round, due: Due) -> None:
    """How did it go? Only if nothing was said; where the prompt could not go out, this is the one message that makes sense."""
    ask = _ask(due)
    await house.asks.save(round_.tx, replace(ask, followed_up_at=round_.at))
    if await house.open_red_flag(round_.tx, round_.client.id) is not None:
        await _excuse(round_, ask)
        return
    if round_.client.unwell_since is not None or is_stale(due, round_.at):
        return
    if not await _may_send(round_, due, Unasked.FOLLOW_UP):
        return
    for each in [ask, *_others_over(round_, ask)]:
        asked = replace(
            each, followed_up_at=round_.at, prompted_at=each.prompted_at or round_.at, prompted=each.revision
        )
        await house.asks.save(round_.tx, asked)
    await _expect(round_, "session", ask.id)
    await round_.speaker.say(
        round_.chat,
        of_day.follow_up(ask, round_.today),
        outcome_rows(ask.id),
        kind=Kind.FOLLOW_UP,
        key=due.key,
        expires_at=due.expires_at,
    )


def _others_over(round_: Round, ask: Ask) -> list[Ask]:
    """The other asks of the same day that are over by now and still wait: one follow-up asks, the answer asks about the other."""
    life = round_.known.life
    return [
        a
        for a in of_promise(round_.known.asks)
        if a.id != ask.id
        and a.day == ask.day
        and a.is_open
        and not a.weekly
        and a.said_at is None
        and a.followed_up_at is None
        and (over := life.follow_up_at(a.day, a.at, a.minutes)) is not None
        and over <= round_.at
    ]


async def ask_sleep(round_: Round, due: Due) -> None:
    """The night, apart from a prompt. Who was asked so and has not been heard since is not asked so again."""
    asked = await house.last_unasked(round_.tx, round_.client.id, Unasked.SLEEP)
    unheard = asked is not None and (round_.client.heard_at is None or round_.client.heard_at < asked)
    if unheard or is_stale(due, round_.at) or not await _may_send(round_, due, Unasked.SLEEP):
        await _no_message_of_its_own(round_, due.day)
        return
    await _expect(round_, "sleep", None)
    await round_.speaker.say(
        round_.chat, of_day.sleep_question(), kind=Kind.SLEEP, key=due.key, expires_at=due.expires_at
    )


async def _no_message_of_its_own(round_: Round, day: dt.date) -> None:
    """The night of this morning needs no message any more: it rode on a prompt, wherever that moves, or was let go."""
    key = f"sleep:{round_.client.id}:{day}:dropped"
    await house.note_unasked(round_.tx, round_.client.id, key=key, kind=Unasked.SLEEP, day=day, at=round_.at)


async def weekly_ask(round_: Round, due: Due) -> None:
    """The only ask of a silent week."""
    ask = _ask(due)
    if await house.open_red_flag(round_.tx, round_.client.id) is not None:
        await _excuse(round_, ask)
        return
    sends = not is_stale(due, round_.at) and await _may_send(round_, due, Unasked.WEEKLY)
    await house.asks.save(
        round_.tx, replace(ask, prompted=ask.revision, prompted_at=round_.at if sends else ask.prompted_at)
    )
    if sends:
        rows = [
            [button("Show me ten minutes", "ten", ask.id)],
            [button("Done", "o", "d", ask.id), button("Not this week", "o", "m", ask.id)],
        ]
        await round_.speaker.say(
            round_.chat,
            of_week.weekly_ask(ask.minutes),
            rows,
            kind=Kind.WEEKLY,
            key=due.key,
            expires_at=due.expires_at,
        )


# --- closing ----------------------------------------------------------------------------------------------------------


async def close_ask(round_: Round, due: Due) -> None:
    """Noon of the next day: never asked, it is withdrawn; asked and without a word, it is unanswered, or excused while unwell."""
    ask = _ask(due)
    if ask.prompted_at is None:
        await house.asks.save(round_.tx, withdraw(ask))
        return
    ended = answering.unanswered_as(ask, unwell=round_.client.unwell_since is not None)
    await house.asks.save(round_.tx, answering.answer(ask, ended, at=round_.at))
    silent = await silence.begin_silence(round_.tx, round_.client, ask.day, round_.at)
    if silent is not None and silent.silent_since is not None:
        await _tell_coach(
            round_,
            to_coach.fell_silent(silent, silent.silent_since),
            f"silent:{silent.id}:{silent.silent_since}",
        )


async def close_settling(round_: Round, due: Due) -> None:
    promise = _promise(due)
    if round_.client.silent_since is not None:
        await silence.promise_in_silence(round_.tx, round_.client, promise.week, round_.at)
        return
    coach = await house.coaches.get(round_.tx, round_.client.coach_id)
    await settle.assume_settled(round_.tx, coach, round_.client, promise, round_.at)


async def tell_promise(round_: Round, due: Due) -> None:
    """The weekly message: the number, the days, one tap to take them."""
    promise = _promise(due)
    if round_.client.silent_since is not None:
        await silence.promise_in_silence(round_.tx, round_.client, promise.week, round_.at)
        return
    if promise.settled and await house.open_red_flag(round_.tx, round_.client.id) is not None:
        await house.promises.save(
            round_.tx, replace(promise, told_at=round_.at)
        )  # told once the coach has cleared it
        return
    again = promise.tellings > 0  # the coach changed it: that is the coach's message, outside the budget
    promise = await house.promises.save(
        round_.tx, replace(promise, told_at=round_.at, tellings=promise.tellings + 1)
    )
    if is_stale(due, round_.at) or not (again or await _may_send(round_, due, Unasked.WEEKLY)):
        return
    asks = [a for a in await house.asks_of_week(round_.tx, round_.client.id, promise.week) if a.is_open]
    hour = asks[0].at if asks else round_.client.usual_time
    text = of_week.week_offer(promise, [a.day for a in asks], hour)
    rows = offer_rows(promise)
    last = await settle.last_promise(round_.tx, round_.client.id, promise.week)
    if promise.needs_yes and last is not None:
        text = f"{text}\n{of_week.needs_your_yes(promise, last)}"
        rows = [[button(f"Yes, {promise.settled}", "manyto", promise.id, promise.settled)], *rows[1:]]
    if promise.settled:
        await _expect(round_, "days", None)
    kind = Kind.COACH_NOTE if again else Kind.WEEKLY
    await round_.speaker.say(round_.chat, text, rows, kind=kind, key=due.key, expires_at=due.expires_at)


async def resolve(round_: Round, due: Due) -> None:
    """Both cases were settled at once: which of them holds is known when the last ask of the running week has ended."""
    coach = await house.coaches.get(round_.tx, round_.client.coach_id)
    await settle.resolve(round_.tx, coach, round_.client, _promise(due), round_.at)


async def close_agreeing(round_: Round, due: Due) -> None:
    await settle.assume_agreed(round_.tx, round_.client, _promise(due), round_.at)


async def end_pause(round_: Round, _due: Due) -> None:
    await silence.resume(round_.tx, round_.client)


# --- small things -----------------------------------------------------------------------------------------------------


def _ask(due: Due) -> Ask:
    if due.ask is None:
        msg = f"{due.key} is about no ask"
        raise ValueError(msg)
    return due.ask


def _promise(due: Due) -> Promise:
    if due.promise is None:
        msg = f"{due.key} is about no promise"
        raise ValueError(msg)
    return due.promise


async def _excuse(round_: Round, ask: Ask) -> None:
    fresh = await house.asks.get(round_.tx, ask.id)
    await house.asks.save(round_.tx, answering.answer(fresh, Outcome.EXCUSED, at=round_.at))


async def _may_send(round_: Round, due: Due, kind: Unasked) -> bool:
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


async def _expect(round_: Round, asked: str, about: int | None) -> None:
    """Remember what was asked last: it decides what a bare '6' means."""
    dialogue = await house.dialogue_of(round_.tx, round_.chat, round_.at)
    await house.keep_dialogue(round_.tx, replace(dialogue, asked=asked, about=about, at=round_.at))


async def _tell_coach(round_: Round, text: str, key: str) -> None:
    coach = await house.coaches.get(round_.tx, round_.client.coach_id)
    if coach.telegram_id is not None:
        rows = [[button("Write", "write", round_.client.id)]]
        await round_.speaker.say(coach.telegram_id, text, rows, kind=Kind.COACH_NOTE, key=key)


DEALT: Mapping[Moment, Callable[[Round, Due], Awaitable[None]]] = {
    Moment.PROMPT: prompt,
    Moment.FOLLOW_UP: follow_up,
    Moment.SLEEP: ask_sleep,
    Moment.WEEKLY_ASK: weekly_ask,
    Moment.CLOSE_ASK: close_ask,
    Moment.CLOSE_SETTLING: close_settling,
    Moment.RESOLVE: resolve,
    Moment.TELL_PROMISE: tell_promise,
    Moment.CLOSE_AGREEING: close_agreeing,
    Moment.END_PAUSE: end_pause,
}
