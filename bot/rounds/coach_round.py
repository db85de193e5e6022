"""What is due for one coach: the digest, the short list a day ahead, and red flags that have not been seen.

The digest is made in three steps: gather and issue, a transaction a client, so that nobody waits for all the others; draw outside of
any; enqueue in another. Its keys are made from coach and week, so that two workers who make it at once send it once.
"""

import base64
import datetime as dt
from asyncio import to_thread
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.buttons import Button
from bot.chats.client.care import alert_rows
from bot.chats.coach.settle import choice_rows, well_together
from bot.chats.phrases import care as of_care
from bot.chats.phrases import coach as say
from bot.chats.turn import Desk, Speaker
from core.adherence.advice import Advice
from core.adherence.forecast import Population
from core.adherence.history import HistoryRow
from core.calendar import zones
from core.calendar.weeks import IsoWeek
from core.digest import order, picture, words
from core.digest.facts import ClientWeek, GroupWeek
from core.people.model import Client, Coach, Stage
from core.store import house
from core.store import house_tables as t
from core.store.engine import Store
from core.store.lanes import Kind
from core.usecases import care, history, issued, recommend, silence, weekly
from core.usecases.schedule import (
    alarms,
    digest_moment,
    reschedule,
    reschedule_coach,
    short_list_moment,
    week_to_close,
)
from core.week.model import Promise
from core.week.settling import needs_short_list

FRESH_FOR = dt.timedelta(hours=36)  # a digest later than that is left out: the next one tells it all


@dataclass(frozen=True, slots=True, kw_only=True)
class Gathered:
    """One client in a digest."""

    client: Client
    promise: Promise | None
    facts: ClientWeek


async def tick_coach(store: Store, desk: Desk, coach_id: int, at: dt.datetime) -> None:
    """Deal with what is due for a coach."""
    async with store.begin() as tx:
        coach = await house.coaches.get(tx, coach_id)
        await repeat_alarms(tx, desk, coach, at)
    if short_list_moment(coach, at) <= at:
        await short_list(store, desk, coach, at)
    if digest_moment(coach, at) <= at:
        await digest(store, desk, coach, at)
    async with store.begin() as tx:
        await reschedule_coach(tx, await house.coaches.get(tx, coach_id), at)


# --- the digest -------------------------------------------------------------------------------------------------------


async def digest(store: Store, desk: Desk, coach: Coach, at: dt.datetime) -> None:
    week = week_to_close(coach, coach.last_digest, at)
    fresh = at < digest_moment(coach, at) + FRESH_FOR
    group, gathered = await gather(store, coach, week, at)
    drawn = picture.picture(group) if fresh and group.clients else b""
    async with store.begin() as tx:
        speaker = Speaker(tx, at, desk, occasion=f"digest:{coach.id}:{week}")
        if fresh:
            await say_digest(speaker, coach, week, group, gathered, drawn)
        await house.coaches.save(tx, replace(await house.coaches.lock(tx, coach.id), last_digest=week))


async def short_list(store: Store, desk: Desk, coach: Coach, at: dt.datetime) -> None:
    """A day ahead: the clients whose Monday begins before the coach could settle on Sunday."""
    week = week_to_close(coach, coach.last_short_list, at)
    sunday = zones.resolve(week.sunday, coach.digest_at, coach.zone)
    async with store.begin() as tx:
        early = [
            c for c in await house.active_clients_of(tx, coach.id) if await _is_early(tx, c, sunday, week)
        ]
    group, gathered = await gather(store, coach, week, at, only=[c.id for c in early])
    async with store.begin() as tx:
        speaker = Speaker(tx, at, desk, occasion=f"short-list:{coach.id}:{week}")
        to_settle = [g.client.name for g in gathered if g.promise is not None and g.promise.settled is None]
        if to_settle and at < sunday and coach.telegram_id is not None:
            await speaker.say(
                coach.telegram_id,
                say.day_ahead(to_settle),
                kind=Kind.DIGEST,
                key=f"{speaker.occasion}:head",
            )
            await say_choices(speaker, coach, week, group, gathered)
        await house.coaches.save(tx, replace(await house.coaches.lock(tx, coach.id), last_short_list=week))


async def _is_early(tx: AsyncConnection, client: Client, sunday: dt.datetime, week: IsoWeek) -> bool:
    return needs_short_list(sunday, week.next(), await house.circumstances(tx, client))


async def gather(
    store: Store, coach: Coach, week: IsoWeek, at: dt.datetime, only: Sequence[int] | None = None
) -> tuple[GroupWeek, list[Gathered]]:
    """Issue every client's recommendation and gather the facts; those in most need first."""
    async with store.reading() as tx:
        cohort = await history.cohort(tx)
        everybody = await house.active_clients_of(tx, coach.id)
    learnt = await to_thread(recommend.learnt_from, cohort, zones.local(at, coach.zone).date())
    gathered: list[Gathered] = []
    for client_id in (each.id for each in everybody if only is None or each.id in only):
        async with store.begin() as tx:
            client = await house.clients.find(tx, t.client.c.id == client_id, locked=True)
            if client is None or client.stage is not Stage.ACTIVE:  # they left while the others were gathered
                continue
            gathered.append(await _gather_one(tx, client, week, at, learnt, cohort.get(str(client_id), [])))
            await reschedule(tx, client_id, at)
    async with store.reading() as tx:
        past = await issued.audit_of(tx, coach.id)
    by_name = {id(g.facts): g for g in gathered}
    ordered = [by_name[id(f)] for f in order.in_order([g.facts for g in gathered])]
    return GroupWeek(week=week, clients=tuple(g.facts for g in ordered), audit=past), ordered


