"""What a client hears of a calendar file that they sent."""

from collections.abc import Sequence

from bot.chats.phrases.common import dates, listed, safe
from bot.chats.phrases.files import too_large as too_large_at_all
from bot.chats.phrases.trips import changed_with
from core.calendar.trip_places import TripsRead
from core.how_many import how_many
from core.people.records import PlannedTrip
from core.usecases.travel import Mended

_SHOWN = 5  # of what may be a trip and could not be read


def too_large(size: int, largest: int) -> str:
    return f"{too_large_at_all(size, largest)} Send a calendar with only the trips in it, or tell me of them in a line each."


def line(place: str, when: str, title: str, *, where: str) -> str:
    """'Bergen, Norway: 3 to 7 Dec'; with its title where that says more."""
    said = f"<b>{safe(where or place, 80)}</b>: {when}"
    said += "" if where else ", and I will ask which one"
    return said if title.casefold() == place.casefold() else f"{said} ({safe(title, 60)})"


def understood(lines: Sequence[str], later: int, known: int, read: TripsRead) -> str:
    said = ["What I read in your calendar:", *lines]
    if later:
        said.append(
            f"{how_many(later, 'later trip')} I leave for now: send the file again when these are over."
        )
    if known:
        said.append(f"{how_many(known, 'trip')} in it I have already.")
    return "\n".join([*said, *_others(read)])


def _others(read: TripsRead) -> list[str]:
    lines = []
    if read.unknown:
        named = [f"{safe(s.title, 40)} ({dates(s.first, s.last)})" for s in read.unknown[:_SHOWN]]
        more = len(read.unknown) - len(named)
        named += [f"{more} more"] if more else []
        lines.append(
            f"I do not know where this is: {listed(named)}. If it is a trip, tell me in a line: <i>in Bergen 3-7 Dec</i>."
        )
    if read.unread:
        more = len(read.unread) - _SHOWN
        titles = [safe(title, 40) for title in read.unread[:_SHOWN]] + ([f"{more} more"] if more > 0 else [])
        lines.append(
            f"How often this comes back I cannot read: {listed(titles)}. If these are trips, tell me each in a line."
            if len(read.unread) > 1
            else f"How often this comes back I cannot read: {listed(titles)}. If it is a trip, tell me each time in a line."
        )
    if read.left_out:
        lines.append(f"{how_many(read.left_out, 'event')} in it I take for no trip.")
    return lines


def nothing_new(known: int, read: TripsRead) -> str:
    if known:
        first = "I have all the trips of that calendar already." if known > 1 else "I have that trip already."
    elif read.unknown or read.unread:
        first = "I found no trip that I can read."
    else:
        first = "I found no trip in the coming year in that calendar: only what lasts at least half a day and names a place is one to me."
    return "\n".join([first, *_others(read)])


def which() -> str:
    return "Tap what I should leave out; tap again to take it."


def tick(place: str, when: str, *, on: bool) -> str:
    return f"{place}, {when} •"[:60] if on else f"{place}, {when}"[:60]


def which_place(place: str, when: str) -> str:
    return f"{when}: there is more than one {safe(place)}. Which one?"


def left() -> str:
    return "Left. Nothing in your plan has changed."


def kept(trips: Sequence[PlannedTrip], mended: Mended) -> str:
    if len(trips) == 1:
        said = f"{safe(trips[0].place)}, {dates(trips[0].first, trips[0].last)}: noted. I ask you by the clock there."
    else:
        said = "\n".join(
            [
                "Noted; I ask you by the clock there:",
                *(f"{safe(t.place)}, {dates(t.first, t.last)}" for t in trips),
            ]
        )
    return f"{said}\n{changed_with(mended, len(trips))}".rstrip()


def room(trip: PlannedTrip) -> str:
    return f"What is there to train with in {safe(trip.place)}, {dates(trip.first, trip.last)}?"
