"""Setting the stage: phones for the whole cast, the weeks behind them, and a clock."""

import contextlib
import datetime as dt
from collections.abc import AsyncIterator, Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from bot.clock import ManualClock, SystemClock
from bot.rehearsal.app import make_app
from bot.rehearsal.botapi.api import BotApi as LocalApi
from bot.rehearsal.botapi.api import make_api
from bot.rehearsal.botapi.limits import Limits
from bot.rehearsal.botapi.models import Standing
from bot.rehearsal.botapi.world import World
from bot.rehearsal.cast import CAST, OPENS, SEED, Cast
from bot.rehearsal.past import Past
from bot.rehearsal.people.client import ClientPerson
from bot.rehearsal.people.coach import CoachPerson
from bot.rehearsal.people.crowd import Crowd, chance_of
from bot.rehearsal.people.plans import Deed
from bot.rehearsal.play import Atlas, Play
from bot.rehearsal.record import Record
from bot.rehearsal.rehearsal import Rehearsal
from bot.rehearsal.serve import LocalServer
from bot.rehearsal.stage import Someone
from bot.rehearsal.works import Works, set_up
from core.calendar.weeks import IsoWeek
from core.store import house
from core.store import house_tables as t
from core.store.cipher import new_key

BEFORE = dt.timedelta(days=8)  # played before the curtain rises: a week of talk on every phone
Tell = Callable[[str], None]


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


@contextlib.asynccontextmanager
async def on_the_page(
    *, folder: Path, port: int, tell: Tell, seed: int = SEED
) -> AsyncIterator[tuple[Rehearsal, str]]:
    """A rehearsal for somebody before a page: real HTTP on loopback, loops as in production. Gives it and its address."""
    cast = CAST
    scene = build(cast, OPENS - BEFORE, seed)
    rehearsal = Rehearsal(scene.world, scene.clock, scene.atlas, someones(cast, scene.chats))
    async with (
        LocalServer(make_app(scene.api, rehearsal), port=port) as server,
        set_up(
            file=folder / "rehearsal.db",
            key=new_key(),
            world=scene.world,
            clock=scene.clock,
            machine=SystemClock(),
            seed=seed,
            tell=scene.record.sent,
            url=server.url,
        ) as works,
    ):
        tell(f"Writing nine weeks of {len(cast.members)} invented clients ...")
        await Past(chance=chance_of(seed, "the past"), until=scene.clock.now()).write(
            works.store, cast, scene.chats
        )
        play = await start(scene, works)
        async with works.running():
            play.calm = works.until_calm
            tell("Playing the week before, so that there is something to read on the phones ...")
            await play.until(OPENS)
            rehearsal.begin(play)
            try:
                yield rehearsal, server.url
            finally:
                await rehearsal.close()
                await scene.api.close()


def someones(cast: Cast, chats: Mapping[str, int]) -> list[Someone]:
    """Everybody whom the page offers, the coach first."""
    members = [Someone(chat=chats[m.name], name=m.name, role="client", note=m.trade) for m in cast.members]
    new = cast.newcomer
    return [
        Someone(chat=chats[cast.coach], name=cast.coach, role="coach", note="strength coach"),
        *members,
        Someone(chat=chats[new.name], name=new.name, role="client", note=f"{new.trade}, not invited yet"),
    ]


async def start(scene: Scene, works: Works, *, machine: ManualClock | None = None) -> Play:
    play = Play(
        works=works,
        crowd=scene.crowd,
        record=scene.record,
        atlas=scene.atlas,
        clock=scene.clock,
        calm=works.calm,
        machine=machine,
    )
    await play.look_everywhere()
    await play.look_ahead()
    await know_their_promises(scene, works)
    return play


async def know_their_promises(scene: Scene, works: Works) -> None:
    """People know what they have promised for the running week."""
    week = IsoWeek.of(scene.clock.now().date())
    async with works.store.reading() as tx:
        for client in await house.clients.list(tx, t.client.c.telegram_id.is_not(None)):
            promise = await house.promise_for(tx, client.id, week)
            person = scene.crowd.people.get(client.telegram_id or 0)
            if isinstance(person, ClientPerson):
                person.promised = (promise.number if promise else None) or 1
                person.drifting = client.silent_since is not None
