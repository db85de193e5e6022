"""Past weeks of clients, out of a coach's spreadsheet: beside what we recorded ourselves, never over it.

A week is taken in whole, as a promise that was brought (``Hand.BROUGHT``) with its sessions; the instant at which a file was taken
in is the mark of everything that came with it, and by it it can be taken out again. Only weeks before the client's first one with
us are open to that, and only while nobody here has corrected them.
"""

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import select
from sqlalchemy.ext.asyncio import AsyncConnection

from core.adherence.history import HistoryRow
from core.calendar.weeks import IsoWeek
from core.errors import Refused
from core.people.model import Client, Role
from core.people.names import folded
from core.people.records import Night, PlannedTrip
from core.store import house
from core.store import house_tables as t
from core.terms import Outcome
from core.usecases.history import called_by
from core.week.model import Ask, Hand, Promise

_AT_ONCE = 50  # weeks of one statement
ELSEWHERE = "elsewhere"  # a day away in a history: nobody says where


@dataclass(frozen=True, slots=True, kw_only=True)
class PastOf:
    """What a file has of one client: the rows that can be taken in, and how many are left out, by reason."""

    client: Client
    rows: tuple[HistoryRow, ...]
    recorded_here: int = 0  # of weeks that we counted ourselves, or that are not over
    without_outcome: int = 0
    in_place_of: int = 0  # weeks that were brought in before

    @property
    def weeks(self) -> list[IsoWeek]:
        return sorted({IsoWeek.of(row.date) for row in self.rows})

    def count(self, *outcomes: Outcome) -> int:
        return sum(row.outcome in outcomes for row in self.rows)


@dataclass(frozen=True, slots=True)
class _Brought:
    """A week that was brought in, and is as it came; ``mark`` is the instant of its coming."""

    id: int
    week: IsoWeek
    mark: dt.datetime | None


@dataclass(frozen=True, slots=True)
class _Recorded:
    """The weeks of a client so far: those that were brought, and those that we recorded or corrected ourselves."""

    brought: Mapping[IsoWeek, _Brought]
    ours: frozenset[IsoWeek]


async def past_of(
    tx: AsyncConnection, clients: Sequence[Client], rows: Sequence[HistoryRow], at: dt.datetime
) -> list[PastOf]:
    """What would be taken in, client by client. ``Refused`` where a row is nobody's, or of somebody who has not agreed yet.

    :param clients: those whom whoever brings the file may speak for, in the order of their own history file.
    """
    theirs = {folded(called): client for client, called in called_by(clients)}
    mine: defaultdict[str, list[HistoryRow]] = defaultdict(list)
    for row in rows:
        mine[folded(row.client)].append(row)
    faults = [fault for name, own in mine.items() if (fault := _stranger(name, own, theirs))]
    if faults:
        raise Refused(*faults)
    return [
        await _sorted_out(tx, theirs[name], own, await _recorded(tx, theirs[name].id), at)
        for name, own in mine.items()
    ]


def _stranger(name: str, rows: Sequence[HistoryRow], clients: Mapping[str, Client]) -> str | None:
    client = clients.get(name)
    if client is None:
        return f"There is no client '{rows[0].client[:80]}': mend the name, or invite them first."
    if client.consented_at is None:
        return (
            f"{client.name} has not agreed yet that anything is kept of them: send the file when they have."
        )
    return None


async def _sorted_out(
    tx: AsyncConnection, client: Client, rows: Sequence[HistoryRow], recorded: _Recorded, at: dt.datetime
) -> PastOf:
    life = await house.circumstances(tx, client)
    first = min(client.first_week or IsoWeek.of(life.today(at)), IsoWeek.of(life.today(at)))
    told = [row for row in rows if row.outcome is not None]
    fit = [row for row in told if (week := IsoWeek.of(row.date)) < first and week not in recorded.ours]
    return PastOf(
        client=client,
        rows=tuple(sorted(fit, key=lambda row: row.date)),
        recorded_here=len(told) - len(fit),
        without_outcome=len(rows) - len(told),
        in_place_of=len(recorded.brought.keys() & {IsoWeek.of(row.date) for row in fit}),
    )


async def _recorded(tx: AsyncConnection, client_id: int) -> _Recorded:
    """Only what tells weeks apart is read: years of promises take seconds to unseal."""
    promise, ask = t.promise.c, t.ask.c
    weeks = await tx.execute(
        select(promise.id, promise.week, promise.agreed_at, promise.agreed_by).where(
            promise.client_id == client_id
        )
    )
    brought, ours = dict[IsoWeek, _Brought](), set[IsoWeek]()
    for row in weeks:
        if row.agreed_by is Hand.BROUGHT:
            brought[row.week] = _Brought(row.id, row.week, row.agreed_at)
        else:
            ours.add(row.week)
    answered = select(ask.week, ask.answered_at).where(ask.client_id == client_id).distinct()
    for week, answered_at in await tx.execute(answered):
        known = brought.get(week)
        if known is None or answered_at != known.mark:
            ours.add(week)
    return _Recorded({week: each for week, each in brought.items() if week not in ours}, frozenset(ours))


