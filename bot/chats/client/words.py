"""Free words of a client: read once, everything in them written down, and repeated in one confirmation.

A red flag goes before everything. What cannot be read is not guessed: it is asked back and shown to the coach.
"""

import datetime as dt
import re
from dataclasses import replace
from typing import Any

from bot.chats.buttons import button
from bot.chats.client import (
    answers,
    care,
    edits,
    illness,
    lengths,
    meanwhile,
    move_words,
    moving,
    own,
    plan,
    reading,
    trips,
    which_ask,
)
from bot.chats.client.questions import read_hour
from bot.chats.phrases import client as say
from bot.chats.phrases import day as of_day
from bot.chats.phrases import week as of_week
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.people.records import Night
from core.replies import day_meant, understand
from core.replies.meaning import Asked, Meaning, Near, Said, Urgency
from core.replies.session_days import session_days
from core.store import house
from core.terms import Outcome, Weekday
from core.usecases.answer import Told

ASKED_LATELY = dt.timedelta(days=2)
IN_ONE_BREATH = dt.timedelta(minutes=1)
OUTCOMES = {Said.DONE: Outcome.DONE, Said.SHORT: Outcome.SHORT, Said.MISSED: Outcome.MISSED}
BEYOND = re.compile(
    r"\b(?:extra|another|second|on top|on my own)\b", re.IGNORECASE
)  # not today's ask over again


async def hear(turn: Turn, client: Client, words: str) -> None:
    """Read what a client wrote and act on all of it."""
    life = await house.circumstances(turn.tx, client)
    if await edits.is_of_another_day(turn, client, life) or await _short_answer(turn, client, words):
        return
    is_fresh = turn.at - turn.dialogue.at < ASKED_LATELY  # what was asked weeks ago is no context
    await edits.as_it_was_asked(turn)
    meaning = reading.read(words, turn.dialogue.asked, turn.at, life)
    if meaning.urgent is Urgency.ALARM:
        await care.alarm(turn, client, words)
        return
    if meaning.urgent is Urgency.ASK:
        await care.ask_whether_meant(turn, client, words)
        return
    if meaning.stop or meaning.pause is not None:
        await (
            own.pause(turn, client, meaning.pause) if meaning.pause is not None else own.stop(turn, client)
        )
        return
    # Before anything that is said now asks for something else.
    was_asked = turn.dialogue.asked if is_fresh else ""
    handled = await _act(turn, client, words, meaning)
    await _rest(turn, client, words, meaning, was_asked, handled=handled)


async def _short_answer(turn: Turn, client: Client, words: str) -> bool:
    """What is as short as a button or a command, and means the same. True if it was dealt with."""
    if await illness.better_in_words(turn, client, words) or await _hour_alone(turn, client, words):
        return True
    if reading.ABOUT_THE_WEEK.fullmatch(words.strip()):
        await own.week(turn, client)
    elif reading.UNDO.fullmatch(words.strip()):
        await answers.on_undo(turn, client, ())
    elif reading.STILL_GOOD.fullmatch(words.strip()) and (ask := await which_ask.still_ahead(turn, client)):
        today = (await house.circumstances(turn.tx, client)).today(turn.at)
        await turn.say(of_day.stands(ask, today), [[button("Show the session", "show", ask.id)]])
    else:
        return await trips.as_on_buttons(turn, client, words)
    return True


async def hear_caption(turn: Turn, client: Client, words: str) -> None:
    """What stands under a picture that has gone to the coach already: what it says of a session, a night or a pain counts too."""
    zone = (await house.circumstances(turn.tx, client)).where.zone_at(turn.at)
    meaning = understand(words, asked=Asked.SESSION, now=turn.at, zone=zone)
    if not meaning.unknown and not meaning.question:
        await _act(turn, client, words, replace(meaning, trip=None, days=()))


async def _act(turn: Turn, client: Client, words: str, meaning: Meaning) -> bool:
    """Write down every fact. `also` gathers the lines that go into the one confirmation. Whether anything was said of it."""
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    also = [
        *await _sleep(turn, client, meaning, await which_ask.day_replied_to(turn, client) or today, today)
    ]
    if meaning.pain:
        also += await care.pain(turn, client, meaning.pain, words)
    if meaning.unwell:
        also += await illness.unwell(turn, client)
    handled = await _several_days(turn, client, words, meaning, also) or await _session(
        turn, client, meaning, also, today
    )
    if meaning.trip is not None:
        await trips.said(turn, client, meaning.trip)
        handled = True
    if not handled and meaning.promise is not None:
        handled = await _promise(turn, client, meaning.promise, meaning.minutes)
    if not handled and also:
        await turn.say("\n".join(also))
        handled = True
    return handled


