"""The digest as a coach reads it on Sunday at six: messages in Telegram's HTML, each short enough to be sent."""

import datetime as dt
import html
import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from core.calendar.trips import Trip
from core.digest.audit import audit_line, in_ten
from core.digest.facts import ClientWeek, GroupWeek, NextWeek
from core.digest.order import Need, in_order, is_well, needs
from core.wellbeing.load import LoadWeek
from core.wellbeing.sleep import SleepWeek

LONGEST = 4096  # UTF-16 units of one message (Telegram Bot API, sendMessage)
_NAME = 40
_WORDS = 240
_MOST_SAID = 4
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

_HEADLINE = {
    Need.RED_FLAG: "red flag",
    Need.SILENT: "silent",
    Need.TALK_FIRST: "talk first",
    Need.DRIFTING: "drifting",
    Need.PAIN: "pain",
    Need.UNWELL: "unwell",
    Need.UNREACHABLE: "out of touch",
    Need.NOT_KEPT: "not kept",
    Need.FEWER: "fewer next week",
    Need.WORDS: "has something to say",
    Need.SLEEP: "short of sleep",
}


def digest_messages(group: GroupWeek) -> tuple[str, ...]:
    """The whole digest, in as few messages as hold it; each stands on its own, no tag is left open."""
    return tuple(_packed(_blocks(group)))


@dataclass(frozen=True, slots=True)
class _Block:
    """What is not torn apart unless no message could hold it. A tight one stands directly under the one before."""

    text: str
    tight: bool = False


def _blocks(group: GroupWeek) -> Iterator[_Block]:
    ordered = in_order(group.clients)
    needing, well = [c for c in ordered if not is_well(c)], [c for c in ordered if is_well(c)]
    yield _Block(_opening(group))
    yield from _wins(ordered)
    if needing:
        yield _Block(f"<b>{len(needing)} need you</b>" if len(needing) > 1 else "<b>One needs you</b>")
        yield from (_Block(client_block(client)) for client in needing)
    if well:
        yield _Block(_all_well(well, alone=not needing))
        yield from (_Block(_well_line(client), tight=True) for client in well)
    yield from _footnotes(group)


def _opening(group: GroupWeek) -> str:
    head = f"<b>Week {group.week.week}, {days(group.week.monday, group.week.sunday)}</b>"
    if not group.clients:
        return f"{head}\nNobody yet. Invite a client, and next Sunday they are here."
    if not group.asked:
        return f"{head}\nNo session was asked for this week."
    kept = promises_kept(group)
    told = f"{kept}, {sessions_done(group)}." if kept else f"{_sentence(sessions_done(group))}"
    still = f" {_count(group.still_open, 'session')} still open." if group.still_open else ""
    return f"{head}\n{told}{still}"


def promises_kept(group: GroupWeek) -> str | None:
    """'15 of 17 promises kept', or None while none has ended."""
    return f"{group.kept} of {_count(group.counted, 'promise')} kept" if group.counted else None


def sessions_done(group: GroupWeek) -> str:
    """'49 of 53 sessions done, 5 extras on top'."""
    on_top = f", {_count(group.extras, 'extra')} on top" if group.extras else ""
    return f"{group.done} of {_count(group.asked, 'session')} done{on_top}"


def _wins(clients: Sequence[ClientWeek]) -> Iterator[_Block]:
    won = [f"{_name(client)}: {_cut('; '.join(client.wins), _WORDS)}." for client in clients if client.wins]
    if won:
        yield _Block("\n".join(["<b>Wins</b>", *won]))


def _all_well(well: Sequence[ClientWeek], *, alone: bool) -> str:
    if alone:
        return "<b>All is well.</b>"
    return f"<b>All is well with {'the other one' if len(well) == 1 else f'the other {len(well)}'}</b>"


def _footnotes(group: GroupWeek) -> Iterator[_Block]:
    lines = [line for audit in group.audit if (line := audit_line(audit))]
    if lines:
        yield _Block("\n".join(f"<i>{line}</i>" for line in lines))


def client_block(client: ClientWeek) -> str:
    """All that is known of one client's week, a line a fact."""
    why = headline(client)
    return "\n".join([f"<b>{_name(client)}</b>{': ' if why else ''}{why}", *_lines(client)])


def headline(client: ClientWeek) -> str:
    """The two most pressing reasons to think of a client, 'pain, not kept'; empty where all is well."""
    return ", ".join(_HEADLINE[need] for need in needs(client)[:2])


def count_in_brief(client: ClientWeek) -> str:
    """'2 of 3', '3 of 3, 1 extra': the count alone, beside a picture of the rest."""
    return _counted(client) + (f", {_count(client.extras, 'extra')}" if client.extras else "")


