"""What belongs to the client: their week, their data, pausing, stopping, coming back."""

import base64
import datetime as dt
import json
import re
from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.client import enrol
from bot.chats.phrases import client as say
from bot.chats.phrases import coach as to_coach
from bot.chats.phrases import privacy
from bot.chats.phrases import week as of_week
from bot.chats.phrases.common import date, hours_of_sleep, safe
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.how_many import how_many
from core.people.model import Client, Stage
from core.people.records import Remark
from core.replies import understand
from core.replies.meaning import Asked
from core.store import house
from core.store.lanes import Kind
from core.terms import Outcome
from core.usecases import keeping, silence
from core.week import count as counting
from core.week.model import Ask

UNTIL = re.compile(r"\s*(?:until|till|up to|for)\b", re.IGNORECASE)
PAUSES = {"1 week": 7, "2 weeks": 14, "4 weeks": 28}


async def week(turn: Turn, client: Client) -> None:
    life = await house.circumstances(turn.tx, client)
    today = life.today(turn.at)
    running = IsoWeek.of(today)
    promise = await house.promise_for(turn.tx, client.id, running)
    if promise is None or promise.number is None:
        await turn.say(await without_promise(turn, client))
        return
    asks = await house.asks_of_week(turn.tx, client.id, running)
    stay = life.where.stay_at(turn.at)
    here = f"It is {life.where.local_at(turn.at):%H:%M} in {safe(stay.place)} now." if stay.place else ""
    left = [a for a in counting.still_open(asks) if a.day >= today]
    rows = [ways_with(left[0])] if left else []
    await turn.say(say.week(promise, asks, today, here, client.paused_until), rows)


def ways_with(ask: Ask) -> list[Button]:
    """What can be done with the next session of the week; the one of a silent week has no day to move from."""
    if ask.weekly:
        return [button("Ten minutes now", "ten", ask.id)]
    return [button("Move one", "mv", ask.id), button("Show the session", "show", ask.id)]


async def without_promise(turn: Turn, client: Client) -> str:
    """Why this week has no promise, as far as there is a reason."""
    if client.stage is Stage.WAITING:
        coach = await house.coaches.get(turn.tx, client.coach_id)
        return say.no_promise(None, waiting_for=coach.name)
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    begins = client.first_week.monday if client.first_week is not None else None
    return say.no_promise(begins if begins is not None and begins > today else None)


async def mine(turn: Turn, client: Client) -> None:
    """A client sees what the coach sees of them."""
    life = await house.circumstances(turn.tx, client)
    running = IsoWeek.of(life.today(turn.at))
    asks = await house.asks_of(turn.tx, client.id, since=running.plus(-7))
    remarks = await house.remarks_of(turn.tx, client.id, since=running.plus(-3))
    nights = await house.nights_of(turn.tx, client.id, since=running.plus(-3).monday)
    slept = [n.hours for n in nights if n.hours is not None]
    lines = [
        "<b>Your coach sees this of you</b>",
        say.lately(counting.done(asks), _ended(asks), counting.extras(asks)),
        f"Sleep: {hours_of_sleep(round(sum(slept) / len(slept), 1))} on average, {how_many(len(slept), 'night')} told."
        if slept
        else "Sleep: nothing told lately.",
        # of what hurts there are two: with its place, and as said
        *list(dict.fromkeys(_told(remark, life.where.local_day(remark.said_at)) for remark in remarks))[-8:],
        "And what you said at the start (/settings), your trips (/trip), and what is recommended:",
    ]
    coming = await house.promise_for(turn.tx, client.id, running.next()) or await house.promise_for(
        turn.tx, client.id, running
    )
    issued = coming is not None and coming.recommended is not None
    lines += to_coach.recommended(coming, client) if coming is not None and issued else ["nothing yet."]
    await turn.say("\n".join(lines))


def _ended(asks: Sequence[Ask]) -> int:
    """How many were asked and have ended; what is still to come, or was excused, is no part of it."""
    return sum(a.outcome not in {None, Outcome.EXCUSED} for a in counting.of_promise(asks))


def _told(remark: Remark, day: dt.date) -> str:
    return f"{date(day)}, {say.whose(remark.said_by)}: {safe(remark.words, 120)}"


# --- pausing, stopping, coming back -----------------------------------------------------------------------------------


async def offer_pause(turn: Turn, client: Client) -> None:
    if client.stage is Stage.WAITING:  # nothing is asked as it is
        await turn.say(await without_promise(turn, client))
        return
    if turn.incoming.argument and await pause_in_words(turn, client, turn.incoming.argument):
        return
    await turn.expect(topic="pause")
    await turn.say(
        "For how long shall I ask nothing?",
        [[button(label, "pause", days) for label, days in PAUSES.items()]],
    )


