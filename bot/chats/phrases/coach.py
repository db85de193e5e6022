"""What a coach hears. Facts first, then what to do about them."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import count, date, dates, hour, listed, safe, sessions, span
from core.calendar.weeks import IsoWeek
from core.digest.facts import ClientWeek
from core.people.model import Client, Coach, SleepAsked, Stage
from core.people.records import PlannedTrip, RedFlag, RemoteSession
from core.programme.words import ROOM_WORDS
from core.programme.year.coming_up import ComingUp
from core.week.model import Promise
from core.wellbeing.screening import FOR_COACH, Verdict

CONFIRM = "Confirm, begin on Monday"
NOT_YET = "Not yet"


# --- setting up -------------------------------------------------------------------------------------------------------


def welcome(coach: Coach) -> str:
    return (
        f"Hello {safe(coach.name)}. I ask your clients at the right hour where they are, keep count, forecast which promise each would keep, "
        "and bring you one digest on Sunday.\n\nWhere are you? Tap the clock that matches yours, or write your city."
    )


def which_hour(place: str, now: str) -> str:
    return f"{safe(place)}, where it is {now} now. At what time on Sunday shall the digest come?"


def ready(coach: Coach) -> str:
    return (
        f"Sunday at {hour(coach.digest_at)} it is. Now invite your first client: write\n<code>/invite Name</code>\n"
        "and forward the link that I give you. /help lists the rest."
    )


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
/digest  the last digest again
/settings  your zone, digest hour, raising without you
/history  every session, as a spreadsheet
/privacy  what is kept, and why

To answer a client, reply to the message that brought their words, in text, voice or video. A programme, a history or what is
coming up in a year can come back as a file, .xlsx or .csv: just send it."""


def settings(coach: Coach) -> str:
    switch = "on" if coach.raise_without_me else "off"
    return (
        f"You are in {safe(coach.zone)}; the digest comes on Sunday at {hour(coach.digest_at)}.\n"
        f"Raise without me: {switch}. (What you leave open becomes the lower of recommendation and last promise; with this on, the "
        "recommendation.)"
    )


def invited(client: Client, link: str) -> str:
    return f"Forward this to {safe(client.name)}. The link works once, for 72 hours, and only for the first person who opens it:\n{link}"


def invite_how() -> str:
    return "Write the name after it, like <code>/invite Mara</code>."


def opened_link(client: Client, telegram_name: str) -> str:
    return (
        f"{safe(client.name)}'s link was opened by an account called {safe(telegram_name or 'without a name')}. The questions have begun. "
        "If that is somebody else, remove them."
    )


def screening(client: Client, verdict: Verdict, declared: Sequence[str]) -> str:
    lines = [
        f"<b>{safe(client.name)}</b> has answered the questions.",
        (
            f"{safe(client.place or client.zone)}, {count(client.lately or 0, 'session')} a week lately, {client.minutes} minutes, "
            f"{ROOM_WORDS[client.room]}, {client.level}."
        ),
        f"Hurts or needs care: {safe(listed(client.complaints) or 'nothing')}. Goal: {safe(client.goal or 'not said')}.",
    ]
    lines += [f"Declared: {safe(d)}." for d in declared] or ["Declared: nothing."]
    lines.append(f"By the 2015 screening algorithm of the ACSM: {FOR_COACH[verdict]}")
    lines.append("Until you confirm, no session is sent and nothing is asked.")
    return "\n".join(lines)


