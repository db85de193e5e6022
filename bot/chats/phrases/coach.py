"""What a coach hears. Facts first, then what to do about them."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from bot.chats.phrases.common import date, dates, hour, listed, safe, sessions, span
from core.calendar.weeks import IsoWeek
from core.digest import coming
from core.digest.facts import ClientWeek
from core.how_many import how_many
from core.people.model import Client, Coach
from core.people.records import PlannedTrip, RedFlag
from core.programme.words import ROOM_WORDS
from core.usecases.weekly import as_issued
from core.week.model import Promise
from core.wellbeing.screening import FOR_COACH, Verdict

CONFIRM = "Confirm, begin on Monday"
NOT_YET = "Not yet"


# --- setting up -------------------------------------------------------------------------------------------------------


def welcome(coach: Coach) -> str:
    return (
        f"Hello {safe(coach.name)}. I ask your clients at the right hour where they are, keep count, forecast which promise each would keep, "
        f"and bring you one digest on Sunday.\n\n{which_clock()}"
    )


def which_clock() -> str:
    return "Where are you? Tap the clock that matches yours, or write your city."


def which_hour(place: str, now: str) -> str:
    return f"{safe(place)}, where it is {now} now. At what time on Sunday shall the digest come?"


def ready(coach: Coach, *, first: bool) -> str:
    if not first:
        return f"Sunday at {hour(coach.digest_at)} it is, in {safe(city(coach.zone))}."
    return (
        f"Sunday at {hour(coach.digest_at)} it is. Now invite your first client: write\n<code>/invite Name</code>\n"
        "and forward the link that I give you. /help lists the rest."
    )


def city(zone: str) -> str:
    """'New York' of America/New_York."""
    return zone.rsplit("/", maxsplit=1)[-1].replace("_", " ")


HELP = """<b>What you can do</b>
/invite Name  a link for a new client
/clients  everyone, and where they are
/push  send a session to one or several
/sent  what was opened and done
/own  your own exercises and sessions
/lifts  what a client lifts, and what comes next
/year  the blocks of a client's year
/programme  a client's next weeks, as a spreadsheet
/write  a message to one or several
/digest  where the week stands, and what waits to be settled
/settings  your zone, digest hour, raising without you
/history  every session, as a spreadsheet
/privacy  what is kept, and why

