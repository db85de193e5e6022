"""Phones for the whole cast and the people who hold them, before anything was said."""

import datetime as dt
from dataclasses import dataclass

from bot.clock import ManualClock
from bot.rehearsal.botapi.api import BotApi as LocalApi
from bot.rehearsal.botapi.api import make_api
from bot.rehearsal.botapi.limits import Limits
from bot.rehearsal.botapi.models import Standing
from bot.rehearsal.botapi.world import World
from bot.rehearsal.cast import Cast
from bot.rehearsal.people.client import ClientPerson
from bot.rehearsal.people.coach import CoachPerson
from bot.rehearsal.people.crowd import Crowd, chance_of
from bot.rehearsal.people.plans import Deed
from bot.rehearsal.play import Atlas
from bot.rehearsal.record import Record
from core.calendar.weeks import IsoWeek


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """The parts that do not depend on how the bot reaches the server."""

    clock: ManualClock
    api: LocalApi
    crowd: Crowd
    record: Record
    atlas: Atlas
    chats: dict[str, int]

    @property
    def world(self) -> World:
        return self.api.world


def build(cast: Cast, begins: dt.datetime, seed: int) -> Scene:
    """Phones and people, before anything was said."""
    clock = ManualClock(begins)
    api = make_api(clock, limits=Limits(clock, on=False))
    crowd, atlas = Crowd(api.world), Atlas()
    chats = {name: _phone(api.world, atlas, name, zone) for name, zone in _everybody(cast)}
    coach = chats[cast.coach]
    record = Record(
        api.world,
        lambda chat: atlas.zone_of(chat, clock.now()),
        lambda chat: "coach" if chat == coach else "client",
        [],
    )
    _bring_to_life(crowd, cast, chats, begins, seed)
    api.world.transcript.listen(record.hear)
    api.world.transcript.listen(crowd.hear)
    return Scene(clock=clock, api=api, crowd=crowd, record=record, atlas=atlas, chats=chats)


def _everybody(cast: Cast) -> list[tuple[str, str]]:
    members = [(member.name, member.zone) for member in cast.members]
    return [(cast.coach, cast.coach_zone), *members, (cast.newcomer.name, cast.newcomer.zone)]


def _phone(world: World, atlas: Atlas, name: str, zone: str) -> int:
    first, _, last = name.partition(" ")
    number = world.add_person(first, last_name=last).id
    atlas.homes[number] = zone
    return number


def _bring_to_life(crowd: Crowd, cast: Cast, chats: dict[str, int], begins: dt.datetime, seed: int) -> None:
    agenda = crowd.agenda
    crowd.people[chats[cast.coach]] = CoachPerson(
        chat=chats[cast.coach],
        name=cast.coach,
        chance=chance_of(seed, cast.coach),
        agenda=agenda,
        zone=cast.coach_zone,
        awaits=chats[cast.newcomer.name],
    )
    new = cast.newcomer
    crowd.people[chats[new.name]] = ClientPerson(
        chat=chats[new.name],
        name=new.name,
        temper=new.temper,
        chance=chance_of(seed, new.name),
        agenda=agenda,
        zone=new.zone,
        city=new.city,
    )
    monday = IsoWeek.of(begins.date()).next().monday
    for member in cast.members:
        chat = chats[member.name]
        crowd.people[chat] = ClientPerson(
            chat=chat,
            name=member.name,
            temper=member.temper,
            chance=chance_of(seed, member.name),
            agenda=agenda,
            zone=member.zone,
        )
        crowd.world.chats[chat].standing = Standing.MEMBER
        agenda.add(dt.datetime.combine(monday, dt.time(3), dt.UTC), chat, Deed.WEEK)
    crowd.world.chats[chats[cast.coach]].standing = Standing.MEMBER