def confirmed(client: Client, promise: Promise, name_day: dt.date) -> str:
    return (
        f"{safe(client.name)} begins on {date(name_day)}. Recommended: {sessions(promise.recommended or 1)} of {promise.minutes} minutes. "
        f"{safe(promise.why)}"
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


# --- clients ----------------------------------------------------------------------------------------------------------


def clients(everybody: Sequence[tuple[Client, str]]) -> str:
    if not everybody:
        return "No clients yet. Write <code>/invite Name</code> to invite the first."
    stages = {
        Stage.ENROLLING: "answering the questions",
        Stage.WAITING: "waits for your confirmation",
        Stage.STOPPED: "stopped",
    }
    lines = ["<b>Your clients</b>"]
    for client, where in everybody:
        state = stages.get(client.stage) or (
            "silent since " + date(client.silent_since) if client.silent_since else where
        )
        if client.unreachable:
            state = "has blocked the bot or is gone"
        lines.append(f"{safe(client.name)}: {state}")
    return "\n".join(lines)


def one_client(client: Client, where: str, week: str, trips: Sequence[PlannedTrip]) -> str:
    lines = [f"<b>{safe(client.name)}</b>, {where}", week]
    lines += [f"{safe(trip.place)}, {dates(trip.first, trip.last)}" for trip in trips]
    lines.append(
        f"Confidence {client.confidence:.0%}, floor {client.floor if client.floor is not None else 'none'}; "
        f"best days and hour: {hour(client.usual_time)}."
    )
    return "\n".join(lines)


# --- the week ---------------------------------------------------------------------------------------------------------


def settled(client: Client, promise: Promise, who: str = "") -> str:
    if promise.settled == 0:
        return f"{safe(client.name)}: a rest week, {span(promise.week)}.{who}"
    words = f"{safe(client.name)}: {sessions(promise.settled or 0)} of {promise.minutes} minutes, {span(promise.week)}.{who}"
    if promise.needs_yes:
        words += " That is more than one above the last promise: it holds only with the client's own yes."
    return words


def choice(client: Client, promise: Promise, week: ClientWeek) -> str:
    """One client who needs thought: the count, the recommendation and why."""
    if promise.talk_first:
        number = f"talk first; the floor is {client.floor}"
    elif promise.recommended_if_done is not None:
        number = f"{promise.recommended_if_done} if the last one is done, else {promise.recommended}"
    else:
        number = f"{promise.recommended}"
    minutes = f" of {promise.recommended_minutes} minutes" if promise.recommended_minutes else ""
    so_far = f"{week.done} of {week.promised}" if week.promised else "nothing promised"
    return f"<b>{safe(client.name)}</b>, this week {so_far}. Recommended: <b>{number}</b>{minutes}.\n{safe(promise.why)}"


def all_well(names: Sequence[str]) -> str:
    return f"<b>All well</b>: {safe(listed(names), 2500)}."


def settled_all(number: int) -> str:
    if number == 0:
        return "All of these are settled already."
    return f"{count(number, 'week')} settled as recommended."


def day_ahead(names: Sequence[str]) -> str:
    begins = "begins" if len(names) == 1 else "begin"
    return f"<b>A day ahead</b>: the {'week' if len(names) == 1 else 'weeks'} of {safe(listed(names), 2500)} {begins} before you could settle on Sunday."


def settled_too_late(client: Client) -> str:
    return f"{safe(client.name)}'s week has begun to be asked about; the number stays as it is. The next digest brings the next one."


def chose_less(client: Client, number: int, settled_number: int, week: IsoWeek) -> str:
    return f"{safe(client.name)} promises {number} rather than {settled_number} for {span(week)}. It holds."


def wants_more(client: Client, number: int, promise: Promise) -> str:
    return (
        f"{safe(client.name)} would like {number} rather than {promise.number} for {span(promise.week)}. "
        f"The recommendation was {promise.recommended}. Until you settle it, what is beyond the promise counts as extras."
    )


def lowered(client: Client, promise: Promise, was: int) -> str:
    return f"{safe(client.name)} has lowered this week from {was} to {promise.agreed}, before any miss. It holds."


SLEEP_WORDS = {
    SleepAsked.TRAINING: "sleep on training days",
    SleepAsked.DAILY: "sleep every day",
    SleepAsked.NEVER: "never about sleep",
}


def asking(client: Client) -> str:
    return (
        f"{safe(client.name)}: {SLEEP_WORDS[client.sleep_asked]}, at most {count(client.daily_limit, 'message')} a day and "
        f"{client.weekly_limit} a week that nobody asked for. What you send yourself is not counted."
    )


def fell_silent(client: Client, since: dt.date) -> str:
    return (
        f"<b>{safe(client.name)}</b> has been silent since {date(since)}: two asked days without a word. I have withdrawn the rest of the "
        "week and will ask once a week, for ten minutes. A word from you may do more than mine."
    )


def is_back(client: Client) -> str:
    return f"{safe(client.name)} is back."


def paused(client: Client, until: dt.date) -> str:
    return f"{safe(client.name)} pauses up to and including {date(until)}. Nothing is asked, nothing counted."


def stopped(client: Client) -> str:
    return (
        f"{safe(client.name)} has stopped the bot. Nothing more goes out; write to them yourself if you like."
    )


def left(name: str) -> str:
    return f"{safe(name)} has left and had all data removed."


def unreachable(client: Client) -> str:
    return f"{safe(client.name)} cannot be reached: the bot is blocked or the account is gone. I ask nothing until they write again."


def trip(client: Client, planned: PlannedTrip) -> str:
    return f"{safe(client.name)}: {safe(planned.place)}, {dates(planned.first, planned.last)}."


# --- care -------------------------------------------------------------------------------------------------------------


def red_flag(client: Client, flag: RedFlag, where: str, local: dt.datetime) -> str:
    head = "RED FLAG" if flag.sure else "POSSIBLE RED FLAG"
    again = f" (told {flag.told} times)" if flag.told > 1 else ""
    doubt = (
        ""
        if flag.sure
        else "\nIt may be a figure of speech: I have asked, and it counts until it is answered."
    )
    return (
        f"<b>{head}</b>{again}: {safe(client.name)}, {safe(where)}, {local:%a %H:%M} there.\n"
        f"<blockquote>{safe(flag.words)}</blockquote>{doubt}\n"
        "They were told to stop, to get medical care, and whom to call. Nothing asks them to train until you clear it, with a note."
    )


def figure_of_speech(client: Client) -> str:
    return f"{safe(client.name)} says it was a manner of speaking. Nothing is held back any more; you have seen the words."


def seen(client: Client) -> str:
    return f"Seen. {safe(client.name)} stays excused until you clear it."


def clear_note(client: Client) -> str:
    return f"Write the note that clears it for {safe(client.name)}: what was found, by whom, and what may be done. It is kept."


def cleared(client: Client) -> str:
    return f"Cleared, with your note. {safe(client.name)} is asked again from the next session on."


def client_cleared() -> str:
    return "Your coach has cleared you to go on. Start easy, and tell me at once if anything feels wrong."


def nothing_to_clear(client: Client) -> str:
    return f"There is nothing to clear for {safe(client.name)} any more."


# --- talking ----------------------------------------------------------------------------------------------------------


def passed_on(
    client: Client,
    words: str,
    kind: str,
    where: str,
    local: dt.datetime,
    *,
    asked: str,
    so_far: str,
    session: str = "",
) -> str:
    kinds = {
        "question": "asks",
        "pain": "reports pain",
        "unwell": "is unwell",
        "unread": "wrote (I could not read it)",
        "media": "sent",
    }
    context = f"{safe(where)}, {local:%a %H:%M} there; this week {so_far}"
    if asked and asked != "nothing":
        context += f"; asked last: {asked}"
    if session:
        context += f"; {safe(session)}"
    return f"<b>{safe(client.name)}</b> {kinds.get(kind, 'wrote')}:\n<blockquote>{safe(words, 1500)}</blockquote>\n<i>{context}</i>"


def during(title: str, exercises: Sequence[str]) -> str:
    return f"session: {title}" + (f", at {listed(exercises)}" if exercises else "")


def write_to(names: Sequence[str]) -> str:
    return f"Write the message for {safe(listed(names))}; text, voice or video. /cancel leaves it."


def sent_to(names: Sequence[str]) -> str:
    return f"Sent to {safe(listed(names))}."


def from_coach(coach: Coach, words: str) -> str:
    return f"<b>{safe(coach.name)}</b>:\n{safe(words, 3500)}"


def media_from_coach(coach: Coach) -> str:
    return f"From <b>{safe(coach.name)}</b>:"


def no_recipient() -> str:
    return "Choose at least one client."


def not_reachable(names: Sequence[str]) -> str:
    return f"Not reachable: {safe(listed(names))}."


# --- sessions ---------------------------------------------------------------------------------------------------------


def push_whom() -> str:
    return "Send a session to whom?"


def push_what(names: Sequence[str], room: str, minutes: int) -> str:
    return f"For {safe(listed(names))}: {room}, {minutes} minutes? Or write the session in your own words."


# --- the coach's own --------------------------------------------------------------------------------------------------


def own_none() -> str:
    return (
        "Nothing of your own yet. Add an exercise, or write a whole session: I take what is yours before what is mine, "
        "wherever it fits."
    )


def own(exercises: Sequence[str], kept: Sequence[str]) -> str:
    lines = ["<b>Your own</b>"]
    if exercises:
        lines.append(f"Exercises: {safe(listed(exercises), 1500)}.")
    if kept:
        lines.append(f"Sessions: {safe('; '.join(kept), 1500)}.")
    lines.append("I take them before mine, wherever they fit.")
    return "\n".join(lines)


def own_name() -> str:
    return "What is the exercise called?"


def own_name_length(most: int) -> str:
    return f"A name of one to {most} characters, please; how it is done comes with the cues."


def own_pattern(name: str) -> str:
    return f"Which pattern does {safe(name)} train?"


def own_room() -> str:
    return "What does it need at least?"


def own_cues(avoids: Sequence[str]) -> str:
    return (
        f"Cues in your own words, a line each. I keep it from whom the {', '.join(avoids[:-1])} or {avoids[-1]} hurts; "
        f"where it is fine, say so in a line such as <i>Spares: {avoids[0]}</i>."
    )


def own_media(name: str) -> str:
    return f"And a video or voice note for {safe(name)}?"


def own_added(name: str, pattern: str, room: str) -> str:
    return f"{safe(name)} is yours now: {pattern}, {room}. I take it before mine where it fits."


def own_session_words() -> str:
    return "Write the session, as your clients shall read it. A blank line begins a new part."


def own_session_fit(title: str) -> str:
    return f"{safe(title)}: for which room at least, and how many minutes?"


def own_session_kept(title: str, room: str, minutes: int) -> str:
    return f"Kept: {safe(title)}, {room}, {minutes} minutes. I take it before one of mine where it fits."


def own_gone(name: str) -> str:
    return f"{safe(name)} is taken away. Sessions that were sent keep it."


def own_look(words: str) -> str:
    return safe(words, 3500)


def which_of_yours() -> str:
    return "Which of yours?"


# --- the year ---------------------------------------------------------------------------------------------------------


def year_whose() -> str:
    return "Whose year?"


def year_how(name: str, start: dt.date, weeks: int, rows: Sequence[str]) -> str:
    lines = [f"<b>{safe(name)}: the year</b>, {weeks} weeks from {date(start)} on."]
    lines += [safe(row) for row in rows] or ["Nothing is coming up yet."]
    lines.append(
        "Write what is coming up, a line each:\n<code>Opening night,2027-03-20,,event,3,strength</code>\n"
        "<code>Summer break,2027-07-05,2027-07-18,holiday</code>\n"
        "Name, from, to (may be empty), then event, holiday or trip; for an event also how much it matters, 1 to 3, and what it "
        "wants: hypertrophy, strength, power or power endurance."
    )
    return "\n".join(lines)


def year_row(event: ComingUp) -> str:
    more = f", {event.wants}, {event.importance} of 3" if event.wants else ""
    return f"{dates(event.first, event.last)}: {event.name} ({event.kind}{more})"


def year_drawn(name: str, words: str) -> str:
    return f"<b>{safe(name)}</b>\n{safe(words, 3500)}"


def year_accepted(name: str) -> str:
    return f"Accepted. {safe(name)}'s sessions are built for these blocks from now on."


def year_faults(faults: Sequence[str]) -> str:
    return "Nothing was changed:\n" + "\n".join(safe(fault) for fault in faults[:20])


def year_too_much(rows: int, most: int) -> str:
    return f"With these there would be {rows} lines; a year has up to {most}. Leave out what does not change the training."


def lifts(name: str, listed_lifts: Sequence[str]) -> str:
    if not listed_lifts:
        return f"{safe(name)} has told no results yet. After a session I ask for them."
    return "\n".join([f"<b>{safe(name)}: lifts</b>", *(safe(line) for line in listed_lifts)])


def programme_whose() -> str:
    return "Whose programme, as a spreadsheet?"


def programme_file(name: str, weeks: int) -> str:
    return (
        f"{safe(name)}: the next {weeks} weeks as they would be built today, a row an exercise. "
        "Change what you like and send the file back; you see what it would do before it does it."
    )


def same_as_csv() -> str:
    return "The same as .csv."


def lifts_whose() -> str:
    return "Whose lifts?"


def no_own_sessions() -> str:
    return "No session of your own is kept yet. Write one here, and keep it."


def too_long() -> str:
    return "That is too long to arrive in one message: 3,000 characters at most, please."


# --- sending ----------------------------------------------------------------------------------------------------------


def push_draft(text: str, notes: Sequence[str] = ()) -> str:
    more = "".join(f"\n\n<i>{safe(note)}</i>" for note in notes)
    return f"<b>Draft</b>\n{safe(text, 3200)}{more}"


def asleep(name: str, local: dt.datetime) -> str:
    return f"For {name} it is {local:%a %H:%M}, in quiet hours: sent now, it arrives without a sound."


def hurts(name: str, places: Sequence[str]) -> str:
    return f"{name} has said that it hurts: {listed(places)}. Your own words are not checked against that."


def has_media(names: Sequence[str]) -> str:
    return f"With a video or voice note of yours: {listed(names)}."


def swap_which() -> str:
    return "Which one shall go?"


def swap_for(name: str, *, any_left: bool) -> str:
    if not any_left:
        return f"Nothing else of that pattern fits this room and these complaints, so {safe(name)} stays."
    return f"Instead of {safe(name)}:"


def no_length_left(minutes: int) -> str:
    return f"{minutes} minutes is as far as it goes that way."


def line_how() -> str:
    return "Write the line: it stands before the session. /cancel leaves it."


def media_which() -> str:
    return "For which exercise? The video or voice note stays with it for every session."


def media_how(name: str, *, known: bool) -> str:
    first = "There is one already; a new one takes its place. " if known else ""
    return f"{first}Send the video or voice note for {safe(name)} now."


def media_kept(name: str) -> str:
    return f"Kept for {safe(name)}."


def media_gone(name: str) -> str:
    return f"{safe(name)} goes without from now on."


def media_kinds() -> str:
    return "A video, a round video or a voice note is what I can keep for an exercise."


def pushed(names: Sequence[str]) -> str:
    return f"On its way to {safe(listed(names))}. /sent shows what was opened and done."


def pushed_for_morning(when: Sequence[tuple[str, dt.datetime]]) -> str:
    times = [f"{name} {local:%a %H:%M} there" for name, local in when]
    return f"It goes out when quiet hours end: {safe(listed(times))}. /sent shows what was opened and done."


def not_pushed_flagged(names: Sequence[str]) -> str:
    return f"Not sent to {safe(listed(names))}: a red flag is open. Clear it first, with a note."


def session_for_client(coach: Coach, title: str) -> str:
    return f"<b>{safe(coach.name)}</b> sends you a session: {safe(title)}. It waits here until you have a moment; nothing is owed."


def session_done(client: Client, title: str) -> str:
    return f"{safe(client.name)} has done {safe(title)}."


def receipts(sent: Sequence[tuple[Client, RemoteSession, dt.tzinfo]]) -> str:
    if not sent:
        return "No session has been sent yet. /push sends one."
    lines = ["<b>Sessions sent</b>"]
    for client, session, zone in sent:
        state = [
            f"{word} {at.astimezone(zone):%a %H:%M}"
            for word, at in (
                ("sent", session.sent_at),
                ("opened", session.opened_at),
                ("begun", session.begun_at),
                ("done", session.done_at),
            )
            if at is not None
        ]
        lines.append(
            f"{safe(client.name)}, {safe(session.title, 60)}: {', '.join(state) or 'not gone out yet'}"
        )
    return "\n".join(lines)


def unknown() -> str:
    return "I did not catch that. /help lists what you can do; to answer a client, reply to the message that brought their words."


def stale_button() -> str:
    return "That button has had its day; nothing was changed. /clients and /digest show where things stand."
