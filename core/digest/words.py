"""The digest as a coach reads it on Sunday at six: messages in Telegram's HTML, each short enough to be sent."""

from collections.abc import Iterator, Sequence

from core.calendar.trips import Trip
from core.digest import coming
from core.digest.audit import audit_line
from core.digest.facts import ClientWeek, GroupWeek, Unread
from core.digest.order import Need, in_order, is_well, needs
from core.digest.packing import Block, packed
from core.digest.phrases import (
    LONGEST_NAME,
    LONGEST_QUOTE,
    cut,
    days,
    month,
    often,
    quoted,
    sentence,
    short_date,
    signed,
)
from core.how_many import how_many
from core.programme.words import ROOM_WORDS
from core.wellbeing.load import LoadWeek
from core.wellbeing.sleep import SleepWeek

_MOST_SAID = 4
_UNEVEN = 1.0  # hours by which nights usually differ from their mean; less goes without saying (common sense, no source)

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


def digest_messages(group: GroupWeek, *, opening: str | None = None) -> tuple[str, ...]:
    """The whole digest, in as few messages as hold it; each stands on its own, no tag is left open.

    ``opening`` (HTML) stands in for the week's own, for a list of some clients ahead of the others.
    """
    return tuple(packed(_blocks(group, opening or _opening(group))))


def _blocks(group: GroupWeek, opening: str) -> Iterator[Block]:
    ordered = in_order(group.clients)
    needing, well = [c for c in ordered if not is_well(c)], [c for c in ordered if is_well(c)]
    yield Block(opening)
    yield from _unread(group.unread)
    yield from _wins(ordered)
    if needing:
        heading = f"<b>{len(needing)} need you</b>" if len(needing) > 1 else "<b>One needs you</b>"
        yield from _under(heading, [Block(client_block(client)) for client in needing])
    if well:
        yield from _under(
            _all_well(well, alone=not needing), [Block(_well_line(client), tight=True) for client in well]
        )
    yield from _footnotes(group)


def _unread(unread: Sequence[Unread]) -> Iterator[Block]:
    """Before all else: of these nothing more is said, and nothing is recommended."""
    if unread:
        named = [
            f"<b>{_shown(each.name)}</b> cannot be read: {cut(each.why, LONGEST_QUOTE)}." for each in unread
        ]
        whom = "they are left out" if len(unread) > 1 else "this one is left out"
        what = (
            f"Until that is mended {whom}; please ask whoever runs this bot to look, with 'keptword doctor'."
        )
        yield Block("\n".join([*named, what]))


def _under(heading: str, blocks: Sequence[Block]) -> Iterator[Block]:
    """A heading, which never parts from the first of what follows."""
    yield Block(f"{heading}{blocks[0].gap}{blocks[0].text}")
    yield from blocks[1:]


def _opening(group: GroupWeek) -> str:
    head = f"<b>Week {group.week.week}, {days(group.week.monday, group.week.sunday)}</b>"
    if not group.clients and group.unread:
        return head
    if not group.clients:
        return f"{head}\nNobody yet. Invite a client, and next Sunday they are here."
    if not group.asked:
        return f"{head}\nNo session was asked for this week."
    kept = promises_kept(group)
    told = f"{kept}, {sessions_done(group)}." if kept else f"{sentence(sessions_done(group))}"
    still = f" {how_many(group.still_open, 'session')} still open." if group.still_open else ""
    return f"{head}\n{told}{still}"


def promises_kept(group: GroupWeek) -> str | None:
    """'15 of 17 promises kept', or None while none has ended."""
    return f"{group.kept} of {how_many(group.counted, 'promise')} kept" if group.counted else None


def sessions_done(group: GroupWeek) -> str:
    """'49 of 53 sessions done, 5 extras on top'."""
    on_top = f", {how_many(group.extras, 'extra')} on top" if group.extras else ""
    return f"{group.done} of {how_many(group.asked, 'session')} done{on_top}"