def count_in_short(client: ClientWeek) -> str:
    """'3 of 3', '3 of 3 +1': as brief as a narrow column needs."""
    return _counted(client) + (f" +{client.extras}" if client.extras else "")


def _counted(client: ClientWeek) -> str:
    if client.promised is None:
        return "new"
    return f"{client.done} of {client.promised}" if client.promised else "rest"


def notes_in_brief(client: ClientWeek) -> tuple[str, ...]:
    """What else to know of a week, each in a few words, what presses most first."""
    notes = [f"{pain.place}{_often(pain.times)}" for pain in client.pain]
    if client.sleep and client.sleep.mean is not None:
        notes.append(f"sleep {client.sleep.mean:.1f} of {client.sleep.need:g} h")
    notes += [f"{trip.place} {_trip_days(trip)}" for trip in client.trips]
    return tuple(notes)


def _lines(client: ClientWeek) -> Iterator[str]:
    yield from (f"Said: {_quoted(words)}" for words in client.red_flags)
    if client.red_flags:
        yield "Until you clear it, with a note, no session is asked for or sent."
    yield _sentence(_count_of_week(client))
    yield from _state(client)
    if client.pain:
        yield "Pain: " + ", ".join(_cut(pain.place, _NAME) + _often(pain.times) for pain in client.pain) + "."
    if client.sleep and client.sleep.nights:
        yield _sleep(client.sleep)
    if client.load and client.load.rated:
        yield _load(client.load)
    yield from (f"Away: {_trip(trip)}." for trip in client.trips)
    yield from (f"Said: {_quoted(words)}" for words in client.said[:_MOST_SAID])
    if len(client.said) > _MOST_SAID:
        yield f"And {len(client.said) - _MOST_SAID} more in the chat."
    if client.next_week:
        yield from _next_week(client.next_week)


def _count_of_week(client: ClientWeek) -> str:
    """'2 of 3 done, 1 of them short, 1 missed, 1 extra': what became of the promise."""
    if client.promised is None:
        return "not begun yet"
    if client.promised == 0:
        return "a rest week" + (f", and {_count(client.extras, 'extra')}" if client.extras else "")
    parts = [f"{client.done} of {client.promised} done"]
    ends = (
        (client.short, "of them short"),
        (client.missed, "missed"),
        (client.unanswered, "unanswered"),
        (client.excused, "excused"),
        (client.still_open, "still open"),
    )
    parts += [f"{number} {how}" for number, how in ends if number]
    parts += ["the promise was lowered in the week"] if client.lowered else []
    parts += [_count(client.extras, "extra")] if client.extras else []
    return ", ".join(parts)


def _state(client: ClientWeek) -> Iterator[str]:
    if client.silent_since:
        yield f"Silent since {_day(client.silent_since)}."
    elif client.engaged is not None and (word := engagement(client.engaged)):
        yield f"{word}."
    if client.paused_until:
        yield f"Pausing until {_day(client.paused_until)}."
    if client.unwell:
        yield "Unwell."
    if client.unreachable:
        yield "Messages do not get through: the chat is blocked or gone. Please reach them another way."


def engagement(engaged: float) -> str | None:
    """How likely it is that a client is still with us, in words; None where it goes without saying."""
    if engaged >= 0.8:
        return None
    if engaged >= 0.5:
        return "Probably still with you, but less surely than before"
    return "May be drifting away" if engaged >= 0.25 else "Has most likely drifted away"


def _sleep(sleep: SleepWeek) -> str:
    short = f", {sleep.short} under seven" if sleep.short else ""
    owed = f"; {sleep.debt:.0f} h short in all" if sleep.debt >= 1 else ""
    return f"Sleep {sleep.mean:.1f} h a night against {sleep.need:g} ({_count(sleep.nights, 'night')} told{short}{owed})."


def _load(load: LoadWeek) -> str:
    rated = "" if load.is_whole else f" from {load.rated} of {_count(load.sessions, 'session')}"
    return f"Load {load.total:.0f}{rated}{_change(load)}."


def _change(load: LoadWeek) -> str:
    if load.change is None:
        return ""
    if round(load.change) == 0:
        return ", as last week"
    return f", {abs(load.change):.0f} {'more' if load.change > 0 else 'less'} than last week"


def _trip(trip: Trip) -> str:
    room = f", {trip.room}" if trip.room else ""
    return f"{_cut(trip.place, _NAME)} {_trip_days(trip)}{'' if trip.in_reach else ', out of reach'}{room}"


def _trip_days(trip: Trip) -> str:
    return f"from {trip.first.day} {_month(trip.first)}" if trip.last is None else days(trip.first, trip.last)


