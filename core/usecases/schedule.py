"""Keeping `next_due_at` true: the one column that the due query reads."""

import datetime as dt

from sqlalchemy import select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach, Stage
from core.people.records import RedFlag
from core.store import house
from core.store import house_tables as t
from core.week.agenda import Due, Known, agenda, in_order, next_due, sleep_moments
from core.week.settling import A_DAY_AHEAD

REPEAT_ALARM_AFTER = dt.timedelta(minutes=15)
ALARMS_AT_MOST = 8


def moments_of(known: Known, at: dt.datetime) -> list[Due]:
    """The whole agenda, the mornings of today and tomorrow with it."""
    today = known.life.today(at)
    mornings = [today, today + dt.timedelta(days=1)]
    return in_order([*agenda(known), *sleep_moments(known, mornings)])


async def reschedule(tx: AsyncConnection, client_id: int, at: dt.datetime) -> None:
    """Work out anew when something is due for a client, after anything about them changed."""
    client = await house.clients.find(tx, t.client.c.id == client_id, locked=True)
    if client is None:
        return
    known = await house.known_of(tx, client, at)
    due = next_due(moments_of(known, at), known.life, at)
    due = _before_it_is_too_late(due, client, at)
    await tx.execute(update(t.client).where(t.client.c.id == client_id).values(next_due_at=due))


def _before_it_is_too_late(due: dt.datetime | None, client: Client, at: dt.datetime) -> dt.datetime | None:
    """Look again tomorrow at who is asked about every night, since their mornings are planned two days ahead."""
    if not client.may_be_asked or client.sleep_asked != "daily":
        return due
    tomorrow = at + A_DAY_AHEAD
    return tomorrow if due is None else min(due, tomorrow)


async def reschedule_coach(tx: AsyncConnection, coach: Coach, at: dt.datetime) -> None:
    due = await coach_due(tx, coach, at)
    await tx.execute(update(t.coach).where(t.coach.c.id == coach.id).values(next_due_at=due))


async def coach_due(tx: AsyncConnection, coach: Coach, at: dt.datetime) -> dt.datetime | None:
    if coach.stage is not Stage.ACTIVE or coach.telegram_id is None or coach.unreachable:
        return None
    alarm = await next_alarm(tx, coach.id)
    moments = [digest_moment(coach, at), short_list_moment(coach, at), *([alarm] if alarm else [])]
    return min(moments)


def digest_moment(coach: Coach, at: dt.datetime) -> dt.datetime:
    """When the next digest is due: Sunday at the coach's hour, of the first week that had none yet."""
    return _sunday_at(coach, week_to_close(coach, coach.last_digest, at))


def short_list_moment(coach: Coach, at: dt.datetime) -> dt.datetime:
    """A day before the digest, for the clients whom it would leave too little time."""
    return _sunday_at(coach, week_to_close(coach, coach.last_short_list, at)) - A_DAY_AHEAD


def week_to_close(coach: Coach, last: IsoWeek | None, at: dt.datetime) -> IsoWeek:
    """The week that the next digest closes. After an outage only the latest one still makes sense."""
    from core.calendar import zones

    running = IsoWeek.of(zones.local(at, coach.zone).date())
    if last is None or last < running.previous():
        previous = running.previous()
        return running if last is None else previous
    return last.next()


def _sunday_at(coach: Coach, week: IsoWeek) -> dt.datetime:
    from core.calendar import zones

    return zones.resolve(week.sunday, coach.digest_at, coach.zone)


async def next_alarm(tx: AsyncConnection, coach_id: int) -> dt.datetime | None:
    """When the coach is to hear again of a red flag that they have not yet seen."""
    return min((again for _, again in await alarms(tx, coach_id)), default=None)


async def alarms(tx: AsyncConnection, coach_id: int) -> list[tuple[RedFlag, dt.datetime]]:
    """Every red flag that the coach was told of and has not seen, and when to tell it again: one client may have several."""
    own = select(t.client.c.id).where(t.client.c.coach_id == coach_id)
    unseen = await house.red_flags.list(
        tx,
        t.red_flag.c.client_id.in_(own),
        t.red_flag.c.seen_at.is_(None),
        t.red_flag.c.cleared_at.is_(None),
        t.red_flag.c.told < ALARMS_AT_MOST,
    )
    return [(flag, flag.told_at + REPEAT_ALARM_AFTER) for flag in unseen if flag.told_at is not None]