def _wins(clients: Sequence[ClientWeek]) -> Iterator[Block]:
    won = [
        f"{_name(client)}: {cut('; '.join(client.wins), LONGEST_QUOTE)}." for client in clients if client.wins
    ]
    if won:
        yield Block("\n".join(["<b>Wins</b>", *won]))


def _all_well(well: Sequence[ClientWeek], *, alone: bool) -> str:
    if alone:
        return "<b>All is well.</b>"
    return f"<b>All is well with {'the other one' if len(well) == 1 else f'the other {len(well)}'}</b>"


def _footnotes(group: GroupWeek) -> Iterator[Block]:
    lines = [line for audit in group.audit if (line := audit_line(audit))]
    if lines:
        yield Block("\n".join(f"<i>{line}</i>" for line in lines))


def client_block(client: ClientWeek) -> str:
    """All that is known of one client's week, a line a fact."""
    why = headline(client)
    return "\n".join([f"<b>{_name(client)}</b>{': ' if why else ''}{why}", *_lines(client)])


def headline(client: ClientWeek, most: int = 2) -> str:
    """The most pressing reasons to think of a client, 'pain, not kept'; empty where all is well."""
    return ", ".join(_HEADLINE[need] for need in needs(client)[:most])


def count_in_brief(client: ClientWeek) -> str:
    """'2 of 3', '3 of 3, 1 extra': the count alone, beside a picture of the rest."""
    return _counted(client) + (f", {how_many(client.extras, 'extra')}" if client.extras else "")


def count_in_short(client: ClientWeek) -> str:
    """'3 of 3', '3 of 3 +1': as brief as a narrow column needs."""
    return _counted(client) + (f" +{client.extras}" if client.extras else "")


def _counted(client: ClientWeek) -> str:
    if client.promised is None:
        return "new"
    return f"{client.done} of {client.promised}" if client.promised else "rest"


def notes_in_brief(client: ClientWeek) -> tuple[tuple[str, ...], ...]:
    """What else to know of a week, each in a few words, what presses most first; and what is left of it where room is scarce."""
    notes = [(f"{pain.place}{often(pain.times)}", pain.place) for pain in client.pain]
    if client.sleep and client.sleep.mean is not None:
        notes.append((f"sleep {client.sleep.mean:.1f} of {client.sleep.need:g} h",) * 2)
    notes += [
        (f"{trip.place} {_trip_days(trip)}", f"{trip.place} {_trip_end(trip)}") for trip in client.trips
    ]
    return tuple(notes)


def _lines(client: ClientWeek) -> Iterator[str]:
    yield from (f"Said: {quoted(words)}" for words in client.red_flags)
    if client.red_flags:
        yield "Until you clear it, with a note, no session is asked for or sent."
    if not _is_mere_silence(client):
        yield sentence(_count_of_week(client))
    yield from _state(client)
    if client.pain:
        yield (
            "Pain: "
            + ", ".join(cut(pain.place, LONGEST_NAME) + often(pain.times) for pain in client.pain)
            + "."
        )
    if client.sleep and client.sleep.nights:
        yield _sleep(client.sleep)
    if client.load and client.load.rated:
        yield _load(client.load)
    yield from (f"Away: {_trip(trip)}." for trip in client.trips)
    yield from (f"Said: {quoted(words)}" for words in client.said[:_MOST_SAID])
    if len(client.said) > _MOST_SAID:
        yield f"And {len(client.said) - _MOST_SAID} more in the chat."
    if client.next_week:
        yield from coming.lines_of(client.next_week)


def _count_of_week(client: ClientWeek) -> str:
    """'2 of 3 done, 1 of them short, 1 missed, 1 extra': what became of the promise.

    What adds up to less than the promise was never asked for: silence, a trip out of reach, too many messages already.
    """
    if client.promised is None:
        return "not begun yet"
    if client.promised == 0:
        return "a rest week" + (f", and {how_many(client.extras, 'extra')}" if client.extras else "")
    parts = [f"{client.done} of {client.promised} done", *_short(client)]
    ends = (
        (client.missed, "missed"),
        (client.unanswered, "unanswered"),
        (client.excused, "excused"),
        (client.still_open, "still open"),
        (client.not_asked, "not asked"),
    )
    parts += [f"{number} {how}" for number, how in ends if number]
    parts += ["the promise was lowered in the week"] if client.lowered else []
    parts += [how_many(client.extras, "extra")] if client.extras else []
    return ", ".join(parts)


