"""The shelves of the house, and the few questions that are asked of them again and again."""

import datetime as dt
from collections.abc import Iterable

from sqlalchemy import ColumnElement, Table, delete, func, insert, select, update
from sqlalchemy.dialects.postgresql import insert as pg_insert
from sqlalchemy.dialects.sqlite import insert as sqlite_insert
from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.quiet import QuietHours
from core.calendar.trips import Stay, Whereabouts
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach, Invitation, Stage
from core.people.names import folded
from core.people.records import Dialogue, Night, PlannedTrip, RedFlag, Remark, RemoteSession, ScreeningAnswers
from core.store import house_tables as t
from core.store.shelf import Shelf
from core.store.unread import left_out, reason
from core.week.agenda import Known
from core.week.budget import Unasked
from core.week.circumstances import Circumstances
from core.week.model import Ask, Promise

coaches = Shelf(t.coach, Coach)
clients = Shelf(t.client, Client)
invitations = Shelf(t.invitation, Invitation)
screenings = Shelf(t.screening, ScreeningAnswers)
trips = Shelf(t.trip, PlannedTrip)
promises = Shelf(t.promise, Promise)
asks = Shelf(t.ask, Ask)
nights = Shelf(t.night, Night)
red_flags = Shelf(t.red_flag, RedFlag)
remarks = Shelf(t.remark, Remark)
sessions = Shelf(t.remote_session, RemoteSession)

RECENT_WEEKS = 3  # how far back the agenda looks: the running week, the one before (corrections), the one before that (silence)


async def coach_by_telegram(tx: AsyncConnection, telegram_id: int) -> Coach | None:
    return await coaches.find(tx, t.coach.c.telegram_id == telegram_id)


async def client_by_telegram(tx: AsyncConnection, telegram_id: int, *, locked: bool = False) -> Client | None:
    return await clients.find(tx, t.client.c.telegram_id == telegram_id, locked=locked)


async def clients_of(tx: AsyncConnection, coach_id: int, *, locked: bool = False) -> list[Client]:
    """By name. Who cannot be read is left out: the digest and /clients say of whom that is so."""
    mine, order = t.client.c.coach_id == coach_id, [t.client.c.name, t.client.c.id]
    try:
        return await clients.list(tx, mine, order=order, locked=locked)
    except Exception as error:  # noqa: BLE001 - then one by one, to see who it is
        reason(error)
    found = list[Client]()
    for client_id, _ in await names_of(tx, mine):
        with left_out(f"client {client_id}"):
            found += await clients.list(tx, t.client.c.id == client_id, locked=locked)
    return found


async def active_clients_of(tx: AsyncConnection, coach_id: int, *, locked: bool = False) -> list[Client]:
    return [c for c in await clients_of(tx, coach_id, locked=locked) if c.stage is Stage.ACTIVE]


async def names_of(
    tx: AsyncConnection, *where: ColumnElement[bool], locked: bool = False
) -> list[tuple[int, str]]:
    """Number and name of clients, by name: so much can be read of everybody, whatever else of theirs is broken."""
    query = select(t.client.c.id, t.client.c.name).where(*where).order_by(t.client.c.name, t.client.c.id)
    if locked:
        query = query.with_for_update()
    return [(row.id, row.name) for row in await tx.execute(query)]


async def active_names_of(tx: AsyncConnection, coach_id: int) -> list[tuple[int, str]]:
    return await names_of(tx, t.client.c.coach_id == coach_id, t.client.c.stage == Stage.ACTIVE)


async def trips_of(tx: AsyncConnection, client_id: int) -> list[PlannedTrip]:
    """The trips that were not called off, in order of their first day."""
    return await trips.list(
        tx,
        t.trip.c.client_id == client_id,
        t.trip.c.cancelled_at.is_(None),
        order=[t.trip.c.first, t.trip.c.id],
    )


async def circumstances(tx: AsyncConnection, client: Client) -> Circumstances:
    return lived_by(client, await trips_of(tx, client.id))


def lived_by(client: Client, planned: Iterable[PlannedTrip]) -> Circumstances:
    """Put a client's home, trips and quiet hours together."""
    home = Stay(
        zone=client.zone, country=client.country or None, room=client.room, place=client.place or None
    )
    return Circumstances(
        where=Whereabouts(home, tuple(p.trip for p in planned)),
        quiet=QuietHours(client.quiet_from, client.quiet_to),
        paused_until=client.paused_until,
    )


async def asks_of(tx: AsyncConnection, client_id: int, *, since: IsoWeek | None = None) -> list[Ask]:
    conditions = [t.ask.c.client_id == client_id]
    if since is not None:
        conditions.append(t.ask.c.week >= since)
    return await asks.list(tx, *conditions, order=[t.ask.c.day, t.ask.c.at, t.ask.c.id])