def _next_week(coming: NextWeek) -> Iterator[str]:
    yield f"Next week: <b>{_size(coming)}</b>{_beside(coming)}."
    yield "Odds of keeping " + " · ".join(_odds(coming, size) for size in coming.sizes) + "."
    if coming.why:
        yield f"Why: {_cut(coming.why, _WORDS)}."
    if coming.explore:
        yield f"{coming.explore} could be tried, as an experiment."


def _size(coming: NextWeek) -> str:
    if coming.recommended == 0:
        return "a rest week"
    number = f"{coming.recommended} × {coming.minutes} min"
    if coming.if_open_done is None or coming.if_open_done == coming.recommended:
        return number
    return f"{number}, or {coming.if_open_done} if what is open gets done"


def _beside(coming: NextWeek, *, with_odds: bool = False) -> str:
    """What stands beside the number: what it was, and what to know of it."""
    notes = [] if coming.previous in {None, coming.recommended} else [f"{coming.previous} last"]
    notes += ["never tried yet"] if coming.never_tried else []
    notes += ["talk first"] if coming.talk_first else []
    notes += (
        [in_ten(coming.keep[coming.recommended])] if with_odds and coming.recommended in coming.keep else []
    )
    return f" ({', '.join(notes)})" if notes else ""


def _odds(coming: NextWeek, size: int) -> str:
    told = f"{size}: {in_ten(coming.keep[size])} ({coming.expected[size]:.1f} done)"
    return f"<b>{told}</b>" if size == coming.recommended else told


def _well_line(client: ClientWeek) -> str:
    """One line for one client with whom all is well: the count, what comes next, and what else is known."""
    line = f"<b>{_name(client)}</b>: {_count_of_week(client)}"
    if client.next_week:
        line += f" → <b>{_size(client.next_week)}</b>{_beside(client.next_week, with_odds=True)}"
    known = list(_known_of_the_well(client))
    return f"{line}. {_sentence(', '.join(known))}" if known else f"{line}."


def _known_of_the_well(client: ClientWeek) -> Iterator[str]:
    if client.sleep and client.sleep.mean is not None:
        yield f"sleep {client.sleep.mean:.1f} of {client.sleep.need:g} h"
    if client.load and client.load.rated:
        change = "" if client.load.change is None else f" ({client.load.change:+.0f})"
        yield f"load {client.load.total:.0f}{change}"
    yield from (_trip(trip) for trip in client.trips)
    if client.paused_until:
        yield f"pausing until {_day(client.paused_until)}"


def _often(times: int) -> str:
    return {1: "", 2: ", twice"}.get(times, f", {times} times")


def _quoted(words: str) -> str:
    return f"“{_cut(' '.join(words.split()), _WORDS)}”"


def _name(client: ClientWeek) -> str:
    return _cut(" ".join(client.name.split()), _NAME) or "(no name)"


def _cut(text: str, most: int) -> str:
    """Fit to stand in a message: shortened and escaped."""
    return html.escape(_shortened(text, most), quote=False)


def _shortened(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + "."


def _count(number: int, one: str) -> str:
    return f"{number} {one}{'' if number == 1 else 's'}"


def _month(day: dt.date) -> str:
    return _MONTHS[day.month - 1]


def _day(day: dt.date) -> str:
    return f"{day.day} {_month(day)}"


def days(first: dt.date, last: dt.date) -> str:
    """'3 to 7 Dec', '28 Nov to 2 Dec', '3 Dec'."""
    if first == last:
        return _day(first)
    return f"{first.day if first.month == last.month and first.year == last.year else _day(first)} to {_day(last)}"


def units(text: str) -> int:
    """The length of a text as Telegram counts it: UTF-16 units."""
    return len(text.encode("utf-16-le")) // 2


def _packed(blocks: Iterable[_Block]) -> Iterator[str]:
    """Blocks put together, with an empty line before each that is not tight."""
    held = ""
    for block in itertools.chain.from_iterable(_pieces(block) for block in blocks):
        joined = f"{held}{_gap(block)}{block.text}" if held else block.text
        if held and units(joined) > LONGEST:
            yield held
            joined = block.text
        held = joined
    if held:
        yield held


def _gap(block: _Block) -> str:
    return "\n" if block.tight else "\n\n"


def _pieces(block: _Block) -> Iterator[_Block]:
    """A block that no message could hold, cut between its lines; a line is always shorter than a message."""
    lines = block.text.split("\n")
    if units(block.text) <= LONGEST or len(lines) == 1:
        yield block
        return
    middle = len(lines) // 2
    yield from _pieces(_Block("\n".join(lines[:middle]), block.tight))
    yield from _pieces(_Block("\n".join(lines[middle:]), tight=True))
