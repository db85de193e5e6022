"""What ends by the clock: an ask without an answer, settling and agreeing that nobody did in time, a pause."""

from dataclasses import replace

from bot.chats.client.plan import offer
from bot.chats.phrases import coach as to_coach
from bot.rounds.one_client import Round, ask_of, expect, is_stale, may_send_now, promise_of, tell_coach
from core.store import house
from core.store.lanes import Kind
from core.usecases import settle, silence
from core.week import answering
from core.week.agenda import (
    Due,
)
from core.week.budget import Unasked
from core.week.replanning import withdraw


async def close_ask(round_: Round, due: Due) -> None:
    """Noon of the next day: never asked, it is withdrawn; asked and without a word, it is unanswered, or excused while unwell."""
    ask = ask_of(due)
    if ask.prompted_at is None:
        await house.asks.save(round_.tx, withdraw(ask))
        return
    ended = answering.unanswered_as(ask, unwell=round_.client.unwell_since is not None)
    await house.asks.save(round_.tx, answering.answer(ask, ended, at=round_.at))
    silent = await silence.begin_silence(round_.tx, round_.client, ask.day, round_.at)
    if silent is not None and silent.silent_since is not None:
        await tell_coach(
            round_,
            to_coach.fell_silent(silent, silent.silent_since),
            f"silent:{silent.id}:{silent.silent_since}",
        )


async def close_settling(round_: Round, due: Due) -> None:
    promise = promise_of(due)
    if round_.client.silent_since is not None:
        await silence.promise_in_silence(round_.tx, round_.client, promise.week, round_.at)
        return
    coach = await house.coaches.get(round_.tx, round_.client.coach_id)
    await settle.assume_settled(round_.tx, coach, round_.client, promise, round_.at)


async def tell_promise(round_: Round, due: Due) -> None:
    """The weekly message: the number, the days, one tap to take them."""
    promise = promise_of(due)
    if round_.client.silent_since is not None:
        await silence.promise_in_silence(round_.tx, round_.client, promise.week, round_.at)
        return
    if promise.settled and await house.open_red_flag(round_.tx, round_.client.id) is not None:
        # Told once the coach has cleared it.
        await house.promises.save(round_.tx, replace(promise, told_at=round_.at))
        return
    again = promise.tellings > 0  # the coach changed it: that is the coach's message, outside the budget
    promise = await house.promises.save(
        round_.tx, replace(promise, told_at=round_.at, tellings=promise.tellings + 1)
    )
    if is_stale(due, round_.at) or not (again or await may_send_now(round_, due, Unasked.WEEKLY)):
        return
    asks = [a for a in await house.asks_of_week(round_.tx, round_.client.id, promise.week) if a.is_open]
    away = any(round_.known.life.where.away_on(ask.day) for ask in asks)
    last = await settle.last_promise(round_.tx, round_.client.id, promise.week)
    text, rows = offer(promise, asks, last, away=away)
    if promise.settled:
        await expect(round_, "days", None)
    kind = Kind.COACH_NOTE if again else Kind.WEEKLY
    await round_.speaker.say(round_.chat, text, rows, kind=kind, key=due.key, expires_at=due.expires_at)


async def resolve(round_: Round, due: Due) -> None:
    """Both cases were settled at once: which of them holds is known when the last ask of the running week has ended."""
    coach = await house.coaches.get(round_.tx, round_.client.coach_id)
    await settle.resolve(round_.tx, coach, round_.client, promise_of(due), round_.at)


async def close_agreeing(round_: Round, due: Due) -> None:
    await settle.assume_agreed(round_.tx, round_.client, promise_of(due), round_.at)


async def end_pause(round_: Round, _due: Due) -> None:
    await silence.resume(round_.tx, round_.client)
