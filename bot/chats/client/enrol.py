"""The first questions as a conversation: one at a time, to be left, resumed, corrected, and asked again under /settings.

Where it stands is one word, the name of the question, in the dialogue of the chat.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.client import screening
from bot.chats.client.questions import BY_NAME, NAMES, STEPS, Step, at_home, say_which
from bot.chats.phrases import client as to_client
from bot.chats.phrases import enrol as say
from bot.chats.phrases.common import place, told_apart
from bot.chats.phrases.trips import in_the_ocean
from bot.chats.turn import Turn
from core.calendar import zones
from core.calendar.places import PlaceFound, find_places, place_at, the_one
from core.people.model import CONSENT_VERSION, Client, Stage
from core.store import house
from core.usecases import travel

TOPIC = "enrol"
MENU = {
    "week": "where the week stands",
    "plan": "days, time, and how many",
    "now": "a short session, now",
    "trip": "trips ahead",
    "calendar": "your sessions in your phone's calendar",
    "pause": "no questions for a while",
    "settings": "what you told me at the start",
    "mine": "what your coach sees of you",
    "export": "everything held about you",
    "erase": "remove it all, for good",
    "stop": "no more messages",
    "privacy": "what is kept, and why",
    "help": "what you can write",
}


async def begin(turn: Turn, client: Client) -> None:
    """Say who we are, and ask for consent before anything else."""
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.expect(topic=TOPIC, step="consent")
    await turn.say(
        say.welcome(client.name, coach.name), [[button(say.AGREE, "agree"), button(say.NOT_NOW, "notnow")]]
    )


async def on_agree(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    if client.stage is Stage.ENROLLING and client.consented_at is None:
        client = await house.clients.save(
            turn.tx, replace(client, consented_at=turn.at, consent_version=CONSENT_VERSION)
        )
    await turn.used()
    await turn.show_menu(MENU)
    await resume(turn, client)


async def on_not_now(turn: Turn, _client: Client, _args: Sequence[str]) -> None:
    await turn.used()
    await turn.say(say.LATER)


async def resume(turn: Turn, client: Client) -> None:
    """Put the question that comes next, wherever the conversation was left."""
    if client.consented_at is None:
        await begin(turn, client)
        return
    step = turn.dialogue.state.get("step", "zone") if turn.dialogue.topic == TOPIC else "zone"
    if step == screening.STEP:
        await screening.ask(turn, client)
    else:
        await ask(turn, client, step if step in BY_NAME else "zone")


async def ask(turn: Turn, client: Client, name: str, *, alone: bool = False) -> None:
    step = BY_NAME[name]
    await turn.expect(topic=TOPIC, step=name, alone=alone)
    await turn.say(step.question, _with_back(step, client, turn.at, alone=alone))


def _with_back(step: Step, client: Client, at: dt.datetime, *, alone: bool) -> list[Sequence[Button]]:
    rows = list(step.rows(client, at))
    if not alone and step.name != NAMES[0]:
        rows.append([button(say.BACK, "eback", step.name)])
    return rows


async def on_button(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """A tap on one of a question's buttons, also of a question further up: that is a correction."""
    name, value = args[0], ":".join(args[1:])
    if name not in BY_NAME:
        await turn.say(say.tap_one())
        return
    answer = BY_NAME[name].read(client, value)
    if isinstance(answer, str):
        await turn.say(answer)
        return
    kept = await house.clients.save(turn.tx, answer)
    turn.touched.add(kept.id)
    if name == "complaints" and value.isdecimal():
        await turn.edit_here(
            BY_NAME[name].question, _with_back(BY_NAME[name], kept, turn.at, alone=_alone(turn))
        )
        return
    await turn.used()
    await _next(turn, kept, name)


async def on_back(turn: Turn, client: Client, args: Sequence[str]) -> None:
    place = NAMES.index(args[0]) if args and args[0] in NAMES else 1
    await turn.used()
    await ask(turn, client, NAMES[max(0, place - 1)])


async def on_words(turn: Turn, client: Client) -> None:
    """An answer in words to the question that is open; anything unreadable puts it again."""
    name = turn.dialogue.state.get("step", "")
    if client.consented_at is None or name not in BY_NAME:
        await resume(turn, client)
        return
    if name == "zone" and await _several_places(turn, turn.incoming.text):
        return
    answer = BY_NAME[name].read(client, turn.incoming.text)
    if isinstance(answer, str):
        await turn.say(answer, _with_back(BY_NAME[name], client, turn.at, alone=_alone(turn)))
        return
    kept = await house.clients.save(turn.tx, answer)
    turn.touched.add(kept.id)
    if name == "zone":  # a city that was written may be another of its name: the clock there tells
        await turn.say(say.zone_confirmed(kept.place, f"{zones.local(turn.at, kept.zone):%H:%M}"))
    await _next(turn, kept, name)


async def _several_places(turn: Turn, words: str) -> bool:
    """Ask which of several places is meant."""
    found = find_places(words)
    apart = told_apart(found)
    if len(apart) < 2 or the_one(found) is not None:
        return False
    await turn.expect(places=[_kept(p) for p in apart])
    await turn.say(
        say_which(words, found),
        [[button(place(p)[:60], "ehome", n)] for n, p in enumerate(apart)],
    )
    return True


def _kept(place: PlaceFound) -> dict[str, str]:
    return {"name": place.name, "country": place.country, "zone": place.zone}


async def on_home(turn: Turn, client: Client, args: Sequence[str]) -> None:
    places = turn.dialogue.state.get("places", [])
    number = int(args[0]) if args and args[0].isdecimal() else -1
    if not 0 <= number < len(places):
        await resume(turn, client)
        return
    chosen = places[number]
    moved = replace(client, place=chosen["name"], country=chosen["country"], zone=chosen["zone"])
    await turn.used()
    await _settled_home(turn, await house.clients.save(turn.tx, moved))


async def on_location(turn: Turn, client: Client) -> None:
    """A shared location while the zone is asked for."""
    found = place_at(*turn.incoming.location) if turn.incoming.location else None
    if found is None:
        await turn.say(in_the_ocean())
        return
    await _settled_home(turn, await house.clients.save(turn.tx, at_home(client, found)))


async def _settled_home(turn: Turn, client: Client) -> None:
    turn.touched.add(client.id)
    await turn.say(say.zone_confirmed(client.place, f"{zones.local(turn.at, client.zone):%H:%M}"))
    await _next(turn, client, "zone")


def _alone(turn: Turn) -> bool:
    return bool(turn.dialogue.state.get("alone"))


async def _next(turn: Turn, client: Client, name: str) -> None:
    if client.stage is not Stage.ENROLLING or _alone(turn):
        await travel.mend_week(turn.tx, client, turn.at)  # a day may have become one that cannot be asked on
        await turn.expect(topic="")
        await turn.say(say.changed(client, name))
        return
    place = NAMES.index(name) + 1
    if place < len(NAMES):
        await ask(turn, client, NAMES[place])
    else:
        await screening.ask(turn, client)


async def settings(turn: Turn, client: Client) -> None:
    buttons = [button(step.label, "change", step.name) for step in STEPS]
    await turn.say(say.settings(client), [buttons[i : i + 3] for i in range(0, len(buttons), 3)])


async def on_change(turn: Turn, client: Client, args: Sequence[str]) -> None:
    if args and args[0] in BY_NAME:
        await ask(turn, client, args[0], alone=True)
    else:
        await turn.say(to_client.stale_button())
