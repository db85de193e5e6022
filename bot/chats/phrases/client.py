"""What a client hears, whatever it is about. Short, kind, never a reproach; numbers rather than praise."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import date, hour, safe, span
from core.how_many import how_many
from core.terms import Outcome
from core.week.model import Ask, Promise


def thanks() -> str:
    return "Any time."


def good() -> str:
    """To 'great', 'ok', 'perfect'."""
    return "Good."


def passed_on(coach: str) -> str:
    return f"Passed on to {safe(coach)}."


def thanks_for_telling(coach: str) -> str:
    return f"Thank you for telling me. I have passed it on to {safe(coach)}."


def passed_on_while_stopped(coach: str) -> str:
    return f"{passed_on(coach)} You have stopped, so nothing else comes from me; <i>back</i> begins again."


def stopped() -> str:
    return "You have stopped, so nothing comes from me. Write <i>back</i> to begin again; /export and /erase work as before."


def not_understood(coach: str, *, about_a_session: bool) -> str:
    words = f"I am not sure I read that right, so I wrote nothing down and passed it on to {safe(coach)}."
    return f"{words} If it was about the session, tap how it went." if about_a_session else words


def cannot_use() -> str:
    return "I cannot do anything with that. Words, pictures, video and voice I can take, and a calendar of trips."


def lately(done: int, asked: int, extras: int) -> str:
    """What was done in the last eight weeks."""
    more = f"{how_many(extras, 'extra')}"
    if not asked:
        return f"Sessions: nothing asked yet{f', {more}' if extras else ''}."
    return f"Last eight weeks: {done} of {how_many(asked, 'session')} done{f', {more}' if extras else ''}."


def hello() -> str:
    return "Hello. /week shows where things stand, /help what you can write."


def whose(said_by: str) -> str:
    """Who said it, in a list of what was said."""
    return "you" if said_by == "client" else "your coach"


def nothing_open() -> str:
    return "Nothing is open that you could leave. /week shows where things stand."


def left_open() -> str:
    return "All right, left as it was."


def sticker(*, about_a_session: bool) -> str:
    words = "I only read words and buttons."
    return f"{words} Was that about the session? Then tap how it went." if about_a_session else words


def stale_button() -> str:
    return "That button has had its day. /week shows where things stand."


def unknown_command(command: str) -> str:
    return f"I do not know /{safe(command, 40)}. /help lists what I do know."


def in_already(*, stopped: bool) -> str:
    back = " You have stopped here; <i>back</i> begins again." if stopped else ""
    return (
        f"You are with a coach here already, and nobody has two, so I left that link alone.{back} "
        "To move to the other coach: /export what you want to keep, /erase, then open the link again."
    )


def calendar(address: str) -> str:
    return (
        f"Add this address to your phone's calendar as a subscription:\n{address}\nIt shows your sessions and follows when they move. "
        "Whoever has it can read them, so keep it to yourself; /calendar again gives a new one and ends this one."
    )


def no_calendar() -> str:
    return "This installation cannot be reached by your phone's calendar. /week shows your sessions here."


HELP = """<b>What you can write</b>
<i>done</i>, <i>did half</i>, <i>can't today</i>, <i>move it to Thursday</i>, <i>Mon Thu, 30 min each</i>, <i>slept 6.5</i>, <i>in Lisbon 3-7 Dec</i>, <i>knee hurts</i>, <i>coach, ...</i>

/week  where the week stands
/plan  days, time, and how many
/trip  trips ahead
/calendar  your sessions in your phone's calendar
/now  a short session, now
/pause  no questions for a while
/settings  what you told me at the start
/mine  what your coach sees of you
/export  everything held about you, as a file
/erase  remove it all, for good
/stop  no more messages
/privacy  what is kept, and why

I am no medical device. Stop if something hurts, and see a doctor or physiotherapist about anything that worries you."""


def no_promise(begins: dt.date | None, *, waiting_for: str = "") -> str:
    """`begins`: the first Monday, where that is still to come; `waiting_for`: the coach who has yet to confirm."""
    if waiting_for:
        return f"{safe(waiting_for)} has yet to confirm your answers; then we begin on a Monday. You hear from me before."
    if begins is not None:
        return f"Your first week begins on {date(begins)}; until then I ask for nothing. /now makes a session whenever you like."
    return "This week has no promise. /now makes a session whenever you like."


def week(
    promise: Promise | None,
    asks: Sequence[Ask],
    today: dt.date,
    zone_hint: str,
    paused_until: dt.date | None = None,
) -> str:
    """Where the week stands, a line an ask."""
    if promise is None or promise.number is None:
        return no_promise(None)
    if promise.number == 0:
        return f"<b>{span(promise.week)}</b>: a rest week. Nothing is asked; what you do all the same is an extra."
    head = f"<b>{span(promise.week)}</b>: promised {promise.number}"
    lines = [head]
    words = {
        Outcome.DONE: "done",
        Outcome.SHORT: "short, done",
        Outcome.MISSED: "not this time",
        Outcome.UNANSWERED: "no answer",
        Outcome.EXCUSED: "excused",
        Outcome.EXTRA: "extra",
    }
    for ask in asks:
        if ask.withdrawn:
            continue
        if ask.weekly and ask.outcome is None:
            lines.append(f"Any day up to {date(ask.day)}: {ask.minutes} minutes, whenever you like")
            continue
        state = words[ask.outcome] if ask.outcome else f"{hour(ask.at)}, {ask.minutes} minutes"
        lines.append(f"{date(ask.day)}: {state}{' (today)' if ask.day == today else ''}")
    if paused_until is not None:
        lines.append(f"Paused up to and including {date(paused_until)}; <i>back</i> ends it.")
    elif len(lines) == 1:
        lines.append("Nothing is asked for this week; what you do all the same counts.")
    if zone_hint:
        lines.append(zone_hint)
    return "\n".join(lines)
