"""Trips: told in a line, by taps, or with a shared location; changed, cut short, called off."""

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.phrases import client as say
from bot.chats.phrases import trips as of_trips
from bot.chats.phrases.common import place as label
from bot.chats.phrases.common import told_apart
from bot.chats.turn import Turn
from core.calendar.places import PlaceFound, find_places, km_between, place_at
from core.people.model import Client, Role
from core.people.records import PlannedTrip
from core.programme.words import ROOM_WORDS
from core.replies.meaning import CalledOff, Return, Trip, TripDoubt, TripQuestion, TripSaid
from core.store import house
from core.store import house_tables as t
from core.terms import Room
from core.usecases import travel

MOST_LEGS = 6
AROUND_HOME_KM = 40
ROOM_SAID = re.compile(r"^(?:there(?:.?s| is| are) |they have |only |just |a |an |the |it has )+")
ADD = [[button("Add a trip", "trip_new")]]


async def show(turn: Turn, client: Client) -> None:
    """/trip: what is planned, with a way to change it."""
    coming = await travel.coming_trips(turn.tx, client, turn.at)
    rows: list[Sequence[Button]] = [
        [button(f"Call off {p.place}"[:40], "trip_off", p.id)] for p in coming[:6]
    ]
    rows.append([button("Add a trip", "trip_new")])
    await turn.say(of_trips.trips(coming) if coming else of_trips.no_trips(), rows)


async def on_new(turn: Turn, _client: Client, _args: Sequence[str]) -> None:
    await turn.expect(topic="trip", asked="nothing", want="place")
    await turn.say(of_trips.trip_where())


async def said(turn: Turn, client: Client, trip: TripSaid) -> None:
    """A trip in words: keep it, change the one that is planned, or ask only what is missing."""
    match trip:
        case CalledOff(places=places):
            await _call_off_next(turn, client, places)
        case Return(ends=ends):
            await _ends(turn, client, ends)
        case TripQuestion():
            await ask_back(turn, client, trip)
        case Trip():
            for leg in (trip, *trip.then)[:MOST_LEGS]:
                await keep(turn, client, leg.place, leg.country, leg.zone, leg.starts, leg.ends)


async def keep(
    turn: Turn, client: Client, place: str, country: str, zone: str, first: dt.date, last: dt.date | None
) -> None:
    """Keep a trip and say in one line what was understood; then ask only for the room."""
    planned = PlannedTrip(
        id=0,
        client_id=client.id,
        place=place,
        country=country or None,
        zone=zone,
        first=first,
        last=last,
        said_by=Role.CLIENT,
    )
    kept, mended = await travel.plan_trip(turn.tx, client, planned, turn.at)
    turn.touched.add(client.id)
    await turn.expect(topic="")
    await turn.say(of_trips.trip_kept(kept, mended))
    await turn.say(of_trips.trip_room(kept), room_rows(kept.id))


def room_rows(trip_id: int) -> list[list[Button]]:
    rooms = [button(ROOM_WORDS[r], "trip_room", trip_id, r.value) for r in Room]
    return [
        rooms[:2],
        rooms[2:4],
        [rooms[4], button("Out of reach", "trip_sea", trip_id)],
        [button("Not a trip after all", "trip_off", trip_id)],
    ]


async def own_trip(turn: Turn, client: Client, trip_id: str) -> PlannedTrip | None:
    return await house.trips.find(
        turn.tx, t.trip.c.id == int(trip_id), t.trip.c.client_id == client.id, t.trip.c.cancelled_at.is_(None)
    )


async def as_on_buttons(turn: Turn, client: Client, words: str) -> bool:
    """'Hotel gym', for the trip that is on, else the next one, whose room was asked for. False where it is none."""
    said = ROOM_SAID.sub("", words.strip().casefold()).strip(" .!")
    room = next((r for r, name in ROOM_WORDS.items() if said == name.removeprefix("a ")), None)
    if room is None:
        return False
    open_ones = [
        p for p in await travel.coming_trips(turn.tx, client, turn.at) if p.room is None and p.in_reach
    ]
    if not open_ones:
        return False
    await on_room(turn, client, [str(open_ones[0].id), room.value])
    return True


async def on_room(turn: Turn, client: Client, args: Sequence[str]) -> None:
    trip = await own_trip(turn, client, args[0])
    if trip is None:
        await turn.say(say.stale_button())
        return
    changed = replace(trip, room=Room(args[1]), in_reach=True)
    mended = await travel.change_trip(turn.tx, client, changed, turn.at)
    turn.touched.add(client.id)
    await turn.used()
    await turn.say(of_trips.room_kept(changed, mended))


