"""The facts of a week, for the digest: one client's, and the group's."""

import datetime as dt
from collections import Counter
from collections.abc import Sequence

from sqlalchemy.ext.asyncio import AsyncConnection

from core.adherence.advice import Advice
from core.adherence.history import HistoryRow
from core.adherence.weeks import weeks_of
from core.calendar.weeks import IsoWeek
from core.digest.facts import ClientWeek, NextWeek, Pain
from core.digest.wins import wins
from core.people.model import Client, Role
from core.people.records import Remark
from core.store import house
from core.store import house_tables as t
from core.terms import Outcome
from core.week import count
from core.week.model import Ask, Promise
from core.wellbeing.load import Effort, LoadWeek, load_week
from core.wellbeing.sleep import Night, SleepWeek, sleep_week

AHEAD = dt.timedelta(days=21)
SAID_KINDS = frozenset({"question", "unread", "note", "unwell"})


async def client_week(
    tx: AsyncConnection,
    client: Client,
    week: IsoWeek,
    coming: Promise | None,
    advice: Advice | None = None,
    rows: Sequence[HistoryRow] = (),
) -> ClientWeek:
    """Everything that the digest tells of one client; `rows` is their history, for the wins."""
    promise = await house.promise_for(tx, client.id, week)
    asks = await house.asks_of_week(tx, client.id, week)
    remarks = await house.remarks_of(tx, client.id, since=week)
    outcomes = Counter(a.outcome for a in count.of_promise(asks))
    return ClientWeek(
        name=client.name,
        promised=promise.number if promise is not None else None,
        done=count.done(asks),
        short=count.short(asks),
        missed=outcomes[Outcome.MISSED],
        unanswered=outcomes[Outcome.UNANSWERED],
        excused=count.excused(asks),
        extras=count.extras(asks),
        still_open=len(count.still_open(asks)),
        lowered=promise.lowered if promise is not None else False,
        engaged=coming.engaged if coming is not None else None,
        silent_since=client.silent_since,
        paused_until=client.paused_until,
        unwell=client.unwell_since is not None,
        unreachable=client.unreachable,
        sleep=await sleep_of(tx, client, week),
        load=await load_of(tx, client, week),
        red_flags=await red_flags_of(tx, client),
        pain=pains(remarks),
        trips=tuple(p.trip for p in await house.trips_of(tx, client.id) if is_ahead(p.first, p.last, week)),
        said=unanswered_words(remarks)[-3:],
        wins=wins([w for w in weeks_of(rows) if w.monday <= week.monday]),
        next_week=next_week(coming, advice),
    )


def unanswered_words(remarks: Sequence[Remark]) -> tuple[str, ...]:
    """What a client said since the coach last wrote to them: what was answered needs no thought on Sunday."""
    said = list[str]()
    for remark in remarks:
        if remark.said_by == Role.COACH:
            said.clear()
        elif remark.kind in SAID_KINDS:
            said.append(remark.words)
    return tuple(said)


def is_ahead(first: dt.date, last: dt.date | None, week: IsoWeek) -> bool:
    return first <= week.sunday + AHEAD and (last is None or last > week.sunday)


def pains(remarks: Sequence[Remark]) -> tuple[Pain, ...]:
    named = Counter(place for r in remarks if r.kind == "pain" for place in r.places)
    return tuple(Pain(place, times) for place, times in sorted(named.items()))


def next_week(coming: Promise | None, advice: Advice | None) -> NextWeek | None:
    """The recommendation as it was issued, with its odds."""
    if coming is None or coming.recommended is None or advice is None:
        return None
    recommendation = advice.recommendation
    return NextWeek(
        recommended=coming.recommended,
        minutes=coming.recommended_minutes or coming.minutes,
        keep={int(k): p for k, p in coming.odds.items()},
        expected={int(k): e for k, e in coming.expected.items()},
        why=coming.why,
        previous=recommendation.previous,
        if_open_done=coming.recommended_if_done,
        never_tried=recommendation.never_tried,
        talk_first=coming.talk_first,
        explore=recommendation.explore if coming.recommended == recommendation.sessions else None,
        settled=coming.settled,
    )


def as_issued(coming: Promise, *, previous: int | None) -> NextWeek | None:
    """The recommendation as it stands with its promise, for whoever looks again without issuing anything."""
    if coming.recommended is None:
        return None
    return NextWeek(
        recommended=coming.recommended,
        minutes=coming.recommended_minutes or coming.minutes,
        keep={int(k): p for k, p in coming.odds.items()},
        expected={int(k): e for k, e in coming.expected.items()},
        why=coming.why,
        previous=previous,
        if_open_done=coming.recommended_if_done,
        talk_first=coming.talk_first,
        settled=coming.settled,
    )


async def red_flags_of(tx: AsyncConnection, client: Client) -> tuple[str, ...]:
    flags = await house.red_flags.list(
        tx, t.red_flag.c.client_id == client.id, t.red_flag.c.cleared_at.is_(None), order=[t.red_flag.c.id]
    )
    return tuple(flag.words for flag in flags)


async def sleep_of(tx: AsyncConnection, client: Client, week: IsoWeek) -> SleepWeek | None:
    told = await house.nights_of(tx, client.id, since=week.previous().monday)
    nights = [Night(n.day, n.hours) for n in told if n.hours is not None]
    known = sleep_week(nights, monday=week.monday, need=client.sleep_need)
    return known if known.nights else None


async def load_of(tx: AsyncConnection, client: Client, week: IsoWeek) -> LoadWeek | None:
    """Session load of the week beside the one before; None where no effort was told."""
    this = efforts_of(await house.asks_of_week(tx, client.id, week))
    last = efforts_of(await house.asks_of_week(tx, client.id, week.previous()))
    if not any(e.rating is not None for e in this):
        return None
    return load_week(this, last or None)


def efforts_of(asks: Sequence[Ask]) -> list[Effort]:
    return [Effort(minutes=a.took_minutes or a.minutes, rating=a.effort) for a in asks if a.took_place]
