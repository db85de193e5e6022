"""What a client is asked unasked: the prompt, what came of it, the night, and the one question of a silent week."""

import datetime as dt
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.client.answers import outcome_rows
from bot.chats.client.illness import BETTER
from bot.chats.phrases import day as of_day
from bot.chats.phrases import week as of_week
from bot.rounds.one_client import Round, ask_of, excuse, expect, is_stale, may_send_now
from core.people.model import SleepAsked
from core.store import house
from core.store.lanes import Kind
from core.terms import Outcome, Room
from core.usecases.sessions import slept_short_twice
from core.week.agenda import (
    Due,
    carried_already,
    carries_sleep,
)
from core.week.budget import Unasked
from core.week.count import of_promise
from core.week.model import Ask
from core.wellbeing.jet_lag import Arrival, arrival_before

ENOUGH_NIGHTS, LATELY = 3, dt.timedelta(days=28)


async def prompt(round_: Round, due: Due) -> None:
    """The short prompt before a session; two on a day are one prompt."""
    ask = ask_of(due)
    await house.asks.save(round_.tx, replace(ask, prompted=ask.revision))
    if await house.open_red_flag(round_.tx, round_.client.id) is not None:
        await excuse(round_, ask)
        return
    if is_stale(due, round_.at) or not await may_send_now(round_, due, Unasked.PROMPT):
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
    begins = life.session_at(ask.day, ask.at)
    there = life.where.stay_at(begins or round_.at)  # on the day of a flight: before or after it
    room = there.room or round_.client.room or Room.NONE
    also = together[1] if len(together) > 1 else None
    arrival = _fresh_arrival(round_, together)
    there_at = (
        life.where.local_at(begins).time() if begins is not None else ask.at
    )  # an hour that a clock skips is not said
    text = of_day.prompt(
        replace(ask, at=there_at),
        round_.today,
        room,
        sleep=sleep,
        lighter=lighter,
        also=also,
        arrival=arrival,
        knows_how=sleep and await _tells_nights(round_),
        begun_already=begins is not None and begins < round_.at,
    )
    await expect(round_, "sleep" if sleep else "session", ask.id)
    if sleep:
        await _no_message_of_its_own(round_, ask.day)
    await round_.speaker.say(
        round_.chat,
        text,
        prompt_rows(ask, round_.today),
        kind=Kind.PROMPT,
        key=due.key,
        expires_at=due.expires_at,
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


def prompt_rows(ask: Ask, today: dt.date) -> list[list[Button]]:
    """Under a prompt: look at it, or say how it stands. Who trains at six reads it on the evening before."""
    cannot = "Can't today" if ask.day == today else "Can't tomorrow"
    return [
        [button("Show the session", "show", ask.id)],
        [button("Done", "o", "d", ask.id), button("A short one", "o", "s", ask.id)],
        [button("Another day", "mv", ask.id), button(cannot, "o", "m", ask.id)],
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
    await expect(round_, BETTER, ask.id)
    await round_.speaker.say(
        round_.chat,
        of_day.better(ask, round_.today, again=_asked_so_before(round_), unwell_for=_unwell_for(round_)),
        rows,
        kind=Kind.PROMPT,
        key=due.key,
        expires_at=due.expires_at,
    )


def _unwell_for(round_: Round) -> int:
    since = round_.client.unwell_since
    return (round_.today - since).days if since is not None else 0


def _asked_so_before(round_: Round) -> bool:
    """Whether a prompt of this illness has asked already, and was answered with 'not yet'."""
    since = round_.client.unwell_since
    return since is not None and any(
        a.outcome is Outcome.EXCUSED and a.prompted_at is not None and a.day > since
        for a in of_promise(round_.known.asks)
    )


async def follow_up(round_: Round, due: Due) -> None:
    """How did it go? Only if nothing was said; where the prompt could not go out, this is the one message that makes sense.

    Who has fallen silent since the prompt is not asked after either.
    """
    ask = ask_of(due)
    await house.asks.save(round_.tx, replace(ask, followed_up_at=round_.at))
    if await house.open_red_flag(round_.tx, round_.client.id) is not None:
        await excuse(round_, ask)
        return
    if round_.client.unwell_since is not None or round_.client.silent_since is not None:
        return
    if is_stale(due, round_.at) or not await may_send_now(round_, due, Unasked.FOLLOW_UP):
        return
    for each in [ask, *_others_over(round_, ask)]:
        asked = replace(
            each, followed_up_at=round_.at, prompted_at=each.prompted_at or round_.at, prompted=each.revision
        )
        await house.asks.save(round_.tx, asked)
    await expect(round_, "session", ask.id)
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
    if unheard or is_stale(due, round_.at) or not await may_send_now(round_, due, Unasked.SLEEP):
        await _no_message_of_its_own(round_, due.day)
        return
    await expect(round_, "sleep", None)
    await round_.speaker.say(
        round_.chat,
        of_day.sleep_question(knows_how=await _tells_nights(round_)),
        kind=Kind.SLEEP,
        key=due.key,
        expires_at=due.expires_at,
    )


async def _tells_nights(round_: Round) -> bool:
    """Whether a client has told enough nights lately to need no example of how."""
    nights = await house.nights_of(round_.tx, round_.client.id, since=round_.today - LATELY)
    return len(nights) >= ENOUGH_NIGHTS


async def _no_message_of_its_own(round_: Round, day: dt.date) -> None:
    """The night of this morning needs no message any more: it rode on a prompt, wherever that moves, or was let go."""
    key = f"sleep:{round_.client.id}:{day}:dropped"
    await house.note_unasked(round_.tx, round_.client.id, key=key, kind=Unasked.SLEEP, day=day, at=round_.at)


async def weekly_ask(round_: Round, due: Due) -> None:
    """The only ask of a silent week."""
    ask = ask_of(due)
    if await house.open_red_flag(round_.tx, round_.client.id) is not None:
        await excuse(round_, ask)
        return
    sends = not is_stale(due, round_.at) and await may_send_now(round_, due, Unasked.WEEKLY)
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
            of_week.weekly_ask(ask.minutes, ask.week),
            rows,
            kind=Kind.WEEKLY,
            key=due.key,
            expires_at=due.expires_at,
        )