async def _gather_one(
    tx: AsyncConnection,
    client: Client,
    week: IsoWeek,
    at: dt.datetime,
    learnt: Population,
    rows: Sequence[HistoryRow],
) -> Gathered:
    advice = await recommend.advice_for(tx, client, at, learnt, rows, coming=week.next())
    coming = await _promise_of(tx, client, week.next(), advice, at)
    told = await weekly.client_week(tx, client, week, coming, advice, rows)
    if coming is not None and coming.settled is None:
        coming = await house.promises.save(tx, replace(coming, well=order.is_well(told)))
    return Gathered(client=client, promise=coming, facts=told)


async def _promise_of(
    tx: AsyncConnection, client: Client, coming: IsoWeek, advice: Advice, at: dt.datetime
) -> Promise | None:
    """The coming week's promise: recommended, or one by silence, or none while paused or before the first week."""
    if client.is_paused_on(coming.sunday) or (client.first_week is not None and coming < client.first_week):
        return None
    if client.silent_since is not None:
        return await silence.promise_in_silence(tx, client, coming, at)
    return await recommend.issue(tx, client, coming, advice, at=at)


# --- saying it --------------------------------------------------------------------------------------------------------


async def say_digest(
    speaker: Speaker,
    coach: Coach,
    week: IsoWeek,
    group: GroupWeek,
    gathered: Sequence[Gathered],
    drawn: bytes,
) -> None:
    """The message, the picture, then the buttons: one for all that is well, a row for each who needs thought."""
    chat = coach.telegram_id
    if chat is None:
        return
    for number, text in enumerate(words.digest_messages(group)):
        await speaker.say(chat, text, kind=Kind.DIGEST, key=f"{speaker.occasion}:text:{number}")
    if drawn:
        file = {"name": f"week-{week}.png", "content": base64.b64encode(drawn).decode()}
        body = {"files": {"photo": file}}
        await speaker.send(chat, "sendPhoto", body, kind=Kind.DIGEST, key=f"{speaker.occasion}:picture")
    await say_choices(speaker, coach, week, group, gathered)


async def say_choices(
    speaker: Speaker, coach: Coach, week: IsoWeek, _group: GroupWeek, gathered: Sequence[Gathered]
) -> None:
    chat = coach.telegram_id
    if chat is None:
        return
    open_ones = [g for g in gathered if g.promise is not None and g.promise.settled is None]
    well = [g for g in open_ones if g.promise is not None and g.promise.well]
    for each in (g for g in open_ones if g not in well):
        await _say_choice(speaker, chat, each)
    if well:
        text, rows = well_together(
            [(g.client, g.promise) for g in well if g.promise is not None], week.next()
        )
        await speaker.say(chat, text, rows, kind=Kind.SETTLE, key=f"{speaker.occasion}:well")


async def _say_choice(speaker: Speaker, chat: int, each: Gathered) -> None:
    if each.promise is None:
        return
    last = each.facts.next_week.previous if each.facts.next_week is not None else None
    rows: list[list[Button]] = choice_rows(each.promise, last)
    await speaker.say(
        chat,
        say.choice(each.client, each.promise, each.facts),
        rows,
        kind=Kind.SETTLE,
        key=f"settle:{each.promise.id}",
        person=str(each.client.id),
    )


# --- red flags --------------------------------------------------------------------------------------------------------


async def repeat_alarms(tx: AsyncConnection, desk: Desk, coach: Coach, at: dt.datetime) -> None:
    """A red flag is told again until it is seen."""
    due = {flag.client_id for flag, again in await alarms(tx, coach.id) if again <= at}
    clients = {client_id: await house.clients.lock(tx, client_id) for client_id in sorted(due)}
    for flag, again in await alarms(tx, coach.id):  # as they stand now that nobody else changes them
        if again > at or flag.client_id not in clients:
            continue
        client = clients[flag.client_id]
        told = await care.tell_coach_again(tx, flag, at)
        life = await house.circumstances(tx, client)
        stay = life.where.stay_at(at)
        if coach.telegram_id is not None:
            await Speaker(tx, at, desk, occasion=f"flag:{flag.id}", about=str(client.id)).say(
                coach.telegram_id,
                of_care.red_flag(client, told, stay.place or stay.zone, life.where.local_at(told.raised_at)),
                alert_rows(client, told),
                kind=Kind.SAFETY,
                key=f"flag:{flag.id}:{told.told}",
            )
