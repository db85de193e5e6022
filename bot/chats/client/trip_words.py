"""A trip that is told bit by bit: the place when it was asked for, then the dates."""

import datetime as dt
import re

from bot.chats.buttons import button
from bot.chats.client import trips, words
from bot.chats.phrases import client as say
from bot.chats.phrases import trips as of_trips
from bot.chats.phrases.common import place as label
from bot.chats.phrases.common import told_apart
from bot.chats.turn import Turn
from core.calendar.places import find_places, the_one
from core.people.model import Client
from core.replies import understand
from core.replies.meaning import Asked, CalledOff, Trip, TripDoubt, TripQuestion, TripSaid
from core.store import house

LEFT = re.compile(
    r"(?:no|not a trip|no trip(?: after all)?|never ?mind|forget (?:it|that)|cancel(?: (?:it|that))?|leave it|nothing)[ .!]*",
    re.IGNORECASE,
)
MOST_OF_A_PLACE = 4  # words; more than that is about something else


async def hear(turn: Turn, client: Client, text: str) -> None:
    """The missing part of a trip: the place, or the dates, read together with what is known."""
    if LEFT.fullmatch(text.strip()):
        await turn.expect(topic="")
        await turn.say(say.left_open())
        return
    state = turn.dialogue.state
    known = state.get("places", [])
    said = f"in {known[0]['name']} {text}" if state.get("want") == "dates" and known else f"in {text}"
    if state.get("want") == "place" and state.get("first"):
        first = dt.date.fromisoformat(state["first"])
        last = dt.date.fromisoformat(state["last"]) if state.get("last") else None
        said = f"in {text} from {first:%d %B %Y}" + (f" to {last:%d %B %Y}" if last else "")
    zone = (await house.circumstances(turn.tx, client)).where.zone_at(turn.at)
    meaning = understand(said, asked=Asked.NOTHING, now=turn.at, zone=zone)
    if state.get("want") == "dates" and known and await _dates_for(turn, client, known[0], meaning.trip):
        return
    means = understand(text, asked=Asked.NOTHING, now=turn.at, zone=zone)
    if isinstance(means.trip, Trip | CalledOff) and known:  # another trip, all of it
        await trips.said(turn, client, means.trip)
        return
    if state.get("want") == "dates" and known and _asks_for_dates_again(meaning.trip):
        await _not_read(turn, text)
        return
    if meaning.trip is not None:
        await trips.said(turn, client, meaning.trip)
        return
    if state.get("want") == "place" and await _place_alone(turn, client, text):
        return
    if means.unknown and len(text.split()) <= MOST_OF_A_PLACE:
        await _not_read(turn, text)
        return
    if not means.unknown:  # about something else; of what nobody can read, the trip may still be told
        await turn.expect(topic="")
    await words.hear(turn, client, text)


def _asks_for_dates_again(said: TripSaid | None) -> bool:
    """Whether what was said for dates leaves nothing but the same question."""
    return (
        isinstance(said, TripQuestion)
        and said.about in {TripDoubt.DATES, TripDoubt.WHICH_DATE}
        and said.starts is None
    )


async def _place_alone(turn: Turn, client: Client, words: str) -> bool:
    """The name of a place and nothing else, as an answer to where. False where there is none of that name."""
    found = told_apart(find_places(words.strip(" .!?")))
    if not found:
        return False
    clear = the_one(found)
    if clear is not None:
        await trips.with_place(turn, client, trips.known_as(clear))
        return True
    dates = {part: turn.dialogue.state.get(part) for part in ("first", "last")}
    await turn.expect(
        topic="trip", asked="nothing", want="which place", places=[trips.known_as(p) for p in found], **dates
    )
    await turn.say(
        of_trips.which_place(words), [[button(label(p)[:60], "trip_at", n)] for n, p in enumerate(found)]
    )
    return True


async def _dates_for(turn: Turn, client: Client, place: dict[str, str], said: TripSaid | None) -> bool:
    """The dates of a trip whose place is known, also where others bear its name. False where no dates were said."""
    match said:
        case (
            Trip(starts=starts, ends=ends, then=())
            | TripQuestion(about=TripDoubt.WHICH_PLACE, starts=dt.date() as starts, ends=ends)
        ):
            await trips.keep(turn, client, place["name"], place["country"], place["zone"], starts, ends)
            return True
        case _:
            return False


async def _not_read(turn: Turn, words: str) -> None:
    """What was meant for a place or for dates and is neither: ask again, and say how to leave it."""
    places = turn.dialogue.state.get("places", [])
    if turn.dialogue.state.get("want") == "dates" and places:
        await turn.say(of_trips.dates_not_read(words, places[0]["name"]))
    else:
        await turn.say(of_trips.place_not_read(words))