To answer a client, reply to the message that brought their words, in text, voice or video. A programme, a history or what is
coming up in a year can come back as a file, .xlsx or .csv: just send it."""


def settings(coach: Coach) -> str:
    left = (
        "at what I recommend"
        if coach.raise_without_me
        else "at what I recommend, but never above the last promise"
    )
    return (
        f"Your clock: {safe(city(coach.zone))}. The digest comes on Sunday at {hour(coach.digest_at)}.\n"
        f"A week that you leave open I settle {left}."
    )


def invited(client: Client, link: str) -> str:
    return f"Forward this to {safe(client.name)}. The link works once, for 72 hours, and only for the first person who opens it:\n{link}"


def not_your_link() -> str:
    return "That link is for somebody else: forward it, and leave the opening to them. It still works."


def invite_how() -> str:
    return "What is the client's name? I give you a link to forward. /cancel leaves it."


def opened_link(client: Client, telegram_name: str) -> str:
    return (
        f"{safe(client.name)}'s link was opened by an account called {safe(telegram_name or 'without a name')}. The questions have begun. "
        "If that is somebody else, remove them."
    )


def screening(client: Client, verdict: Verdict, declared: Sequence[str], flag: RedFlag | None = None) -> str:
    lines = [
        f"<b>{safe(client.name)}</b> has answered the questions.",
        (
            f"{safe(client.place or client.zone)}, {how_many(client.lately or 0, 'session')} a week lately, {client.minutes} minutes, "
            f"{ROOM_WORDS[client.room]}, {client.level}."
        ),
        f"Hurts or needs care: {safe(listed(client.complaints) or 'nothing')}. Goal: {safe(client.goal or 'not said')}.",
    ]
    lines += [f"Declared: {safe(d)}." for d in declared] or ["Declared: nothing."]
    if flag is not None:
        lines.append(f"<b>Red flag open</b>, from what they wrote meanwhile: “{safe(flag.words, 300)}”")
    lines.append(f"By the 2015 screening algorithm of the ACSM: {FOR_COACH[verdict]}")
    lines.append("Until you confirm, no session is sent and nothing is asked.")
    return "\n".join(lines)


def confirmed(client: Client, promise: Promise, name_day: dt.date) -> str:
    return "\n".join(
        [f"<b>{safe(client.name)}</b> begins on {date(name_day)}.", *recommended(promise, client)]
    )


def recommended(promise: Promise, client: Client, last: int | None = None) -> list[str]:
    """What is recommended for a week, its odds and why, in the words of the digest. ``last``: the last promise, if there was one."""
    issued = as_issued(promise, previous=last, confidence=client.confidence)
    return (
        [] if issued is None else list(coming.lines_of(replace(issued, settled=None), of=span(promise.week)))
    )


def client_may_begin(name_day: dt.date) -> str:
    return f"Your coach has confirmed: we begin on {date(name_day)}. You will see the promise before; until then /now makes a session."


def held(client: Client) -> str:
    return f"{safe(client.name)} waits. Confirm when you are ready: /clients."


def doctor_first(client: Client) -> str:
    return (
        f"By the algorithm {safe(client.name)} should see a doctor first. Confirm only if a doctor has agreed; "
        "write a note about it (who, when), and it is kept with the confirmation."
    )


# --- the week ---------------------------------------------------------------------------------------------------------


def settled(client: Client, promise: Promise, who: str = "") -> str:
    if promise.settled == 0:
        return f"{safe(client.name)}: a rest week, {span(promise.week)}{who}."
    words = f"{safe(client.name)}: {sessions(promise.settled or 0)} of {promise.minutes} minutes, {span(promise.week)}{who}."
    if promise.needs_yes:
        words += " That is more than one above the last promise: it holds only with the client's own yes."
    return words


def choice(client: Client, promise: Promise, week: ClientWeek, last: int | None) -> str:
    """One client who needs thought: the count, the recommendation and why, as in the digest."""
    so_far = f"{week.done} of {week.promised}" if week.promised else "nothing promised"
    lines = [f"<b>{safe(client.name)}</b>, this week {so_far}."]
    if week.next_week is not None:
        lines += coming.lines_of(week.next_week)
    else:
        lines += recommended(promise, client, last)
    if promise.talk_first:
        lines.append(
            f"{client.floor} is the least that you set, but less sure than you ask for: better talk first."
        )
    return "\n".join(lines)


def all_well(names: Sequence[str]) -> str:
    return f"<b>All well</b>: {safe(listed(names), 2500)}."


def settled_all(number: int) -> str:
    if number == 0:
        return "All of these are settled already."
    return f"{how_many(number, 'week')} settled as recommended. Clients hear of it outside their quiet hours."


def day_ahead(names: Sequence[str]) -> str:
    begins = "begins" if len(names) == 1 else "begin"
    return f"<b>A day ahead</b>: the {'week' if len(names) == 1 else 'weeks'} of {safe(listed(names), 2500)} {begins} before you could settle on Sunday."


def settled_too_late(client: Client) -> str:
    return f"{safe(client.name)}'s week has begun, so its number stays as it is. The next digest brings the next one."


def chose_less(client: Client, number: int, settled_number: int, week: IsoWeek) -> str:
    return f"{safe(client.name)} promises {number} rather than {settled_number} for {span(week)}. That holds."


def other_length(client: Client, days: Sequence[dt.date], minutes: int, was: int) -> str:
    return f"{safe(client.name)} plans {minutes} minutes rather than {was} for {listed(date(day) for day in days)}. That holds."


def wants_more(client: Client, number: int, promise: Promise) -> str:
    return (
        f"{safe(client.name)} would like {number} rather than {promise.number} for {span(promise.week)}; "
        f"I had recommended {promise.recommended}. Until you say yes, the promise stays at {promise.number}, and more counts as extra."
    )


def lowered(client: Client, promise: Promise, was: int) -> str:
    return f"{safe(client.name)} lowered this week from {was} to {promise.agreed}, before anything was missed. That holds."


def fell_silent(client: Client, since: dt.date) -> str:
    return (
        f"<b>{safe(client.name)}</b> has been silent since {date(since)}: two asked days without a word. I ask for nothing more this week, "
        "then once a week, for ten minutes. A word from you may do more than mine."
    )


def is_back(client: Client) -> str:
    return f"{safe(client.name)} is back."


def paused(client: Client, until: dt.date) -> str:
    return f"{safe(client.name)} pauses up to and including {date(until)}. I ask nothing and count nothing."


def stopped(client: Client) -> str:
    return (
        f"{safe(client.name)} has stopped the bot. Nothing more goes out; write to them yourself if you like."
    )


def left(name: str) -> str:
    return f"{safe(name)} has left and had all data removed."


def unreachable(client: Client) -> str:
    return f"{safe(client.name)} cannot be reached: the bot is blocked or the account is gone. I ask nothing until they write again."


def reachable(client: Client) -> str:
    return f"{safe(client.name)} can be reached again."


def which_number(client: Client) -> str:
    return f"<b>{safe(client.name)}</b>: how many sessions?"


def left_at(client: Client, promise: Promise) -> str:
    if promise.number is None:
        return f"{safe(client.name)}: left as it is."
    return f"{safe(client.name)}: it stays at {sessions(promise.number)}."


def write_whom() -> str:
    return "Write to whom? Tap one or several, then go on."


def cancelled(topic: str) -> str:
    if topic == "clear":
        return "Left: the red flag stays open. “Clear it” under it asks for the note again."
    if topic == "confirm":
        return "Left: not confirmed. /clients has the button when you are ready."
    return (
        "Left: nothing was sent or changed."
        if topic
        else "Nothing was under way. /help lists what you can do."
    )


def nothing_in_history() -> str:
    return "There is no history yet: it begins with the first promise."


def trip(client: Client, planned: PlannedTrip) -> str:
    return f"{safe(client.name)}: {safe(planned.place)}, {dates(planned.first, planned.last)}."


def too_long() -> str:
    return "That is too long to arrive in one message: 3,000 characters at most, please."


def welcome_to_it() -> str:
    return "Any time."


def change_stays_here(client: Client) -> str:
    return f"{safe(client.name)} keeps what you sent first: a change does not reach them. Send what is right as a new message."


def hello() -> str:
    return "Hello. /digest shows where the week stands and what waits for you, /help what you can do."


def in_words(topic: str) -> str:
    """A note was asked for, and something else came."""
    why = "clears the red flag" if topic == "clear" else "goes with the confirmation"
    return f"Please write the note that {why}: it is kept in words. /cancel leaves it."


def unknown() -> str:
    return (
        "I did not catch that, so nothing was sent. To answer a client, reply to the message that brought their words; "
        "/write begins a new message, and /help lists the rest."
    )


def stale_button() -> str:
    return "That button has had its day; nothing was changed. /clients and /digest show where things stand."