def _is_mere_silence(client: ClientWeek) -> bool:
    """A week of which nothing is known but that its one message waits for a word."""
    return client.silent_since is not None and not (
        client.done + client.broken + client.excused + client.extras
    )


def _short(client: ClientWeek) -> Iterator[str]:
    if client.short and client.short < client.done:
        yield f"{client.short} of them short"
    elif client.short:
        yield "a short one" if client.short == 1 else "all of them short"


def _state(client: ClientWeek) -> Iterator[str]:
    if client.silent_since:
        yield f"Silent since {short_date(client.silent_since)}; asked once a week, for ten minutes."
    elif client.engaged is not None and (word := engagement(client.engaged)):
        yield f"{word}."
    if client.paused_until:
        yield f"Pausing until {short_date(client.paused_until)}."
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
    uneven = f"; give or take {sleep.spread:.1f} h a night" if (sleep.spread or 0) >= _UNEVEN else ""
    told = f"{how_many(sleep.nights, 'night')} told{short}{owed}{uneven}"
    return f"Sleep {sleep.mean:.1f} h a night against {sleep.need:g} ({told})."


def _load(load: LoadWeek) -> str:
    rated = "" if load.is_whole else f" from {load.rated} of {how_many(load.sessions, 'session')}"
    return f"Load {load.total:.0f}{rated}{_change(load)}."


def _change(load: LoadWeek) -> str:
    if load.change is None:
        return ""
    if round(load.change) == 0:
        return ", as last week"
    return f", {abs(load.change):.0f} {'more' if load.change > 0 else 'less'} than last week"


def _trip(trip: Trip) -> str:
    room = f", {ROOM_WORDS[trip.room]}" if trip.room else ""
    return f"{cut(trip.place, LONGEST_NAME)} {_trip_days(trip)}{room if trip.in_reach else ', out of reach'}"


def _trip_days(trip: Trip) -> str:
    return f"from {trip.first.day} {month(trip.first)}" if trip.last is None else days(trip.first, trip.last)


def _trip_end(trip: Trip) -> str:
    return f"from {short_date(trip.first)}" if trip.last is None else f"to {short_date(trip.last)}"


def _well_line(client: ClientWeek) -> str:
    """One line for one client with whom all is well: the count, what comes next, and what else is known."""
    line = f"<b>{_name(client)}</b>: {_count_of_week(client)}"
    if client.next_week:
        beside = coming.beside(client.next_week, with_odds=True)
        line += f" → <b>{coming.size_of(client.next_week)}</b>{beside}"
    known = list(_known_of_the_well(client))
    return f"{line}. {sentence(', '.join(known))}" if known else f"{line}."


def _known_of_the_well(client: ClientWeek) -> Iterator[str]:
    if client.sleep and client.sleep.mean is not None:
        yield f"sleep {client.sleep.mean:.1f} of {client.sleep.need:g} h"
    if client.load and client.load.rated:
        change = "" if client.load.change is None else f" ({signed(client.load.change)})"
        yield f"load {client.load.total:.0f}{change}"
    yield from (_trip(trip) for trip in client.trips)
    if client.engaged is not None and (word := engagement(client.engaged)):
        yield word[0].lower() + word[1:]
    if client.paused_until:
        yield f"pausing until {short_date(client.paused_until)}"
    if client.next_week and client.next_week.explore:
        yield f"{client.next_week.explore} could be tried, as an experiment"


def _name(client: ClientWeek) -> str:
    return _shown(client.name)


def _shown(name: str) -> str:
    return cut(" ".join(name.split()), LONGEST_NAME) or "(no name)"