async def left_open(tx: AsyncConnection, client_id: int, *, before: IsoWeek) -> list[Ask]:
    """The asks of longer ago that still have no end, after a long outage: each ask ends."""
    return await asks.list(
        tx,
        t.ask.c.client_id == client_id,
        t.ask.c.week < before,
        t.ask.c.outcome.is_(None),
        t.ask.c.withdrawn.is_(False),
        order=[t.ask.c.day, t.ask.c.at, t.ask.c.id],
    )


async def asks_of_week(tx: AsyncConnection, client_id: int, week: IsoWeek) -> list[Ask]:
    return await asks.list(
        tx, t.ask.c.client_id == client_id, t.ask.c.week == week, order=[t.ask.c.day, t.ask.c.at, t.ask.c.id]
    )


async def promises_of(tx: AsyncConnection, client_id: int, *, since: IsoWeek | None = None) -> list[Promise]:
    conditions = [t.promise.c.client_id == client_id]
    if since is not None:
        conditions.append(t.promise.c.week >= since)
    return await promises.list(tx, *conditions, order=[t.promise.c.week])


async def promise_for(tx: AsyncConnection, client_id: int, week: IsoWeek) -> Promise | None:
    return await promises.find(tx, t.promise.c.client_id == client_id, t.promise.c.week == week)


async def known_of(tx: AsyncConnection, client: Client, at: dt.datetime) -> Known:
    """Everything that the client's agenda is made from."""
    life = await circumstances(tx, client)
    since = IsoWeek.of(life.today(at)).plus(-RECENT_WEEKS)
    recent = await asks_of(tx, client.id, since=since)
    return Known(
        client=client,
        life=life,
        promises=await promises_of(tx, client.id, since=since),
        asks=[*await left_open(tx, client.id, before=since), *recent],
        nights_known=await mornings_known(tx, client.id, since.monday),
    )


async def mornings_known(tx: AsyncConnection, client_id: int, since: dt.date) -> frozenset[dt.date]:
    """The mornings whose night was told or asked about."""
    told = select(t.night.c.day).where(t.night.c.client_id == client_id, t.night.c.day >= since)
    asked = select(t.unasked.c.day).where(
        t.unasked.c.client_id == client_id, t.unasked.c.day >= since, t.unasked.c.kind == Unasked.SLEEP.value
    )
    return frozenset((await tx.execute(told.union(asked))).scalars())


async def nights_of(tx: AsyncConnection, client_id: int, *, since: dt.date | None = None) -> list[Night]:
    conditions = [t.night.c.client_id == client_id]
    if since is not None:
        conditions.append(t.night.c.day >= since)
    return await nights.list(tx, *conditions, order=[t.night.c.day])


async def tell_night(tx: AsyncConnection, night: Night) -> Night:
    """Write down how somebody slept; the later word about the same night is added to the earlier one."""
    known = await nights.find(tx, t.night.c.client_id == night.client_id, t.night.c.day == night.day)
    if known is None:
        return await nights.add(tx, night)
    return await nights.save(
        tx,
        Night(
            id=known.id,
            client_id=known.client_id,
            day=known.day,
            slept={**known.slept, **night.slept},
            said_at=night.said_at,
        ),
    )


async def open_red_flag(tx: AsyncConnection, client_id: int) -> RedFlag | None:
    """The red flag that has not been cleared, the surest first."""
    return next(
        iter(
            await red_flags.list(
                tx,
                t.red_flag.c.client_id == client_id,
                t.red_flag.c.cleared_at.is_(None),
                order=[t.red_flag.c.sure.desc(), t.red_flag.c.id.desc()],
                limit=1,
            )
        ),
        None,
    )


async def remarks_of(tx: AsyncConnection, client_id: int, *, since: IsoWeek) -> list[Remark]:
    return await remarks.list(
        tx,
        t.remark.c.client_id == client_id,
        t.remark.c.week >= since,
        order=[t.remark.c.said_at, t.remark.c.id],
    )


async def due_clients(tx: AsyncConnection, at: dt.datetime, limit: int) -> list[int]:
    """The clients of whom something is due, the longest due first. The index on `next_due_at` is all that this reads."""
    query = (
        select(t.client.c.id)
        .where(t.client.c.next_due_at <= at)
        .order_by(t.client.c.next_due_at, t.client.c.id)
        .limit(limit)
    )
    return list((await tx.execute(query)).scalars())