async def _rest(
    turn: Turn, client: Client, words: str, meaning: Meaning, was_asked: str, *, handled: bool
) -> None:
    """What is for the coach goes to the coach; mere courtesy gets a word; the rest is asked back."""
    to_the_coach = reading.TO_THE_COACH.match(words) is not None or await which_ask.is_to_the_coach(turn)
    if meaning.unknown and not handled and not meaning.question and not to_the_coach:
        await not_understood(turn, client, words)
    elif meaning.question or meaning.tell_coach or to_the_coach:
        kind = (
            "question"
            if meaning.question
            else "pain"
            if meaning.pain
            else "unwell"
            if meaning.unwell
            else "note"
        )
        coach = await care.pass_on(turn, client, words, kind, asked=was_asked)
        if not handled or meaning.question or to_the_coach:
            words_of = say.thanks_for_telling if kind == "note" and not to_the_coach else say.passed_on
            await turn.say(words_of(coach.name))
    elif not handled and meaning.thanks:
        courtesy = say.thanks() if reading.THANKS.search(words) else say.good()
        await turn.say(say.hello() if reading.GREETING.match(words) else courtesy)
    elif not handled:
        await not_understood(turn, client, words)


async def not_understood(turn: Turn, client: Client, words: str) -> None:
    if turn.coming_back:
        await care.pass_on(turn, client, words, "note")
        return
    if reading.is_coming_back(words):
        await turn.say(of_week.on_already())
        return
    coach = await care.pass_on(turn, client, words, "unread", asked=turn.dialogue.asked)
    before = turn.dialogue.state.get("unread")
    await turn.remember({"unread": turn.at.isoformat()})
    if before and turn.at - dt.datetime.fromisoformat(before) < IN_ONE_BREATH:
        return  # said just now, of the line before
    waiting = await which_ask.waiting(turn, client)
    text = say.not_understood(coach.name, about_a_session=waiting is not None)
    await turn.say(text, answers.outcome_rows(waiting.id) if waiting is not None else ())


async def _sleep(turn: Turn, client: Client, meaning: Meaning, day: dt.date, today: dt.date) -> list[str]:
    if meaning.sleep_h is None and meaning.sleep_quality is None:
        return []
    slept: dict[str, Any] = {}
    if meaning.sleep_h is not None:
        slept["hours"] = meaning.sleep_h
    if meaning.sleep_quality is not None:
        slept["quality"] = meaning.sleep_quality.value
    await house.tell_night(turn.tx, Night(id=0, client_id=client.id, day=day, slept=slept, said_at=turn.at))
    turn.touched.add(client.id)
    if turn.dialogue.asked == Asked.SLEEP and day == today:
        await turn.expect(
            asked="session" if turn.dialogue.about is not None else "nothing", about=turn.dialogue.about
        )
    quality = meaning.sleep_quality.value if meaning.sleep_quality else None
    return [of_day.slept(meaning.sleep_h, quality, of=None if day == today else day)]


async def _session(turn: Turn, client: Client, meaning: Meaning, also: list[str], today: dt.date) -> bool:
    """What the words say of a session: how it ended, another day or hour, or which days. True if they say anything."""
    named = _day(meaning, today)
    if meaning.outcome in OUTCOMES:
        await _outcome(turn, client, meaning, named, also)
        return True
    if meaning.outcome is Said.LATER or meaning.move_to is not None:
        return await move_words.later(turn, client, meaning, today, also)
    if meaning.days:
        return await _days(turn, client, meaning, today)
    if meaning.time is not None:
        return await _hour(turn, client, meaning.time)
    if meaning.effort is not None or (meaning.minutes is not None and turn.dialogue.asked == Asked.EFFORT):
        return await _effort(turn, client, meaning, also)
    return False


async def _several_days(turn: Turn, client: Client, words: str, meaning: Meaning, also: list[str]) -> bool:
    """'Tuesday done', 'did Mon and Wed, missed Friday': each belongs to the day that the words name. True if they name any."""
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    will_not_do = day_meant.will_not_do(words, today)
    if will_not_do is not None and meaning.trip is None and not meaning.unwell:
        await answers.write(turn, client, Outcome.MISSED, named=will_not_do, also=also)
        also.clear()
        return True
    named_otherwise = meaning.move_to is not None or meaning.days or meaning.trip is not None
    if (
        meaning.outcome is Said.LATER
        or named_otherwise
        or await which_ask.replied_to(turn, client) is not None
    ):
        return False
    zone = (await house.circumstances(turn.tx, client)).where.zone_at(turn.at)

    def read(piece: str) -> Said | None:
        return understand(piece, asked=Asked.SESSION, now=turn.at, zone=zone).outcome

    told = session_days(words, today, read)
    alone = len(told) == 1
    for day, said in told:
        minutes = meaning.minutes if alone else None
        written = await answers.write(turn, client, OUTCOMES[said], named=day, minutes=minutes, also=also)
        also.clear()
        if alone and meaning.effort is not None and written.ask is not None and written.ask.took_place:
            await answers.note_effort(
                turn, client, written.ask, effort=meaning.effort, minutes=meaning.minutes
            )
    return bool(told)