async def on_sea(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """Out of reach: no asks, no prompts, no evidence."""
    trip = await own_trip(turn, client, args[0])
    if trip is None:
        await turn.say(say.stale_button())
        return
    changed = replace(trip, in_reach=False)
    mended = await travel.change_trip(turn.tx, client, changed, turn.at)
    turn.touched.add(client.id)
    await turn.used()
    await turn.say(of_trips.trip_kept(changed, mended))


async def on_off(turn: Turn, client: Client, args: Sequence[str]) -> None:
    trip = await own_trip(turn, client, args[0])
    if trip is None:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await _off(turn, client, trip)


async def _off(turn: Turn, client: Client, trip: PlannedTrip) -> None:
    mended = await travel.call_off(turn.tx, client, trip, turn.at)
    turn.touched.add(client.id)
    await turn.say(of_trips.trip_called_off(trip, mended))


async def _call_off_next(turn: Turn, client: Client, places: Sequence[PlaceFound]) -> None:
    coming = await travel.coming_trips(turn.tx, client, turn.at)
    names = {place.name.casefold() for place in places}
    words = turn.incoming.text.casefold()
    named = [p for p in coming if p.place.casefold() in words or p.place.casefold() in names]
    if not coming:
        await turn.say(of_trips.no_trips(), ADD)
    elif len(named) == 1:
        await _off(turn, client, named[0])
    elif len(coming) == 1 and not places:
        await _off(turn, client, coming[0])
    else:
        await turn.say(
            of_trips.which_is_off(), [[button(p.place[:40], "trip_off", p.id)] for p in coming[:6]]
        )


async def _ends(turn: Turn, client: Client, ends: dt.date) -> None:
    """Home early, or a stay made longer: the trip that is on, else the next one."""
    trip = await travel.trip_now(turn.tx, client, turn.at)
    coming = await travel.coming_trips(turn.tx, client, turn.at)
    trip = trip or (coming[0] if coming else None)
    if trip is None or ends < trip.first:
        await turn.say(of_trips.no_trips(), ADD)
        return
    if trip.last == ends:
        await turn.say(of_trips.trip_as_known(trip))
        return
    changed = replace(trip, last=ends)
    mended = await travel.change_trip(turn.tx, client, changed, turn.at)
    turn.touched.add(client.id)
    await turn.say(of_trips.trip_changed(changed, mended), [[button("Call it off", "trip_off", trip.id)]])


# --- what is missing --------------------------------------------------------------------------------------------------


async def ask_back(turn: Turn, client: Client, question: TripQuestion) -> None:
    """Ask only what is missing, and keep what was said."""
    known = {
        "first": question.starts.isoformat() if question.starts else None,
        "last": question.ends.isoformat() if question.ends else None,
        "places": [known_as(p) for p in told_apart(question.places)],
    }
    match question.about:
        case TripDoubt.WHICH_PLACE:
            await turn.expect(topic="trip", want="which place")
            await turn.remember(known)
            name = question.places[0].name if question.places else ""
            rows = [[button(label(p)[:60], "trip_at", n)] for n, p in enumerate(told_apart(question.places))]
            await turn.say(of_trips.which_place(name), rows)
        case TripDoubt.DATES | TripDoubt.WHICH_DATE:
            await turn.expect(topic="trip", want="dates")
            await turn.remember(known)
            await turn.say(of_trips.trip_when(question.places[0].name if question.places else "That trip"))
        case TripDoubt.PLACE | TripDoubt.BOTH:
            await turn.expect(topic="trip", want="place")
            await turn.remember(known)
            await turn.say(of_trips.trip_where())


def known_as(place: PlaceFound) -> dict[str, str]:
    return {"name": place.name, "country": place.country, "zone": place.zone}


async def on_at(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """The place was told; now the dates, if they are not known."""
    places = turn.dialogue.state.get("places", [])
    number = int(args[0])
    if turn.dialogue.topic != "trip" or not 0 <= number < len(places):
        await turn.say(say.stale_button())
        return
    await turn.used()
    await with_place(turn, client, places[number])


async def with_place(turn: Turn, client: Client, place: dict[str, str]) -> None:
    state = turn.dialogue.state
    first = dt.date.fromisoformat(state["first"]) if state.get("first") else None
    last = dt.date.fromisoformat(state["last"]) if state.get("last") else None
    if first is None:
        await turn.expect(topic="trip", asked="nothing", want="dates", places=[place])
        await turn.say(of_trips.trip_when(place["name"]))
        return
    await keep(turn, client, place["name"], place["country"], place["zone"], first, last)


async def on_location(turn: Turn, client: Client) -> None:
    """A shared location: a trip that begins today, unless one is being told of."""
    found = place_at(*turn.incoming.location) if turn.incoming.location else None
    life = await house.circumstances(turn.tx, client)
    today = life.today(turn.at)
    if found is None:
        if turn.dialogue.topic != "trip":
            await turn.expect(topic="trip", asked="nothing", want="place", first=today.isoformat())
        await turn.say(f"{of_trips.in_the_ocean()} /cancel leaves it.")
        return
    if turn.dialogue.topic == "trip":
        await with_place(turn, client, known_as(found))
        return
    now = await travel.trip_now(turn.tx, client, turn.at)
    if _is_home(client, found):
        await _home_again(turn, client, now, today)
    elif now is not None and now.place == found.name:
        await turn.say(of_trips.trip_as_known(now))
    else:
        if now is not None and now.last is None:
            await _over(turn, client, now, today)  # whoever is here is there no more
        await keep(turn, client, found.name, found.country, found.zone, today, None)


def _is_home(client: Client, found: PlaceFound) -> bool:
    """Whether a place is the client's own city, or a part of it."""
    known = [p for p in find_places(client.place) if p.zone == client.zone] if client.place else []
    return bool(known) and km_between(known[0], found) <= AROUND_HOME_KM


async def _home_again(turn: Turn, client: Client, trip: PlannedTrip | None, today: dt.date) -> None:
    if trip is None:
        await turn.say(of_trips.at_home(client.place))
        return
    mended = await _over(turn, client, trip, today)
    await turn.say(of_trips.home_again(trip, mended))


async def _over(turn: Turn, client: Client, trip: PlannedTrip, today: dt.date) -> travel.Mended:
    """A trip ends with yesterday; one that began today never was."""
    eve = today - dt.timedelta(days=1)
    turn.touched.add(client.id)
    if trip.first > eve:
        return await travel.call_off(turn.tx, client, trip, turn.at)
    return await travel.change_trip(turn.tx, client, replace(trip, last=eve), turn.at)