async def due_coaches(tx: AsyncConnection, at: dt.datetime, limit: int) -> list[int]:
    query = (
        select(t.coach.c.id)
        .where(t.coach.c.next_due_at <= at)
        .order_by(t.coach.c.next_due_at, t.coach.c.id)
        .limit(limit)
    )
    return list((await tx.execute(query)).scalars())


async def next_due_at(tx: AsyncConnection) -> dt.datetime | None:
    """The first moment at which anything is due for anybody."""
    moments = [
        (await tx.execute(select(func.min(table.c.next_due_at)))).scalar_one_or_none()
        for table in (t.client, t.coach)
    ]
    return min((m for m in moments if m is not None), default=None)


async def put_off(tx: AsyncConnection, people: Table, key: int, *, until: dt.datetime) -> None:
    """Nothing is due for this client or coach before ``until``."""
    await tx.execute(update(people).where(people.c.id == key).values(next_due_at=until))


async def note_unasked(
    tx: AsyncConnection, client_id: int, *, key: str, kind: Unasked, day: dt.date, at: dt.datetime
) -> bool:
    """Write down that a message goes out unasked. False if it has gone before: then it must not go again."""
    insert_or_nothing = (sqlite_insert if tx.dialect.name == "sqlite" else pg_insert)(t.unasked)
    result = await tx.execute(
        insert_or_nothing.values(
            client_id=client_id, key=key, kind=kind.value, day=day, week=IsoWeek.of(day), at=at
        ).on_conflict_do_nothing(index_elements=["key"])
    )
    return result.rowcount > 0


async def unasked_counts(tx: AsyncConnection, client_id: int, day: dt.date) -> tuple[int, int]:
    """Count the unasked messages of a local day and of its week."""
    rows = (
        await tx.execute(
            select(t.unasked.c.day).where(
                t.unasked.c.client_id == client_id,
                t.unasked.c.week == IsoWeek.of(day),
                t.unasked.c.key.not_like("%:dropped"),  # it did not go out
            )
        )
    ).scalars()
    days = list(rows)
    return sum(d == day for d in days), len(days)


async def last_unasked(tx: AsyncConnection, client_id: int, kind: Unasked) -> dt.datetime | None:
    """When a message of this kind went out last."""
    query = select(func.max(t.unasked.c.at)).where(
        t.unasked.c.client_id == client_id,
        t.unasked.c.kind == kind.value,
        t.unasked.c.key.not_like("%:dropped"),
    )
    found: dt.datetime | None = (await tx.execute(query)).scalar_one_or_none()
    return found


async def dialogue_of(tx: AsyncConnection, telegram_id: int, at: dt.datetime) -> Dialogue:
    row = (
        (await tx.execute(select(t.dialogue).where(t.dialogue.c.telegram_id == telegram_id)))
        .mappings()
        .first()
    )
    return Dialogue(**row) if row is not None else Dialogue(telegram_id=telegram_id, at=at)


async def keep_dialogue(tx: AsyncConnection, dialogue: Dialogue) -> None:
    values = {
        "topic": dialogue.topic,
        "state": dialogue.state,
        "asked": dialogue.asked,
        "about": dialogue.about,
        "at": dialogue.at,
    }
    changed = await tx.execute(
        update(t.dialogue).where(t.dialogue.c.telegram_id == dialogue.telegram_id).values(values)
    )
    if changed.rowcount == 0:
        await tx.execute(insert(t.dialogue).values(telegram_id=dialogue.telegram_id, **values))


async def person_by_name(tx: AsyncConnection, name: str) -> list[Client]:
    """The clients of this name, however it is typed: told apart here, since the engines fold letters differently."""
    return [client for client in await clients.list(tx) if folded(client.name) == folded(name)]


async def stranger_told(
    tx: AsyncConnection, telegram_id: int, *, at: dt.datetime, again_after: dt.timedelta
) -> bool:
    """Count a stranger's message; True if they have had their one line lately. Nothing else of them is kept."""
    row = (
        await tx.execute(select(t.stranger.c.told_at).where(t.stranger.c.telegram_id == telegram_id))
    ).first()
    if row is None:
        await tx.execute(insert(t.stranger).values(telegram_id=telegram_id, told_at=at, tries=1))
        return False
    lately = bool(row.told_at + again_after > at)
    told_at = row.told_at if lately else at
    await tx.execute(
        update(t.stranger)
        .where(t.stranger.c.telegram_id == telegram_id)
        .values(told_at=told_at, tries=t.stranger.c.tries + 1)
    )
    return lately


async def forget_dialogue(tx: AsyncConnection, telegram_id: int) -> None:
    await tx.execute(delete(t.dialogue).where(t.dialogue.c.telegram_id == telegram_id))
