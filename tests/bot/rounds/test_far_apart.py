"""Coaches and clients many zones apart: which week is settled, when it closes, and what an outage over the short list does."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from core.calendar import zones
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.store import house
from core.store import house_tables as t
from core.terms import Outcome
from core.usecases.schedule import reschedule
from core.week.model import Ask, Hand, Promise
from core.week.settling import TIME_TO_SETTLE
from tests.bot.rounds.direct_store import direct_store
from tests.playhouse import COACH_ID, Play

ZONES = ("Pacific/Kiritimati", "Pacific/Auckland", "Pacific/Apia", "Europe/Lisbon", "Pacific/Honolulu")
RUNNING = IsoWeek(2026, 48)  # it is its Wednesday
COMING = RUNNING.next()


def utc(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(f"2026-{text}+00:00")


async def a_kept_week(play: Play, zone: str) -> Client:
    """A client with four kept weeks of two behind them; the running one is kept too. They train at 07:00."""
    client = await play.client(zone=zone, country="", place="", first_week=RUNNING.plus(-4), lately=2)
    async with play.store.begin() as tx:
        await tx.execute(t.promise.delete())
        for week in (RUNNING.plus(-n) for n in range(4, -1, -1)):
            await house.promises.add(
                tx,
                Promise(
                    id=0,
                    client_id=client.id,
                    week=week,
                    settled=2,
                    agreed=2,
                    agreed_by=Hand.CLIENT,
                    told_at=play.at,
                ),
            )
            for day in (week.monday, week.monday + dt.timedelta(days=1)):
                done = Ask(id=0, client_id=client.id, week=week, day=day, at=dt.time(7), minutes=45)
                await house.asks.add(tx, replace(done, outcome=Outcome.DONE, answered_at=play.at))
        await reschedule(tx, client.id, play.at)
    return client


async def coming_promise(play: Play, client: Client) -> Promise:
    async with play.store.reading() as tx:
        found = await house.promise_for(tx, client.id, COMING)
    assert found is not None, "nothing was recommended for the coming week"
    return found


def settling_messages(messages: list[Any], promise: Promise) -> list[Any]:
    """What asks the coach about this promise: its own message, or the one for all that is well."""
    return [
        m for m in messages if m.kind == "settle" and (m.key == f"settle:{promise.id}" or ":well" in m.key)
    ]


@pytest.mark.parametrize("clients_zone", ZONES)
@pytest.mark.parametrize("coachs_zone", ZONES)
async def test_the_coach_has_two_hours_and_the_week_is_the_right_one(
    coachs_zone: str, clients_zone: str
) -> None:
    play = Play(direct_store())
    await play.coach(zone=coachs_zone, digest_at=dt.time(18))
    client = await a_kept_week(play, clients_zone)
    asked: list[tuple[dt.datetime, Any]] = []
    while play.at < utc("12-01T00:00"):
        said = await play.until(play.at + dt.timedelta(minutes=30))
        asked += [(play.at, m) for m in said if m.kind == "settle"]
    promise = await coming_promise(play, client)
    mine = settling_messages([m for _, m in asked], promise)
    assert len(mine) == 1, "asked once, in the short list or in the digest"
    assert promise.settle_by is not None
    assert promise.issued_at is not None
    assert promise.settle_by - promise.issued_at >= TIME_TO_SETTLE
    async with play.store.reading() as tx:
        life = await house.circumstances(tx, client)
        weeks = [p.week for p in await house.promises_of(tx, client.id)]
    assert promise.settle_by <= life.first_lived(COMING.monday, dt.time(6))
    assert weeks[-1] == COMING, "no week beyond the coming one was recommended"
    assert (promise.settled, promise.settled_by) == (2, Hand.ASSUMED)


@pytest.mark.parametrize("clients_zone", ZONES)
@pytest.mark.parametrize("coachs_zone", ["Pacific/Honolulu", "Europe/Lisbon", "Pacific/Auckland"])
async def test_a_short_list_that_was_missed_changes_nothing_of_the_advice(
    coachs_zone: str, clients_zone: str
) -> None:
    """The machine stands still from Friday night until after the digest: in the far east it is Monday evening by then."""
    issued = []
    for missed in (False, True):
        play = Play(direct_store())
        told: dict[str, Any] = {"last_digest": RUNNING.previous(), "last_short_list": RUNNING.previous()}
        await play.coach(zone=coachs_zone, digest_at=dt.time(18), **told)
        client = await a_kept_week(play, clients_zone)
        await play.until(utc("11-27T23:00"))
        if missed:
            play.at = utc("11-30T05:00")
        await play.until(utc("11-30T05:00"))
        issued.append(await coming_promise(play, client))
        assert settling_messages(await play.waiting(COACH_ID), issued[-1])
    on_time, late = issued
    assert (late.recommended, late.odds, late.why) == (on_time.recommended, on_time.odds, on_time.why)
    assert late.settle_by is not None
    assert late.issued_at is not None
    assert late.settle_by >= late.issued_at


@pytest.mark.parametrize(
    ("coachs_zone", "clients_zone", "ahead"),
    [
        ("Pacific/Honolulu", "Pacific/Kiritimati", True),
        ("Pacific/Honolulu", "Pacific/Auckland", True),
        ("Europe/Lisbon", "Pacific/Apia", True),
        ("Europe/Lisbon", "Pacific/Auckland", True),
        ("Europe/Lisbon", "Pacific/Honolulu", False),
        ("Pacific/Kiritimati", "Pacific/Honolulu", False),
        ("Pacific/Auckland", "Pacific/Kiritimati", False),
    ],
)
async def test_a_first_promise_closes_where_the_short_list_would_have_asked(
    coachs_zone: str, clients_zone: str, ahead: bool
) -> None:
    play = Play(direct_store())
    coach = await play.coach(zone=coachs_zone, digest_at=dt.time(18))
    client = await play.client(zone=clients_zone, country="", place="")
    promise = await coming_promise(play, client)
    async with play.store.reading() as tx:
        life = await house.circumstances(tx, client)
    digest = zones.resolve(RUNNING.sunday, coach.digest_at, coach.zone)
    asked = digest - dt.timedelta(days=1) if ahead else digest
    evening = life.first_lived(RUNNING.sunday, dt.time(20))
    assert promise.settle_by == max(evening, asked + TIME_TO_SETTLE)
    assert promise.settle_by <= life.first_lived(COMING.monday, dt.time(6))
