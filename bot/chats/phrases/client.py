"""What a client hears. Short, kind, never a reproach; numbers rather than praise."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import (
    begun,
    count,
    date,
    dates,
    days_listed,
    hour,
    hours_of_sleep,
    listed,
    long_weekday,
    near_day,
    safe,
    sessions,
    span,
    weekday,
)
from core.calendar.weeks import IsoWeek
from core.people.records import PlannedTrip
from core.programme.session import LONGEST, SHORTEST
from core.programme.words import ROOM_WORDS
from core.terms import Outcome, Room
from core.week.model import Ask, Promise
from core.wellbeing.jet_lag import Arrival, Direction

# --- before a session -------------------------------------------------------------------------------------------------


def prompt(
    ask: Ask,
    today: dt.date,
    room: Room,
    *,
    sleep: bool,
    lighter: bool,
    also: Ask | None = None,
    arrival: Arrival | None = None,
) -> str:
    """The short prompt before a session: what, how long, where; on arrival from far a line more."""
    when = hour(ask.at) if ask.day == today else f"{near_day(ask.day, today)} {hour(ask.at)}"
    what = (
        f"{ask.minutes} minutes"
        if also is None
        else f"two sessions, {ask.minutes} and {also.minutes} minutes"
    )
    lines = [f"<b>{begun(when)}</b>: {what}, {ROOM_WORDS[room]}. Still good?"]
    if lighter:
        lines.append("Two short nights: I have made it lighter, not longer.")
    if arrival is not None:
        lines.append(arrived(arrival))
    if sleep:
        lines.append("And how did you sleep? Just write the hours, like <i>6.5</i>.")
    return "\n".join(lines)


def arrived(arrival: Arrival) -> str:
    """One line under the first prompt after a flight across three zones or more. A rule of thumb, no more."""
    side = "ahead of" if arrival.lag.direction is Direction.EAST else "behind"
    gap = f"{safe(arrival.place) or 'This place'} is {arrival.lag.hours:g} hours {side} where you came from."
    if arrival.lag.is_mostly_tiredness:
        return f"{gap} Expect to be a little tired from the journey; an easy session is fine."
    if arrival.is_short_stay:
        return f"{gap} For so short a stay many sleep by the hours of home; keep it easy."
    return (
        f"{gap} Adjusting takes about {arrival.lag.days} days as a rule of thumb: sleep by the clock there, keep the first sessions easy, "
        "and ask a doctor about anything beyond tiredness."
    )


def better(ask: Ask, today: dt.date) -> str:
    return (
        f"You were unwell. Feeling better? {begun(near_day(ask.day, today))} at {hour(ask.at)} stands only if you are; "
        "no fever, and never against a doctor's advice."
    )


def follow_up(ask: Ask, today: dt.date) -> str:
    return (
        f"How did {near_day(ask.day, today)}'s session go? A short one counts."
        if ask.day >= today - dt.timedelta(days=1)
        else f"How did the session on {date(ask.day)} go? A short one counts."
    )


def sleep_question() -> str:
    return "How many hours did you sleep? Just write the number, like <i>7</i> or <i>6.5</i>."


# --- answers ----------------------------------------------------------------------------------------------------------


def written(ask: Ask, outcome: Outcome, today: dt.date) -> str:
    day = near_day(ask.day, today)
    words = {
        Outcome.DONE: f"{begun(day)}: done. Noted.",
        Outcome.SHORT: f"{begun(day)}: a short one, done. It counts.",
        Outcome.MISSED: f"{begun(day)}: not this time. Thanks for saying so.",
        Outcome.EXCUSED: f"{begun(day)} is excused: it counts neither for nor against you.",
    }
    return words[outcome]


def corrected(ask: Ask, outcome: Outcome, today: dt.date) -> str:
    return "Corrected. " + written(ask, outcome, today)


def said_before(ask: Ask, today: dt.date) -> str:
    words = {
        Outcome.DONE: "is down as done",
        Outcome.SHORT: "is down as a short one, done",
        Outcome.MISSED: "is down as not this time",
        Outcome.EXCUSED: "is excused",
    }
    return f"{begun(near_day(ask.day, today))} {words.get(ask.outcome or Outcome.DONE, 'is noted')} already."


def filled(ask: Ask, was: dt.date, today: dt.date) -> str:
    if was == ask.day or ask.weekly:  # of the weekly message of a silent week nobody was told as a session
        return written(ask, ask.outcome or Outcome.DONE, today)
    how = "a short one, done" if ask.outcome is Outcome.SHORT else "done"
    return f"{begun(near_day(ask.day, today))}: {how}. It takes the place of {long_weekday(was)}'s session."


def extra_noted(ask: Ask, today: dt.date) -> str:
    return f"{begun(near_day(ask.day, today))}: an extra, beyond the promise. Noted, and welcome."


def week_so_far(
    week: IsoWeek, done: int, promised: int, left: Sequence[Ask], extras: int, today: dt.date
) -> str:
    line = f"{'This' if today in week else 'That'} week: {done} of {promised}"
    if extras:
        line += f", and {count(extras, 'extra')}"
    if left:
        line += f". Next: {near_day(left[0].day, today)} {hour(left[0].at)}"
    return line + "."


def kept(done: int, promised: int) -> str:
    return f"That is the week kept: {done} of {promised}. Anything more is an extra."


def extra_offer(minutes: int) -> str:
    return f"There are days left. If you feel like more, {minutes} minutes are ready; if not, nothing is missing."


def miss_offers(*, can_move: bool) -> str:
    return "What suits you best?" if can_move else "It is the end of the week, so two choices:"


def let_go() -> str:
    return "Let go. The next one is what counts."


def too_late(ask: Ask) -> str:
    last = ask.week.next().monday + dt.timedelta(days=2)
    return (
        f"The session of {date(ask.day)} could be changed until {date(last)}; the count of that week is closed. "
        "If it matters, write it to your coach: start with <i>coach</i>."
    )


def closed_week() -> str:
    return (
        "That week is closed: its count could be changed until the Wednesday after it. "
        "If it matters, write it to your coach: start with <i>coach</i>."
    )


def and_the_other(ask: Ask, today: dt.date) -> str:
    return f"That is one of two. And {near_day(ask.day, today)}'s other one, at {hour(ask.at)}?"


def nothing_asked() -> str:
    return "I had nothing planned that this could belong to, so I left the count alone."


def undone() -> str:
    return "Taken back: it stands as it stood before."


def nothing_to_undo() -> str:
    return "There is nothing to take back any more. You can still correct a session: write, for example, <i>Tuesday done</i>."


def slept(hours: float | None, quality: str | None) -> str:
    if hours is None:
        return f"Slept {safe(quality or '')}: noted."
    return f"Slept {hours_of_sleep(hours)}{', ' + quality if quality else ''}: noted."


def effort_question() -> str:
    return "How hard was it, from 0 (rest) to 10 (the hardest you can do)?"


def effort_noted(effort: float | None, minutes: int | None) -> str:
    parts = []
    if effort is not None:
        parts.append(f"effort {effort:g} of 10")
    if minutes is not None:
        parts.append(f"{minutes} minutes")
    return f"{begun(listed(parts))}: noted."


# --- moving -----------------------------------------------------------------------------------------------------------


def move_where(ask: Ask) -> str:
    return f"Which day instead of {long_weekday(ask.day)}?"


def moved(ask: Ask, was: dt.date, today: dt.date) -> str:
    return f"Moved from {long_weekday(was)} to {near_day(ask.day, today)}, {hour(ask.at)}. I will ask you then, and only then."


def retimed(ask: Ask, today: dt.date) -> str:
    return f"{begun(near_day(ask.day, today))} at {hour(ask.at)} then."


def day_taken(ask: Ask, other: Ask, today: dt.date) -> str:
    return f"{begun(near_day(other.day, today))} has a session already. Both on that day, or swap it with {long_weekday(ask.day)}?"


def swapped(one: Ask, other: Ask) -> str:
    return f"Swapped: one on {long_weekday(one.day)}, the other on {long_weekday(other.day)}."


def no_day_left() -> str:
    return "No day of this week is left to move it to. Ten minutes now would count, and so is letting it go all right."


def not_that_day(day: str, week: IsoWeek) -> str:
    return f"A session stays in its week ({span(week)}), and {safe(day)} is not a day I can move it to. Which of these?"


def nothing_to_move() -> str:
    return "There is no open session to move this week."


def later_ok(ask: Ask, today: dt.date) -> str:
    closes = near_day(ask.day + dt.timedelta(days=1), today)
    return f"All right, later. Tell me when it is done; {near_day(ask.day, today)}'s stays open until noon {'on ' if ' ' in closes else ''}{closes}."


# --- the promise ------------------------------------------------------------------------------------------------------


def week_offer(promise: Promise, days: Sequence[dt.date], at: dt.time) -> str:
    """The weekly message: the number, the days, and how to change both."""
    number = promise.settled or 0
    if number == 0:
        return (
            f"<b>{span(promise.week)}</b>: a rest week. I will not ask for anything. See you the week after."
        )
    lines = [f"<b>{span(promise.week)}</b>: {sessions(number)} of {promise.minutes} minutes."]
    if days:
        lines.append(f"{days_listed(days)} at {hour(at)}, wherever you are then. Does that fit?")
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
    days = days_listed([a.day for a in asks])
    return f"Agreed: {sessions(promise.agreed or 0)}, {days} at {hour(asks[0].at)}. If something comes up, just write it."


def pick_days(number: int, chosen: Sequence[int]) -> str:
    if len(chosen) < number:
        return f"Tap {count(number, 'day')}. {len(chosen)} chosen so far."
    return f"{listed(weekday(d) for d in sorted(chosen))}. Good?"


def which_hour() -> str:
    return "At what time? Write it, like <i>7:00</i> or <i>half past six in the evening</i>, or tap one."


def how_many() -> str:
    return "How many sessions would you rather promise? Less holds at once; for more I ask your coach."


def more_asked(number: int) -> str:
    return f"I have told your coach that you would like {number}. Until then what you do beyond the promise counts as extras."


def lowered(promise: Promise, left: Sequence[Ask], gone: Ask | None = None) -> str:
    """`gone`: the session that went, where another one could go in its place."""
    days = f": {days_listed([a.day for a in left])}" if left else ""
    line = f"{begun(sessions(promise.agreed or 0))} this week now{days}. Your coach knows. Better a promise that fits."
    return line if gone is None else f"{line}\n{long_weekday(gone.day)} goes. Or rather another one?"


def cannot_go_lower(promise: Promise) -> str:
    return f"It stays at {promise.agreed}: so many have ended already this week, and the number does not go below that."


def keeps_its_number(promise: Promise) -> str:
    return (
        f"This week has had a miss, so its number stays at {promise.agreed}; what you do still counts. "
        "We will look at the number for next week."
    )


# --- silence, pauses, coming back -------------------------------------------------------------------------------------


def weekly_ask(minutes: int) -> str:
    return f"Still here, no backlog. {minutes} minutes this week would count. Today, perhaps?"


def welcome_back() -> str:
    return "Good to hear from you. Nothing is owed: we start small, from today."


def meanwhile() -> str:
    return "Did you train meanwhile? If so, tell me which days, like <i>Tuesday and Friday</i>."


def paused(until: dt.date) -> str:
    return f"Paused up to and including {date(until)}: I will not ask for anything. Write <i>back</i> whenever you like."


def resumed() -> str:
    return "You are back on. Your coach knows, and the next week will start small."


def stopped() -> str:
    return "I have stopped: nothing more will come from me. If you want to go on one day, write <i>back</i>. Your data can be removed with /erase."


# --- trips ------------------------------------------------------------------------------------------------------------


def trip_kept(trip: PlannedTrip, changed: int) -> str:
    line = f"{safe(trip.place)}, {dates(trip.first, trip.last)}: noted. I ask you by the clock there."
    if trip.room:
        line += f" To train with: {ROOM_WORDS[trip.room]}."
    if not trip.in_reach:
        line = f"{safe(trip.place)}, {dates(trip.first, trip.last)}: out of reach, so I ask nothing and count nothing."
    if changed:
        line += f" {count(changed, 'session')} moved with it; /week shows how."
    return line


def trip_room(trip: PlannedTrip) -> str:
    return f"What is there to train with in {safe(trip.place)}?"


def trip_called_off(trip: PlannedTrip) -> str:
    return f"{safe(trip.place)} is off the plan. You are at home again as far as I am concerned."


def trip_changed(trip: PlannedTrip) -> str:
    return f"{safe(trip.place)} now {dates(trip.first, trip.last)}."


def no_trips() -> str:
    return "No trip is planned. Tell me of one in a line, like <i>in Lisbon 3-7 Dec</i>, or use the button."


def trips(listed_trips: Sequence[PlannedTrip]) -> str:
    lines = ["<b>Trips</b>"]
    for trip in listed_trips:
        room = (
            "out of reach" if not trip.in_reach else ROOM_WORDS[trip.room] if trip.room else "room not said"
        )
        lines.append(f"{safe(trip.place)}: {dates(trip.first, trip.last)}, {room}")
    return "\n".join(lines)


def which_place(name: str) -> str:
    return f"There is more than one {safe(name)}. Which one?"


def trip_where() -> str:
    return "Where are you going? Write the city, or share a location."


def trip_when(place: str) -> str:
    return f"{safe(place)}: from when to when? Write it like <i>3-7 Dec</i> or <i>Tuesday to Sunday</i>."


def unknown_place(name: str) -> str:
    return f"I do not know a place called {safe(name)}. Write the nearest larger city, or share a location."


def in_the_ocean() -> str:
    return "There is no town near that point. Write the nearest port or city instead."


# --- sessions ---------------------------------------------------------------------------------------------------------


def swap_which() -> str:
    return "Which one can you not do there?"


def swap_for(name: str, *, any_left: bool) -> str:
    if not any_left:
        return f"I have nothing else of that kind for where you are. Leave {safe(name)} out: the rest counts."
    return f"Instead of {safe(name)}:"


def leave_out(names: Sequence[str], places: Sequence[str], *, can_swap: bool) -> str:
    """Before a session that asks something of what hurts."""
    instead = "or take something else for it below" if can_swap else "or ask your coach what to do instead"
    return (
        f"You told me of the {listed(places)}: leave out {listed(safe(name) for name in names)}, {instead}."
    )


def other_minutes(said: str, minutes: int) -> str:
    """Before a session of another length than was asked for."""
    asked = safe(said, 40)
    return (
        f"A session takes {SHORTEST} to {LONGEST} minutes, and I read '{asked}': here is one of {minutes}. "
        "Another length: /now 20, say."
    )


def media_first(name: str) -> str:
    return f"{safe(name)}, from your coach:"


def how_long() -> str:
    return "And how long did it take, in minutes?"


# --- lifts ------------------------------------------------------------------------------------------------------------


def lift_question(name: str, *, first: bool) -> str:
    start = "If you kept count: " if first else ""
    return f"{start}{safe(name)}? Write it, like <i>3x8 at 20</i> or <i>20 kg 8 8 7</i>, or tap."


def lift_noted(name: str, words: str) -> str:
    return f"{safe(name)}: {safe(words)}. Noted."


def lifts_noted(words: str) -> str:
    return f"All of it {safe(words)}: noted. The next session follows from that."


def lifts_end() -> str:
    return "Thanks. The next session follows from that."


def which_lift(names: Sequence[str]) -> str:
    return f"Which one was that? Begin with its name: {safe(listed(names))}."


def session_end() -> str:
    return "That is all of it. Stop if anything hurts, and tell me how it went."


def no_sessions_while_flagged() -> str:
    return (
        "Not now: you told me of something that a doctor should look at first. Your coach has been told, and sessions go on "
        "once your coach has cleared it with you. If it gets worse, call the emergency number."
    )


# --- everything else --------------------------------------------------------------------------------------------------


def thanks() -> str:
    return "Any time."


def passed_on(coach: str) -> str:
    return f"Passed on to {safe(coach)}."


def not_understood() -> str:
    return (
        "I am not sure I read that right, so I have written nothing down and shown it to your coach. "
        "Was it about a session? Then tap one, or say it another way."
    )


def cannot_hear() -> str:
    return "I cannot look at or listen to that, so I have passed it on to your coach."


def sticker() -> str:
    return "I only read words and buttons. Was that about today's session?"


def edited(kind: str) -> str:
    return f"You changed your message; I have read it again. {kind}".strip()


def stale_button() -> str:
    return "That button has had its day. /week shows where things stand."


def unknown_command(command: str) -> str:
    return f"I do not know /{safe(command, 40)}. /help lists what I do know."


def calendar(address: str) -> str:
    return (
        f"Add this address to your phone's calendar as a subscription:\n{address}\nIt shows your sessions and follows when they move. "
        "Whoever has it can read them, so keep it to yourself; /calendar again gives a new one and ends this one."
    )


def no_calendar() -> str:
    return "This installation cannot be reached by your phone's calendar. /week shows your sessions here."


HELP = """<b>What you can write</b>
<i>done</i>, <i>did half</i>, <i>can't today</i>, <i>move it to Thursday</i>, <i>slept 6.5</i>, <i>in Lisbon 3-7 Dec</i>, <i>knee hurts</i>, <i>coach, ...</i>

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


def week(promise: Promise | None, asks: Sequence[Ask], today: dt.date, zone_hint: str) -> str:
    """Where the week stands, a line an ask."""
    if promise is None or promise.number is None:
        return "This week has no promise. /now makes a session whenever you like."
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
        state = words[ask.outcome] if ask.outcome else f"{hour(ask.at)}, {ask.minutes} minutes"
        lines.append(f"{date(ask.day)}: {state}{' (today)' if ask.day == today else ''}")
    if zone_hint:
        lines.append(zone_hint)
    return "\n".join(lines)