async def pause_in_words(turn: Turn, client: Client, text: str) -> bool:
    """'3 days', 'until Monday', where that was asked for. False where the words are about something else."""
    await turn.expect(topic="")
    words = (
        text if "pause" in text.casefold() else f"pause {text}" if UNTIL.match(text) else f"pause for {text}"
    )
    zone = (await house.circumstances(turn.tx, client)).where.zone_at(turn.at)
    days = understand(words, asked=Asked.NOTHING, now=turn.at, zone=zone).pause
    if days is None:
        return False
    await pause(turn, client, days)
    return True


async def on_pause(turn: Turn, client: Client, args: Sequence[str]) -> None:
    await turn.used()
    await turn.expect(topic="")
    await pause(turn, client, int(args[0]))


async def pause(turn: Turn, client: Client, days: int) -> None:
    life = await house.circumstances(turn.tx, client)
    until = life.today(turn.at) + dt.timedelta(days=max(1, min(days, 365)) - 1)
    await silence.pause(turn.tx, client, until, turn.at)
    turn.touched.add(client.id)
    await turn.say(of_week.paused(until))
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, to_coach.paused(client, until))


async def stop(turn: Turn, client: Client) -> None:
    """Opting out works at once."""
    await silence.stop(turn.tx, client, turn.at)
    turn.touched.add(client.id)
    await turn.say(of_week.stopped())
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, to_coach.stopped(client))


async def back(turn: Turn, client: Client) -> None:
    """'back': after a pause or a stop, to where they left."""
    if client.stage is not Stage.STOPPED and client.paused_until is None:
        await turn.say(of_week.on_already())
        return
    stage = await _stage_to_go_on_in(turn, client)
    resumed = await silence.resume(turn.tx, replace(client, stage=stage))
    turn.touched.add(resumed.id)
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, to_coach.is_back(client))
    match stage:
        case Stage.ENROLLING:
            await enrol.resume(turn, resumed)
        case Stage.WAITING:
            await turn.say(say.no_promise(None, waiting_for=coach.name))
        case _:
            flagged = await house.open_red_flag(turn.tx, client.id) is not None
            await turn.say(of_week.resumed_but_flagged() if flagged else of_week.resumed())


async def _stage_to_go_on_in(turn: Turn, client: Client) -> Stage:
    """Who stopped before the coach had confirmed begins where they left off: nobody trains unscreened by stopping first."""
    if client.first_week is not None:
        return Stage.ACTIVE
    screenings = house.screenings
    answered = await screenings.find(turn.tx, screenings.table.c.client_id == client.id)
    return Stage.WAITING if answered is not None else Stage.ENROLLING


async def welcome_back(turn: Turn, client: Client) -> None:
    """After silence: one warm line, a small restart, never a backlog."""
    rows = [[button("Ten minutes now", "now", 10)], [button("I did train meanwhile", "meanwhile")]]
    await turn.say(of_week.welcome_back(), rows)
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(coach.telegram_id, to_coach.is_back(client))


async def welcome_if_still_here(turn: Turn, client_id: int) -> None:
    """Nobody is welcomed who has just stopped, paused or left, or who told of a sign of danger."""
    client = await house.clients.find(turn.tx, house.clients.table.c.id == client_id)
    if client is None or client.stage is not Stage.ACTIVE or client.paused_until is not None:
        return
    if await house.open_red_flag(turn.tx, client_id) is None:
        await welcome_back(turn, client)


async def on_meanwhile(turn: Turn, _client: Client, _args: Sequence[str]) -> None:
    await turn.used()
    await turn.expect(topic="meanwhile", asked="days")
    await turn.say(of_week.meanwhile())


# --- data -------------------------------------------------------------------------------------------------------------


async def export(turn: Turn, client: Client) -> None:
    """Everything held, complete and at once, as a file."""
    held = json.dumps(await keeping.held_about(turn.tx, client), indent=1, ensure_ascii=False)
    file = {"name": "keptword-export.json", "content": base64.b64encode(held.encode()).decode()}
    body = {"caption": "Everything held about you.", "files": {"document": file}}
    await turn.speaker.send(turn.chat_id, "sendDocument", body, kind=Kind.REPLY)


async def offer_erase(turn: Turn, _client: Client) -> None:
    await turn.say(privacy.ERASE, [[button("Remove it all", "erase"), button("Keep it", "keep")]])


async def on_erase(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    """Gone for good and at once; the coach is told only that the client left."""
    coach = await house.coaches.get(turn.tx, client.coach_id)
    name = client.name
    await keeping.erase(turn.tx, client)
    turn.dialogue = type(turn.dialogue)(telegram_id=turn.dialogue.telegram_id, at=turn.at)
    await turn.say(privacy.ERASED)
    await turn.tell(coach.telegram_id, to_coach.left(name))


async def on_keep(turn: Turn, _client: Client, _args: Sequence[str]) -> None:
    await turn.used()
    await turn.say("Everything stays as it is.")
