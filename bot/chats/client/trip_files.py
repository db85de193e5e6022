"""A calendar file that a client sends: what was understood is said, a line a trip; nothing is kept before a tap."""

import datetime as dt
from collections.abc import Sequence
from functools import partial
from typing import Any

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.buttons import Button, button
from bot.chats.client.trips import own_trip, room_rows
from bot.chats.files import Wanted, ending
from bot.chats.incoming import Incoming
from bot.chats.phrases import client as say
from bot.chats.phrases import files as of_files
from bot.chats.phrases import trip_files as words
from bot.chats.phrases.common import dates
from bot.chats.phrases.common import place as label
from bot.chats.turn import Turn
from core.calendar.calendar_text import LARGEST
from core.calendar.trip_places import TripRead, TripsRead, read_trips
from core.people.model import Client, Role, Stage
from core.people.records import PlannedTrip
from core.store import house
from core.usecases import travel

TOPIC, ROOMS = "trip file", "trip rooms"
AHEAD = dt.timedelta(days=365)
MOST = 20  # trips of one message


def is_calendar(incoming: Incoming) -> bool:
    return incoming.media == "document" and ending(incoming) == ".ics"


async def wanted(tx: AsyncConnection, client: Client, incoming: Incoming, at: dt.datetime) -> Wanted | None:
    """A calendar of a size that can be read, of somebody whose weeks we look after."""
    if client.stage is not Stage.ACTIVE or not is_calendar(incoming) or incoming.file_size > LARGEST:
        return None
    life = await house.circumstances(tx, client)
    today = life.today(at)
    read = partial(read_trips, since=today, until=today + AHEAD, zone=client.zone, home=client.place)
    return Wanted(incoming.file_id, LARGEST, read)


async def take(turn: Turn, client: Client) -> None:
    """Say what was understood, or why nothing was."""
    if turn.brought is None:
        await turn.say(words.too_large(turn.incoming.file_size, LARGEST))
        return
    if turn.brought.faults:
        await turn.say(of_files.faults(turn.brought.faults))
        return
    read: TripsRead = turn.brought.content
    known = {(p.first, p.last, p.zone) for p in await travel.coming_trips(turn.tx, client, turn.at)}
    fresh = [t for t in read.trips if not any((t.first, t.last, place.zone) in known for place in t.places)]
    if not fresh:
        await turn.say(words.nothing_new(len(read.trips), read))
        return
    await turn.expect(topic=TOPIC, trips=[_kept(trip) for trip in fresh[:MOST]])
    lines = [_line(trip) for trip in _trips(turn)]
    text = words.understood(lines, len(fresh) - len(lines), len(read.trips) - len(fresh), read)
    await turn.say(text, _choice(len(lines)))


def _kept(trip: TripRead) -> dict[str, Any]:
    several = len(trip.places) > 1
    places = [
        {
            "name": p.name,
            "country": p.country,
            "zone": p.zone,
            "label": label(p) if several else f"{p.name}, {p.country_name}",
        }
        for p in trip.places
    ]
    first, last = trip.first.isoformat(), trip.last.isoformat()
    return {"title": trip.title[:60], "places": places, "first": first, "last": last, "on": True}


def _trips(turn: Turn) -> list[dict[str, Any]]:
    return list(turn.dialogue.state["trips"])


def _dates(trip: dict[str, Any]) -> str:
    return dates(dt.date.fromisoformat(trip["first"]), dt.date.fromisoformat(trip["last"]))


def _line(trip: dict[str, Any]) -> str:
    places = trip["places"]
    return words.line(
        places[0]["name"], _dates(trip), trip["title"], where="" if len(places) > 1 else places[0]["label"]
    )


def _choice(number: int) -> list[list[Button]]:
    if number == 1:
        return [[button("Take it", "icstake"), button("Not now", "icsno")]]
    return [
        [button(f"Take all {number}", "icstake"), button("Which of them", "icspick")],
        [button("Not now", "icsno")],
    ]


