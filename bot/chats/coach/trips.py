"""A client's trip, told by the coach in a line."""

from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import button
from bot.chats.coach.clients import own_client
from bot.chats.phrases import coach as say
from bot.chats.phrases import trips as of_trips
from bot.chats.phrases.common import room_label, safe
from bot.chats.turn import Turn
from core.people.model import Client, Coach, Role
from core.people.records import PlannedTrip
from core.programme.words import ROOM_WORDS
from core.replies import understand
from core.replies.meaning import Asked, Trip
from core.store import house
from core.store import house_tables as t
from core.terms import Room
from core.usecases import travel

HOW = "Write {}'s trip in a line: <i>in Bergen 3-7 Dec</i>, <i>Singapore Tuesday to Sunday</i>. /cancel leaves it."


async def on_new(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    await turn.expect(topic="ctrip", client=client.id)
    await turn.say(HOW.format(safe(client.name)))


async def in_words(turn: Turn, coach: Coach) -> None:
    """The line: kept if place and dates can be read, else asked again with what is missing."""
    client = await own_client(turn, coach, str(turn.dialogue.state.get("client", 0)))
    if client is None:
        await turn.expect(topic="")
        await turn.say(say.stale_button())
        return
    zone = (await house.circumstances(turn.tx, client)).where.zone_at(turn.at)
    said = understand(turn.incoming.text, asked=Asked.NOTHING, now=turn.at, zone=zone).trip
    if not isinstance(said, Trip):
        await turn.say(f"I could not read place and dates in that. {HOW.format(safe(client.name))}")
        return
    await turn.expect(topic="")
    for leg in (said, *said.then):
        await _keep(turn, client, leg)


async def _keep(turn: Turn, client: Client, leg: Trip) -> None:
    planned = PlannedTrip(
        id=0,
        client_id=client.id,
        place=leg.place,
        country=leg.country or None,
        zone=leg.zone,
        first=leg.starts,
        last=leg.ends,
        said_by=Role.COACH,
    )
    kept, _ = await travel.plan_trip(turn.tx, client, planned, turn.at)
    turn.touched.add(client.id)
    rooms = [button(room_label(r), "ctroom", kept.id, r.value) for r in Room]
    await turn.say(
        f"{say.trip(client, kept)} What is there to train with?",
        [
            rooms[:3],
            [*rooms[3:], button("Out of reach", "ctsea", kept.id)],
            [button("Call it off", "ctoff", kept.id)],
        ],
    )
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(client.telegram_id, of_trips.told_by_coach(coach.name, kept))


async def _own(turn: Turn, coach: Coach, trip_id: str) -> tuple[Client, PlannedTrip] | None:
    planned = (t.trip.c.id == int(trip_id), t.trip.c.cancelled_at.is_(None))
    known = await house.trips.find(turn.tx, *planned)
    client = None if known is None else await own_client(turn, coach, str(known.client_id))
    trip = None if client is None else await house.trips.find(turn.tx, *planned)  # it may be off by now
    if trip is None or client is None:
        await turn.say(say.stale_button())
        return None
    return client, trip


async def on_room(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    found = await _own(turn, coach, args[0])
    if found is not None:
        await _change(turn, found[0], replace(found[1], room=Room(args[1]), in_reach=True))


async def on_sea(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    found = await _own(turn, coach, args[0])
    if found is not None:
        await _change(turn, found[0], replace(found[1], in_reach=False))


async def _change(turn: Turn, client: Client, trip: PlannedTrip) -> None:
    await travel.change_trip(turn.tx, client, trip, turn.at)
    turn.touched.add(client.id)
    await turn.used()
    where = (
        ROOM_WORDS[trip.room] if trip.room and trip.in_reach else "out of reach: nothing is asked or counted"
    )
    await turn.say(f"{safe(client.name)}, {safe(trip.place)}: {where}.")


async def on_off(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    found = await _own(turn, coach, args[0])
    if found is not None:
        client, trip = found
        mended = await travel.call_off(turn.tx, client, trip, turn.at)
        turn.touched.add(client.id)
        await turn.used()
        await turn.say(f"{safe(client.name)}: {safe(trip.place)} is off the plan.")
        await turn.tell(client.telegram_id, of_trips.taken_off_by_coach(coach.name, trip, mended))