async def _outcome(
    turn: Turn, client: Client, meaning: Meaning, named: dt.date | None, also: list[str]
) -> None:
    replied = await which_ask.replied_to(turn, client)
    outcome = OUTCOMES[meaning.outcome] if meaning.outcome else Outcome.DONE
    if replied is None and named is None and outcome is Outcome.MISSED:
        replied = await which_ask.asked_ahead(turn, client)
    if meaning.unwell and outcome is Outcome.MISSED and not await _waits(turn, client, replied):
        # Today is excused already, or was done before: illness takes nothing away.
        await turn.say("\n".join(also))
        also.clear()
        return
    beyond = outcome is not Outcome.MISSED and BEYOND.search(turn.incoming.text) is not None
    written = await answers.write(
        turn,
        client,
        outcome,
        ask_id=replied,
        named=named if replied is None else None,
        minutes=meaning.minutes,
        told=Told.ON_ITS_OWN if beyond else Told.ANSWER,
        also=also,
    )
    if meaning.effort is not None and written.ask is not None and written.ask.took_place:
        await answers.note_effort(turn, client, written.ask, effort=meaning.effort, minutes=meaning.minutes)
    if written.ask is not None and meaning.move_to is not None and outcome is Outcome.MISSED:
        await move_words.move(turn, client, written.ask, meaning, written.ask.day)
    also.clear()


async def _waits(turn: Turn, client: Client, ask_id: int | None) -> bool:
    """Whether the ask that is meant still waits for an answer."""
    ask = (
        await answers.own_ask(turn, client, ask_id)
        if ask_id is not None
        else await which_ask.waiting(turn, client)
    )
    return ask is not None and ask.outcome is None


def _day(meaning: Meaning, today: dt.date) -> dt.date | None:
    """The day in the past, or today, that the words name as the day of the session."""
    if meaning.outcome is None or meaning.move_to is None:
        return None
    if meaning.move_to is Near.TODAY:
        return today
    if isinstance(meaning.move_to, Weekday) and meaning.outcome is not Said.MISSED:
        return today - dt.timedelta(days=(today.isoweekday() - int(meaning.move_to)) % 7)
    return None


async def _days(turn: Turn, client: Client, meaning: Meaning, today: dt.date) -> bool:
    weekdays = [int(d) for d in meaning.days]
    if turn.dialogue.topic == "meanwhile":
        return await meanwhile.hear(turn, client, weekdays, today)
    return await plan.days_in_words(turn, client, weekdays, meaning.time, meaning.minutes)


async def _hour_alone(turn: Turn, client: Client, words: str) -> bool:
    """A time of day and nothing else, where that was asked for. 'Half past six in the evening' is no 'later' then."""
    promise_id = turn.dialogue.state.get("promise")
    asked = turn.dialogue.topic == "hour" and promise_id
    names_days = asked and understand(words, asked=Asked.DAYS, now=turn.at, zone=client.zone).days
    hour = read_hour(words) if asked and not names_days else None
    promise = await plan.own_promise(turn, client, str(promise_id)) if hour is not None else None
    if hour is None or promise is None:
        return False
    await _hour(turn, client, hour)
    return True


async def _hour(turn: Turn, client: Client, hour: dt.time) -> bool:
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    if turn.dialogue.topic == "hour" and (promise_id := turn.dialogue.state.get("promise")):
        promise = await plan.open_promise(turn, client, str(promise_id))
        if promise is not None:
            await plan.hour_for(turn, client, promise, hour)
        return True
    ask = await which_ask.to_move(turn, client, today)
    if ask is None:
        return False
    await moving.change_hour(turn, client, ask, hour)
    return True


async def _effort(turn: Turn, client: Client, meaning: Meaning, also: list[str]) -> bool:
    about = turn.dialogue.about if turn.dialogue.asked == Asked.EFFORT else None
    ask = (
        await answers.own_ask(turn, client, about)
        if about is not None
        else await which_ask.waiting(turn, client)
    )
    if ask is None or not ask.took_place:
        return False
    if also:
        await turn.say("\n".join(also))
        also.clear()
    await answers.note_effort(turn, client, ask, effort=meaning.effort, minutes=meaning.minutes)
    return True


async def _promise(turn: Turn, client: Client, number: int, minutes: int | None) -> bool:
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    for week in (IsoWeek.of(today).next(), IsoWeek.of(today)):
        promise = await house.promise_for(turn.tx, client.id, week)
        if promise is not None and promise.settled:
            await plan.choose_number(turn, client, promise, number)
            if minutes is not None:
                await lengths.plan(turn, client, promise, minutes)
            return True
    return False
