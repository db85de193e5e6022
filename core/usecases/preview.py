"""Every prompt that would be sent in the days to come, if all goes by plan and everything is answered.

Weeks that are laid out are taken as they stand; later ones as they would be assumed: the last number on the usual days. Follow-ups
are left out, since they only go to whoever has not answered.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar import zones
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach
from core.store import house
from core.usecases.settle import past_days
from core.week import settling
from core.week.agenda import Due, Known, agenda, sleep_moments
from core.week.budget import Unasked
from core.week.model import Ask, Promise
from core.week.planning import PastDays, choose_days, preference, usable_days
from core.week.replanning import new_ask

LONGEST_DAYS = 366


@dataclass(frozen=True, slots=True, kw_only=True)
class Previewed:
    """One prompt to come: what kind, and when, on the client's own clock and in UTC."""

    client: str
    kind: Unasked
    local: dt.datetime
    zone: str
    utc: dt.datetime

    def to_json(self) -> dict[str, str]:
        return {
            "client": self.client,
            "kind": self.kind.value,
            "local": f"{self.local:%Y-%m-%dT%H:%M}",
            "zone": self.zone,
            "utc": f"{self.utc:%Y-%m-%dT%H:%M}Z",
        }


async def preview(tx: AsyncConnection, client: Client, *, at: dt.datetime, days: int) -> list[Previewed]:
    """The prompts from `at` on, for so many days, in the order in which they would go out."""
    if not client.may_be_asked:
        return []
    until = at + dt.timedelta(days=min(days, LONGEST_DAYS))
    coach = await house.coaches.get(tx, client.coach_id)
    known = await house.known_of(tx, client, at)
    planned = await past_days(tx, client.id, IsoWeek.of(dt.date(9000, 1, 1)))
    projected = project(known, coach, planned, at=at, until=until)
    moments = [
        due for due in moments_of(projected, at, until) if due.unasked in SHOWN and at <= due.at < until
    ]
    return [_previewed(client, projected, due) for due in sorted(moments, key=lambda d: (d.at, d.key))]


SHOWN = frozenset({Unasked.WEEKLY, Unasked.PROMPT, Unasked.SLEEP})


def moments_of(known: Known, at: dt.datetime, until: dt.datetime) -> Iterator[Due]:
    first = known.life.today(at)
    mornings = [first + dt.timedelta(days=n) for n in range((until - at).days + 2)]
    yield from agenda(known)
    yield from sleep_moments(known, mornings)


def project(known: Known, coach: Coach, planned: PastDays, *, at: dt.datetime, until: dt.datetime) -> Known:
    """Add the weeks to come as they would be assumed."""
    week = IsoWeek.of(known.life.today(at)).next()
    last = known.life.today(until)
    promises, asks = list(known.promises), list(known.asks)
    number = _last_number(known)
    while week.monday <= last:
        standing = next((p for p in promises if p.week == week), None)
        if standing is None or standing.number is None:
            promises = [p for p in promises if p.week != week]
            promise, laid = _assumed_week(known, coach, week, number, planned)
            promises.append(promise)
            asks += laid
        week = week.next()
    return replace(known, promises=promises, asks=asks)


def _last_number(known: Known) -> int:
    numbers = [p.number or p.recommended for p in known.promises if p.number or p.recommended]
    return numbers[-1] or 1 if numbers else min(known.client.lately or 1, 7) or 1


def _assumed_week(
    known: Known, coach: Coach, week: IsoWeek, number: int, planned: PastDays
) -> tuple[Promise, list[Ask]]:
    client, life = known.client, known.life
    days = choose_days(
        number,
        preference(planned, client.usual_days, number),
        usable_days(week, life, not_before=week.monday),
    )
    free = [day for day in days if not client.is_paused_on(day)]
    asked = zones.resolve(week.previous().sunday, coach.digest_at, coach.zone)
    promise = Promise(
        id=-week.year * 100 - week.week,
        client_id=client.id,
        week=week,
        settled=number if free else 0,
        settled_at=settling.settle_by(asked, week, life),
        minutes=client.minutes,
    )
    laid = [new_ask(client.id, week, day, client.usual_time, client.minutes) for day in free]
    return promise, [replace(ask, id=-day.toordinal()) for ask, day in zip(laid, free, strict=True)]


def _previewed(client: Client, known: Known, due: Due) -> Previewed:
    local = known.life.where.local_at(due.at)
    return Previewed(
        client=client.name,
        kind=due.unasked or Unasked.PROMPT,
        local=local,
        zone=known.life.where.zone_at(due.at),
        utc=due.at.astimezone(dt.UTC),
    )
