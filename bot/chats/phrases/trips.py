"""What is said of trips and places."""

from collections.abc import Sequence
from dataclasses import replace

from bot.chats.phrases.common import dates, listed, safe, weekday
from core.how_many import how_many
from core.people.records import PlannedTrip
from core.programme.words import ROOM_WORDS
from core.usecases.travel import Mended


def changed_with(mended: Mended, trips: int = 1) -> str:
    """What became of the sessions that stood on days which can no longer be asked about, or can be again."""
    gone, moved, it = len(mended.gone), len(mended.moved), "it" if trips == 1 else "them"
    if mended.back:
        back = f"{listed(weekday(ask.day) for ask in mended.back)} {'is' if len(mended.back) == 1 else 'are'} back in your week."
        return f"{back} {changed_with(replace(mended, back=()), trips)}".rstrip()
    if not moved and not gone:
        return ""
    if not moved:
        return f"{how_many(gone, 'session')} {'falls' if gone == 1 else 'fall'} away with {it}: not asked, not counted."
    away = f", {gone} {'falls' if gone == 1 else 'fall'} away" if gone else ""
    return f"{how_many(moved, 'session')} moved with {it}{away}; /week shows how."


def trip_kept(trip: PlannedTrip, mended: Mended) -> str:
    line = f"{safe(trip.place)}, {dates(trip.first, trip.last)}: noted. I ask you by the clock there."
    if trip.room:
        line += f" To train with: {ROOM_WORDS[trip.room]}."
    if not trip.in_reach:
        line = f"{safe(trip.place)}, {dates(trip.first, trip.last)}: out of reach, so I ask nothing and count nothing."
    if trip.last is None:
        line += " Tell me when you are back."
    return f"{line} {changed_with(mended)}".rstrip()


def trip_room(trip: PlannedTrip) -> str:
    return f"What is there to train with in {safe(trip.place)}?"


def room_kept(trip: PlannedTrip, mended: Mended) -> str:
    if not trip.in_reach or trip.room is None:
        return trip_kept(trip, mended)
    line = f"{safe(trip.place)}: {ROOM_WORDS[trip.room]}. Sessions there will fit it."
    return f"{line} {changed_with(mended)}".rstrip()


def at_home(place: str) -> str:
    return f"{safe(place)} is home, as you told me: nothing changes."


def home_again(trip: PlannedTrip, mended: Mended) -> str:
    line = f"Home again: {safe(trip.place)} is over, and I ask you by the clock of home."
    return f"{line} {changed_with(mended)}".rstrip()


def trip_called_off(trip: PlannedTrip, mended: Mended) -> str:
    line = (
        f"{safe(trip.place)}, {dates(trip.first, trip.last)}, is off the plan: for me you are at home then."
    )
    return f"{line} {changed_with(mended)}".rstrip()


def trip_changed(trip: PlannedTrip, mended: Mended) -> str:
    return f"Changed: {safe(trip.place)}, {dates(trip.first, trip.last)}. {changed_with(mended)}".rstrip()


def trip_as_known(trip: PlannedTrip) -> str:
    return f"{safe(trip.place)}, {dates(trip.first, trip.last)}: that is how I have it."


def told_by_coach(coach: str, trip: PlannedTrip) -> str:
    return f"{safe(coach)} has put a trip into your plan: {safe(trip.place)}, {dates(trip.first, trip.last)}. I ask you by the clock there; /trip changes it."


def taken_off_by_coach(coach: str, trip: PlannedTrip, mended: Mended) -> str:
    line = f"{safe(coach)} has taken {safe(trip.place)}, {dates(trip.first, trip.last)}, off your plan: for me you are at home then."
    return f"{line} {changed_with(mended)}".rstrip()


def which_is_off() -> str:
    return "Which trip is off?"


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
    return f"I do not know a place called “{safe(name, 60)}”. Write the nearest larger city, or share a location."


def place_not_read(words: str) -> str:
    return f"{unknown_place(words)} /cancel leaves it."


def dates_not_read(words: str, place: str) -> str:
    return f"I cannot read “{safe(words, 40)}” as dates. {trip_when(place)} /cancel leaves it."


def in_the_ocean() -> str:
    return "There is no town near that point. Write the nearest port or city instead."
