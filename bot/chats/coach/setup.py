"""A coach's first minutes: zone and digest hour; later, the same under /settings."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.client.questions import CLOCKS, read_hour, say_which
from bot.chats.phrases import coach as say
from bot.chats.phrases.common import place, told_apart
from bot.chats.phrases.enrol import bad_hour
from bot.chats.phrases.trips import in_the_ocean
from bot.chats.turn import Turn
from core.calendar import zones
from core.calendar.places import find_places, place_at, the_one
from core.people.model import Coach, Stage
from core.store import house
from core.usecases.schedule import reschedule_coach

MENU = {
    "invite": "a link for a new client",
    "clients": "everyone, and where they are",
    "push": "send a session",
    "write": "a message to one or several",
    "digest": "where the week stands",
    "sent": "what was opened and done",
    "own": "your own exercises and sessions",
    "lifts": "what a client lifts",
    "year": "the blocks of a client's year",
    "programme": "a client's next weeks, as a spreadsheet",
    "settings": "zone, digest hour, raising without you",
    "history": "every session, as a spreadsheet",
    "privacy": "what is kept, and why",
    "help": "what you can do",
}
HOURS = ("16:00", "17:00", "18:00", "19:00", "20:00")


async def begin(turn: Turn, coach: Coach) -> None:
    await turn.expect(topic="setup", step="zone")
    await turn.say(say.welcome(coach), clock_rows(turn.at))


def clock_rows(at: dt.datetime) -> list[list[Button]]:
    buttons = [
        button(f"{zones.local(at, z):%H:%M} {z.split('/')[1].replace('_', ' ')}", "czone", n)
        for n, z in enumerate(CLOCKS)
    ]
    return [buttons[i : i + 3] for i in range(0, len(buttons), 3)]


async def on_zone(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    number = int(args[0])
    await turn.used()
    if 0 <= number < len(CLOCKS):
        await _in_zone(turn, coach, CLOCKS[number], say.city(CLOCKS[number]))


async def _in_zone(turn: Turn, coach: Coach, zone: str, place: str) -> None:
    await house.coaches.save(turn.tx, replace(await house.coaches.lock(turn.tx, coach.id), zone=zone))
    await turn.expect(topic="setup", step="hour")
    rows = [[button(h, "chour", h.replace(":", "_")) for h in HOURS]]
    await turn.say(say.which_hour(place, f"{zones.local(turn.at, zone):%H:%M}"), rows)


async def on_hour(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    await turn.used()
    await _at_hour(turn, coach, dt.time.fromisoformat(args[0].replace("_", ":")))


async def _at_hour(turn: Turn, coach: Coach, hour: dt.time) -> None:
    known = await house.coaches.lock(turn.tx, coach.id)
    first = known.stage is Stage.ENROLLING
    active = await house.coaches.save(turn.tx, replace(known, digest_at=hour, stage=Stage.ACTIVE))
    await reschedule_coach(turn.tx, active, turn.at)
    await turn.expect(topic="")
    await turn.show_menu(MENU)
    await turn.say(say.ready(active, first=first))


async def on_words(turn: Turn, coach: Coach) -> None:
    """A city, or an hour, in words."""
    words = turn.incoming.text
    if turn.dialogue.state.get("step") == "hour":
        hour = read_hour(words)
        if hour is None:
            await turn.say(bad_hour(words))
        else:
            await _at_hour(turn, coach, hour)
        return
    found = find_places(words)
    clear = the_one(found)
    if clear is not None:
        await _in_zone(turn, coach, clear.zone, clear.name)
        return
    apart = told_apart(found)
    await turn.expect(places=[{"name": p.name, "zone": p.zone} for p in apart])
    await turn.say(
        say_which(words, found), [[button(place(p)[:60], "cplace", n)] for n, p in enumerate(apart)]
    )


async def on_place(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    places, number = turn.dialogue.state.get("places", []), int(args[0])
    if not 0 <= number < len(places):
        await turn.say(say.stale_button())
        return
    await turn.used()
    await _in_zone(turn, coach, places[number]["zone"], places[number]["name"])


async def on_location(turn: Turn, coach: Coach) -> None:
    found = place_at(*turn.incoming.location) if turn.incoming.location else None
    if found is None:
        await turn.say(in_the_ocean())
    else:
        await _in_zone(turn, coach, found.zone, found.name)


async def settings(turn: Turn, coach: Coach) -> None:
    switch = "Never raise without me" if coach.raise_without_me else "Also raise without me"
    await turn.say(
        say.settings(coach),
        [[button("Change zone", "csetup"), button("Change hour", "chours")], [button(switch, "craise")]],
    )


async def on_setup(turn: Turn, _coach: Coach, _args: Sequence[str]) -> None:
    await turn.expect(topic="setup", step="zone")
    await turn.say(say.which_clock(), clock_rows(turn.at))


async def on_hours(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    await _in_zone(turn, coach, coach.zone, say.city(coach.zone))


async def on_raise(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    known = await house.coaches.lock(turn.tx, coach.id)
    changed = await house.coaches.save(turn.tx, replace(known, raise_without_me=not known.raise_without_me))
    await turn.used()
    await settings(turn, changed)