async def _is_open(turn: Turn) -> bool:
    if turn.dialogue.topic == TOPIC:
        return True
    await turn.say(say.stale_button())
    return False


async def on_no(turn: Turn, _client: Client, _args: Sequence[str]) -> None:
    if await _is_open(turn):
        await turn.used()
        await turn.expect(topic="")
        await turn.say(words.left())


async def on_pick(turn: Turn, _client: Client, _args: Sequence[str]) -> None:
    """A button a trip: a tap takes it out or in again."""
    if await _is_open(turn):
        await turn.edit_here(words.which(), _ticks(_trips(turn)))


async def on_toggle(turn: Turn, _client: Client, args: Sequence[str]) -> None:
    if await _is_open(turn):
        trips = _trips(turn)
        number = int(args[0])
        trips[number] = {**trips[number], "on": not trips[number]["on"]}
        await turn.remember({"trips": trips})
        await turn.edit_here(words.which(), _ticks(trips))


def _ticks(trips: Sequence[dict[str, Any]]) -> list[list[Button]]:
    rows = [
        [button(words.tick(t["places"][0]["name"], _dates(t), on=t["on"]), "icson", n)]
        for n, t in enumerate(trips)
    ]
    return [*rows, [button("Take these", "icstake"), button("Not now", "icsno")]]


async def on_take(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    """Keep the chosen ones; where there are several places of a name, ask first which is meant."""
    if not await _is_open(turn):
        return
    trips = [trip for trip in _trips(turn) if trip["on"]]
    await turn.used()
    if not trips:
        await turn.expect(topic="")
        await turn.say(words.left())
        return
    await turn.remember({"trips": trips})
    await _go_on(turn, client)


async def on_place(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """Which of several places of one name."""
    if not await _is_open(turn):
        return
    trips = _trips(turn)
    number, choice = int(args[0]), int(args[1])
    trips[number] = {**trips[number], "places": [trips[number]["places"][choice]]}
    await turn.used()
    await turn.remember({"trips": trips})
    await _go_on(turn, client)


async def _go_on(turn: Turn, client: Client) -> None:
    trips = _trips(turn)
    for number, trip in enumerate(trips):
        if len(trip["places"]) > 1:
            rows = [
                [button(place["label"][:60], "icsat", number, n)] for n, place in enumerate(trip["places"])
            ]
            await turn.say(words.which_place(trip["places"][0]["name"], _dates(trip)), rows)
            return
    await _keep(turn, client, trips)


async def _keep(turn: Turn, client: Client, trips: Sequence[dict[str, Any]]) -> None:
    kept, mended = list[PlannedTrip](), travel.Mended()
    for trip in trips:
        [place] = trip["places"]
        planned = PlannedTrip(
            id=0,
            client_id=client.id,
            place=place["name"],
            country=place["country"] or None,
            zone=place["zone"],
            first=dt.date.fromisoformat(trip["first"]),
            last=dt.date.fromisoformat(trip["last"]),
            said_by=Role.CLIENT,
        )
        added, by_this_one = await travel.plan_trip(turn.tx, client, planned, turn.at)
        kept.append(added)
        mended += by_this_one
    turn.touched.add(client.id)
    await turn.say(words.kept(kept, mended))
    await _ask_room(turn, client, [trip.id for trip in kept])


async def next_room(turn: Turn, client: Client, answered: int) -> None:
    """After the room of one trip of a file, ask for that of the next."""
    rooms = turn.dialogue.state.get("rooms", []) if turn.dialogue.topic == ROOMS else []
    if answered in rooms:
        await _ask_room(turn, client, [number for number in rooms if number != answered])


async def _ask_room(turn: Turn, client: Client, trips: Sequence[int]) -> None:
    for place, number in enumerate(trips):
        trip = await own_trip(turn, client, str(number))
        if trip is not None:
            await turn.expect(topic=ROOMS, rooms=list(trips[place:]))
            await turn.say(words.room(trip), room_rows(trip.id))
            return
    await turn.expect(topic="")
