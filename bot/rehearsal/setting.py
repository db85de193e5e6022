"""Setting the stage: phones for the whole cast, the weeks behind them, and a clock."""

import contextlib
import datetime as dt
from collections.abc import AsyncIterator, Callable, Mapping
from pathlib import Path

from bot.clock import ManualClock, SystemClock
from bot.rehearsal import kept
from bot.rehearsal.app import make_app
from bot.rehearsal.cast import CAST, OPENS, SEED, Cast
from bot.rehearsal.past import Past
from bot.rehearsal.people.client import ClientPerson
from bot.rehearsal.people.crowd import chance_of
from bot.rehearsal.play import Play
from bot.rehearsal.rehearsal import Rehearsal
from bot.rehearsal.scene import Scene, build
from bot.rehearsal.serve import LocalServer
from bot.rehearsal.stage import Someone
from bot.rehearsal.works import Works, set_up
from core.calendar.weeks import IsoWeek
from core.store import house
from core.store import house_tables as t

BEFORE = dt.timedelta(days=8)  # played before the curtain rises: a week of talk on every phone
Tell = Callable[[str], None]


@contextlib.asynccontextmanager
async def on_the_page(
    *, folder: Path, port: int, tell: Tell, seed: int = SEED
) -> AsyncIterator[tuple[Rehearsal, str]]:
    """A rehearsal for somebody before a page: real HTTP on loopback, loops as in production. Gives it and its address.

    What is in ``folder`` from an earlier rehearsal is gone on with.
    """
    scene = build(CAST, OPENS - BEFORE, seed)
    key = kept.data_key(folder)
    kept.clear_away(folder)
    people = kept.recall(folder, scene)
    rehearsal = Rehearsal(scene.world, scene.clock, scene.atlas, people or someones(CAST, scene.chats))
    async with (
        LocalServer(make_app(scene.api, rehearsal), port=port) as server,
        set_up(
            file=folder / kept.DATABASE,
            key=key,
            world=scene.world,
            clock=scene.clock,
            machine=SystemClock(),
            seed=seed,
            tell=scene.record.sent,
            url=server.url,
        ) as works,
    ):
        if people is None:
            await _write_the_past(scene, works, seed, tell)
        play = await start(scene, works, fresh=people is None)
        async with works.running():
            play.calm = works.until_calm
            if people is None:
                tell("Playing the week before, so that there is something to read on the phones ...")
                await play.until(OPENS)
            rehearsal.begin(play, lambda: kept.save(folder, scene, list(rehearsal.people())))
            try:
                yield rehearsal, server.url
            finally:
                await rehearsal.close()
                await scene.api.close()


async def _write_the_past(scene: Scene, works: Works, seed: int, tell: Tell) -> None:
    tell(f"Writing nine weeks of {len(CAST.members)} invented clients ...")
    past = Past(chance=chance_of(seed, "the past"), until=scene.clock.now())
    await past.write(works.store, CAST, scene.chats)


def someones(cast: Cast, chats: Mapping[str, int]) -> list[Someone]:
    """Everybody whom the page offers, the coach first."""
    members = [Someone(chat=chats[m.name], name=m.name, role="client", note=m.trade) for m in cast.members]
    new = cast.newcomer
    return [
        Someone(chat=chats[cast.coach], name=cast.coach, role="coach", note="strength coach"),
        *members,
        Someone(chat=chats[new.name], name=new.name, role="client", note=f"{new.trade}, not invited yet"),
    ]


async def start(
    scene: Scene, works: Works, *, machine: ManualClock | None = None, fresh: bool = True
) -> Play:
    """A play from where its clock stands; a ``fresh`` one tells people what they have promised."""
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
    if fresh:
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
