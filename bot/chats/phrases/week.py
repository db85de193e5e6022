"""What a client hears of a week: what is promised, agreed, lowered; silence, pauses, coming back."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import (
    begun,
    date,
    days_at,
    days_listed,
    listed,
    long_weekday,
    safe,
    sessions,
    span,
    weekday,
)
from core.calendar.weeks import IsoWeek
from core.how_many import how_many
from core.programme.session import LONGEST, SHORTEST
from core.week.model import Ask, Promise

# --- the promise ------------------------------------------------------------------------------------------------------


def week_offer(promise: Promise, asks: Sequence[Ask], *, away: bool) -> str:
    """The weekly message: the number, the days, and how to change both. `away`: a trip touches one of the days."""
    number = promise.settled or 0
    if number == 0:
        return (
            f"<b>{span(promise.week)}</b>: a rest week. I will not ask for anything. See you the week after."
        )
    lines = [f"<b>{span(promise.week)}</b>: {sessions(number)} of {promise.minutes} minutes."]
    if asks:
        there = ", by the clock where you are then" if away else ""
        lines.append(f"{days_at([(ask.day, ask.at) for ask in asks])}{there}. Does that fit?")
    else:
        lines.append(
            "You are out of reach that week, so I will not ask. What you do counts all the same: just tell me."
        )
    return "\n".join(lines)


def needs_your_yes(promise: Promise, last: int) -> str:
    return f"Your coach suggests {promise.settled}, which is more than one above your last promise of {last}. Only if you say yes; else it stays {last}."


def agreed(promise: Promise, asks: Sequence[Ask]) -> str:
    if not asks:
        return f"{begun(sessions(promise.agreed or 0))} for {span(promise.week)}. Agreed."
    when = days_at([(ask.day, ask.at) for ask in asks])
    return f"Agreed: {sessions(promise.agreed or 0)}, {when}, {span(promise.week)}. If something comes up, just write it."


def pick_days(number: int, chosen: Sequence[int]) -> str:
    if len(chosen) < number:
        so_far = f": {listed(weekday(d) for d in sorted(chosen))} so far" if chosen else ""
        return f"Tap {how_many(number, 'day')}{so_far}."
    return f"{listed(weekday(d) for d in sorted(chosen))}. Good?"


def which_hour() -> str:
    return "At what time? Write it, like <i>7:00</i> or <i>half past six in the evening</i>, or tap one."


def which_number() -> str:
    return "How many sessions would you rather promise? Less holds at once; for more I ask your coach."


def length(days: Sequence[dt.date], minutes: int) -> str:
    takes = "takes" if len(days) == 1 else "take"
    return (
        f"{days_listed(days)} {takes} {minutes} minutes{' each' if len(days) > 1 else ''}. Your coach knows."
    )


def no_length(minutes: int, planned: int) -> str:
    return (
        f"A session takes {SHORTEST} to {LONGEST} minutes, so I leave out the {minutes}: it stays at {planned}. "
        "Write another length with the days, like <i>Mon Thu, 30 min each</i>."
    )


def more_asked(number: int) -> str:
    return f"I have told your coach that you would like {number}. Until they say yes, what you do beyond the promise counts as extra."


def stays_at(coach: str, number: int, week: IsoWeek) -> str:
    return f"{safe(coach)} would rather stay at {sessions(number)} for {span(week)}. What you do beyond it is a welcome extra."


def lowered(promise: Promise, left: Sequence[Ask], gone: Ask | None = None) -> str:
    """`gone`: the session that went, where another one could go in its place."""
    still = "; still to come: " if len(left) < (promise.agreed or 0) else ": "  # the others are done
    days = f"{still}{days_listed([a.day for a in left])}" if left else ""
    line = f"{begun(sessions(promise.agreed or 0))} this week now{days}. Your coach knows. Better a promise that fits."
    return line if gone is None else f"{line}\n{long_weekday(gone.day)} goes. Or should another one go?"


def is_so_already(promise: Promise) -> str:
    return f"It is {sessions(promise.agreed or 0)} already: nothing changes."


def cannot_go_lower(promise: Promise) -> str:
    return f"It stays at {promise.agreed}: so many have ended already this week, and the number does not go below that."


def keeps_its_number(promise: Promise) -> str:
    return (
        f"This week has had a miss, so its number stays at {promise.agreed}; what you do still counts. "
        "We will look at the number for next week."
    )


# --- silence, pauses, coming back -------------------------------------------------------------------------------------


def weekly_ask(minutes: int, week: IsoWeek) -> str:
    """The one question of a silent week, in other words than the week before."""
    ways = (
        f"Still here, no backlog. {minutes} minutes this week would count. Today, perhaps?",
        f"Nothing is owed. If {minutes} minutes fit today, they make the week.",
        f"One thing only this week: {minutes} minutes, in whatever room there is. Today?",
    )
    return ways[week.monday.toordinal() // 7 % len(ways)]


def welcome_back() -> str:
    return "Good to hear from you. Nothing is owed: we start small, from today."


def meanwhile() -> str:
    return "Good. On which days? Like <i>Tuesday and Friday</i>."


def paused(until: dt.date) -> str:
    return f"Paused up to and including {date(until)}: I will not ask for anything. Write <i>back</i> whenever you like."


def resumed() -> str:
    return "You are back on. Your coach knows, and the next week will start small."


def resumed_but_flagged() -> str:
    return "You are back on, and your coach knows. Training waits until your coach has cleared it with you."


def on_already() -> str:
    return "You are on already: nothing is paused. /week shows where things stand."


def still_ahead(asks: Sequence[Ask]) -> str:
    """The rest of a week that was never told, because a red flag stood before it."""
    return f"Ahead of you this week: {days_at([(ask.day, ask.at) for ask in asks])}. /plan changes that."


def stopped() -> str:
    return "I have stopped: nothing more will come from me. If you want to go on one day, write <i>back</i>. Your data can be removed with /erase."