async def take_in(tx: AsyncConnection, past: Sequence[PastOf], at: dt.datetime) -> dt.datetime:
    """Keep what was read. Returns its mark: whole seconds, so that a button can carry it."""
    mark = at.replace(microsecond=0)
    for each in past:
        client = await house.clients.lock(tx, each.client.id)
        recorded = await _recorded(tx, client.id)
        fresh = await _sorted_out(tx, client, each.rows, recorded, at)  # something may have come in meanwhile
        await _remove(tx, client, [recorded.brought[w] for w in fresh.weeks if w in recorded.brought])
        await _keep(tx, client, fresh, mark)
    return mark


def mark_of(seconds: int) -> dt.datetime:
    """A mark as a button carries it: seconds since 1970."""
    return dt.datetime.fromtimestamp(seconds, dt.UTC)


async def take_out(
    tx: AsyncConnection, clients: Sequence[Client], mark: dt.datetime
) -> list[tuple[Client, int]]:
    """Undo what came in with this mark, of these clients: of whom, how many weeks. What was corrected since stays."""
    gone = []
    for known in clients:
        client = await house.clients.lock(tx, known.id)
        recorded = await _recorded(tx, client.id)
        own = [week for week in recorded.brought.values() if week.mark == mark]
        if own:
            await _remove(tx, client, own)
            gone.append((client, len(own)))
    return gone


async def _keep(tx: AsyncConnection, client: Client, past: PastOf, mark: dt.datetime) -> None:
    weeks: defaultdict[IsoWeek, list[HistoryRow]] = defaultdict(list)
    for row in past.rows:
        weeks[IsoWeek.of(row.date)].append(row)
    await house.promises.add_all(tx, [_promise(client, week, rows, mark) for week, rows in weeks.items()])
    await house.asks.add_all(
        tx, [_ask(client, week, row, mark) for week, rows in weeks.items() for row in rows]
    )
    await _keep_nights(tx, client, past.rows, mark)
    await _keep_days_away(tx, client, past.rows)


def _promise(client: Client, week: IsoWeek, rows: Sequence[HistoryRow], mark: dt.datetime) -> Promise:
    number = rows[0].promised
    minutes, _ = Counter(row.minutes for row in rows).most_common(1)[0]
    return Promise(
        id=0,
        client_id=client.id,
        week=week,
        settled=number,
        settled_by=Hand.BROUGHT,
        settled_at=mark,
        told_at=mark,
        agreed=number,
        agreed_by=Hand.BROUGHT,
        agreed_at=mark,
        minutes=minutes,
        lowered=any(row.lowered for row in rows),
        extra_offered=True,
    )


def _ask(client: Client, week: IsoWeek, row: HistoryRow, mark: dt.datetime) -> Ask:
    return Ask(
        id=0,
        client_id=client.id,
        week=week,
        day=row.date,
        at=client.usual_time,
        minutes=row.minutes,
        extra=row.outcome is Outcome.EXTRA,
        outcome=row.outcome,
        answered_at=mark,
    )


async def _keep_nights(
    tx: AsyncConnection, client: Client, rows: Sequence[HistoryRow], mark: dt.datetime
) -> None:
    known = {night.day for night in await house.nights_of(tx, client.id)}
    told = {row.date: row.slept_h for row in rows if row.slept_h is not None and row.date not in known}
    nights = [
        Night(id=0, client_id=client.id, day=day, slept={"hours": hours}, said_at=mark)
        for day, hours in told.items()
    ]
    await house.nights.add_all(tx, nights)


async def _keep_days_away(tx: AsyncConnection, client: Client, rows: Sequence[HistoryRow]) -> None:
    """Days away are trips to nobody knows where, within a week, no longer than the file says: no day between is invented."""
    life = await house.circumstances(tx, client)
    runs: list[PlannedTrip] = []
    for day in sorted({row.date for row in rows if row.away and not life.where.away_on(row.date)}):
        if runs and runs[-1].last == day - dt.timedelta(days=1) and day.isoweekday() > 1:
            runs[-1] = replace(runs[-1], last=day)
            continue
        trip = PlannedTrip(
            id=0,
            client_id=client.id,
            place=ELSEWHERE,
            zone=client.zone,
            first=day,
            last=day,
            said_by=Role.COACH,
        )
        runs.append(trip)
    await house.trips.add_all(tx, runs)


async def _remove(tx: AsyncConnection, client: Client, weeks: Sequence[_Brought]) -> None:
    """The weeks that were brought, with everything that came with them."""
    for first in range(0, len(weeks), _AT_ONCE):
        some = weeks[first : first + _AT_ONCE]
        days = [day for brought in some for day in brought.week.days()]
        marks = {brought.mark for brought in some}
        night, trip = t.night.c, t.trip.c
        await house.asks.remove(
            tx, t.ask.c.client_id == client.id, t.ask.c.week.in_([brought.week for brought in some])
        )
        await house.promises.remove(tx, t.promise.c.id.in_([brought.id for brought in some]))
        await house.nights.remove(
            tx, night.client_id == client.id, night.day.in_(days), night.said_at.in_(marks)
        )
        await house.trips.remove(
            tx,
            trip.client_id == client.id,
            trip.place == ELSEWHERE,
            trip.said_by == Role.COACH,
            trip.first.in_(days),
        )
