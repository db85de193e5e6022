"""What a client hears of a day: the prompt, what was answered, a session that moves."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import (
    begun,
    date,
    hour,
    hours_of_sleep,
    listed,
    long_weekday,
    near_day,
    safe,
    span,
)
from core.calendar.weeks import IsoWeek
from core.how_many import how_many
from core.programme.words import ROOM_WORDS
from core.terms import Outcome, Room
from core.week.model import Ask
from core.wellbeing.jet_lag import Arrival, Direction
from core.wellbeing.load import EFFORT_WORDS

LONG_UNWELL = 7  # days

# --- before a session -------------------------------------------------------------------------------------------------


def prompt(  # noqa: PLR0913 - what a prompt may say, all but three by name
    ask: Ask,
    today: dt.date,
    room: Room,
    *,
    sleep: bool,
    lighter: bool,
    knows_how: bool = False,
    also: Ask | None = None,
    arrival: Arrival | None = None,
    begun_already: bool = False,
) -> str:
    """The short prompt before a session: what, how long, where; on arrival from far a line more.

    `knows_how`: has told enough nights to need no example; `begun_already`: its hour is over, since quiet hours stood before it.
    """
    when = hour(ask.at) if ask.day == today else f"{near_day(ask.day, today)} {hour(ask.at)}"
    question = "Done already, or still to come?" if begun_already else "Still good?"
    lines = [f"<b>{begun(when)}</b>: {_what(ask, also)}, {ROOM_WORDS[room]}. {question}"]
    if lighter:
        lines.append("Two short nights: I have made it lighter, not longer.")
    if arrival is not None:
        lines.append(arrived(arrival))
    if sleep:
        lines.append(
            f"And how did you sleep?{'' if knows_how else ' Just write the hours, like <i>6.5</i>.'}"
        )
    return "\n".join(lines)


def _what(ask: Ask, also: Ask | None) -> str:
    if also is None:
        return f"{ask.minutes} minutes"
    if also.at == ask.at:
        return f"two sessions, {ask.minutes} and {also.minutes} minutes"
    return f"{ask.minutes} minutes, and {also.minutes} more at {hour(also.at)}"


def arrived(arrival: Arrival) -> str:
    """One line under the first prompt after a flight across three zones or more. A rule of thumb, no more."""
    side = "ahead of" if arrival.lag.direction is Direction.EAST else "behind"
    place = safe(arrival.place) or "this place"
    gap = f"The clocks in {place} stand {arrival.lag.hours:g} hours {side} those where you came from."
    if arrival.lag.is_mostly_tiredness:
        return f"{gap} Expect to be a little tired from the journey; an easy session is fine."
    if arrival.is_short_stay:
        return f"{gap} For so short a stay many sleep by the hours of home; keep it easy."
    return (
        f"{gap} Adjusting takes about {arrival.lag.days} days as a rule of thumb: sleep by the clock there, keep the first sessions easy, "
        "and ask a doctor about anything beyond tiredness."
    )


def stands(ask: Ask, today: dt.date) -> str:
    """To 'yes', where it was asked whether the session is still good."""
    return f"Good: {near_day(ask.day, today)} at {hour(ask.at)}. Tell me when it is done."


def better(ask: Ask, today: dt.date, *, again: bool = False, unwell_for: int = 0) -> str:
    """`again`: it was asked before, in other words; `unwell_for`: days."""
    when = f"{near_day(ask.day, today)} at {hour(ask.at)}"
    if again:
        lasting = (
            " It has lasted a while now: please see a doctor if you have not."
            if unwell_for >= LONG_UNWELL
            else ""
        )
        return (
            f"Better by now? Then {when} stands, without fever, and if no doctor has said otherwise.{lasting}"
        )
    return f"You were unwell. Feeling better? {begun(when)} stands only if you are, without fever, and if no doctor has said otherwise."


def follow_up(ask: Ask, today: dt.date) -> str:
    return (
        f"How did {near_day(ask.day, today)}'s session go? A short one counts."
        if ask.day >= today - dt.timedelta(days=1)
        else f"How did the session on {date(ask.day)} go? A short one counts."
    )


def sleep_question(*, knows_how: bool = False) -> str:
    return f"How many hours did you sleep?{'' if knows_how else ' Just write the number, like <i>7</i> or <i>6.5</i>.'}"


# --- answers ----------------------------------------------------------------------------------------------------------


def written(ask: Ask, outcome: Outcome, today: dt.date) -> str:
    day = (
        "this week"
        if ask.weekly and today in ask.week and outcome is Outcome.MISSED
        else near_day(ask.day, today)
    )
    words = {
        Outcome.DONE: f"{begun(day)}: done. Noted.",
        Outcome.SHORT: f"{begun(day)}: a short one, done. It counts.",
        Outcome.MISSED: f"{begun(day)}: not this time. Thanks for saying so.",
        Outcome.EXCUSED: f"{begun(day)} is excused: it counts neither for nor against you.",
    }
    return words[outcome]


def corrected(ask: Ask, outcome: Outcome, today: dt.date, was: Outcome | None = None) -> str:
    day = begun(near_day(ask.day, today))
    if was in {Outcome.MISSED, Outcome.UNANSWERED}:
        if outcome is Outcome.DONE:
            return f"{day}: done after all. Noted."
        if outcome is Outcome.SHORT:
            return f"{day}: a short one after all. It counts."
    return "Corrected. " + written(ask, outcome, today).removesuffix(" Noted.")


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
    free = (
        f", so {near_day(was, today) if (was - today).days == 1 else long_weekday(was)} is free"
        if was > today
        else ""
    )
    return f"{begun(near_day(ask.day, today))}: {how}. It takes the place of {long_weekday(was)}'s session{free}."


def extra_noted(ask: Ask, today: dt.date, *, promised: bool) -> str:
    beyond = ", beyond the promise" if promised else ""
    return f"{begun(near_day(ask.day, today))}: an extra{beyond}. Noted, and welcome."


def no_extra(ask: Ask, today: dt.date) -> str:
    return f"{begun(near_day(ask.day, today))}: no extra after all. Nothing is missing."


def week_so_far(
    week: IsoWeek,
    done: int,
    promised: int,
    left: Sequence[Ask],
    extras: int,
    today: dt.date,
    *,
    excused: int = 0,
) -> str:
    line = f"{'This' if today in week else 'That'} week: {done} of {promised}"
    line += f", {excused} excused" if excused else ""
    line += f", and {how_many(extras, 'extra')}" if extras else ""
    if left:
        line += f". Next: {near_day(left[0].day, today)} {hour(left[0].at)}"
    elif excused and today in week:
        line += ". Nothing more is asked"
    return f"{line}."


def kept(done: int, promised: int) -> str:
    return f"That is the week kept: {done} of {promised}. Anything more is an extra."


def extra_offer(minutes: int, days: int, week: IsoWeek) -> str:
    """Offered in most weeks, so not in the same words as the week before."""
    left, are, them = ("one day", "is", "it") if days == 1 else (f"{days} days", "are", "them")
    ways = (
        f"And {left} to spare. {minutes} minutes are here if you want them; if you do not, all is done.",
        f"{begun(left)} {are} left this week. If you feel like more, {minutes} minutes are ready; if not, nothing is missing.",
        f"There {are} {left} left, and nothing is asked of {them}. {minutes} minutes more, if you feel like it?",
    )
    return ways[week.monday.toordinal() // 7 % len(ways)]


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


def changed_too_late(day: dt.date, coach: str) -> str:
    return (
        f"You changed a message of {date(day)}. I have shown it to {safe(coach)} and left the count alone; "
        f"to correct that day, write it anew: <i>{long_weekday(day)} done</i>, for example."
    )


def closed_week() -> str:
    return (
        "That week is closed: its count could be changed until the Wednesday after it. "
        "If it matters, write it to your coach: start with <i>coach</i>."
    )


def and_the_other(ask: Ask, today: dt.date) -> str:
    return f"That is one of two. And {near_day(ask.day, today)}'s other one, at {hour(ask.at)}?"


def nothing_asked() -> str:
    return "I had nothing planned for then, so nothing is missed and the count stays as it is."


def undone() -> str:
    return "Taken back: it stands as it stood before."


def nothing_to_undo() -> str:
    return "There is nothing to take back any more. You can still correct a session: write, for example, <i>Tuesday done</i>."


def slept(hours: float | None, quality: str | None, *, of: dt.date | None = None) -> str:
    """`of`: the morning after that night, where it is not today's."""
    night = f", the night to {date(of)}" if of is not None else ""
    if hours is None:
        return f"Slept {safe(quality or '')}{night}: noted."
    return f"Slept {hours_of_sleep(hours)}{', ' + quality if quality else ''}{night}: noted."


def effort_question() -> str:
    return "How hard was it, from 0 (rest) to 10 (the hardest you can do)?"


def effort_noted(effort: float | None, minutes: int | None) -> str:
    parts = []
    if effort is not None:
        words = EFFORT_WORDS.get(round(effort)) if effort == round(effort) else None
        parts.append(f"effort {effort:g} of 10{f', {words}' if words else ''}")
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
    return (
        "No day of this week is left to move it to. Ten minutes now would count; letting it go is fine too."
    )


def not_that_day(day: str, week: IsoWeek) -> str:
    return f"A session stays in its week ({span(week)}), and {safe(day)} is not a day I can move it to. Which of these?"


def nothing_to_move() -> str:
    return "There is no open session to move this week."


def later_ok(ask: Ask, today: dt.date) -> str:
    closes = near_day(ask.day + dt.timedelta(days=1), today)
    return f"All right, later. Tell me when it is done; {near_day(ask.day, today)}'s stays open until noon {'on ' if ' ' in closes else ''}{closes}."
