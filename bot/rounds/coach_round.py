"""What is due for one coach: the digest, the short list a day ahead, and red flags that have not been seen.

The digest is made in three steps: gather and issue, a transaction a client, so that nobody waits for all the others; draw outside of
any; enqueue in another. Its keys are made from coach and week, so that two workers who make it at once send it once.
"""

import base64
import datetime as dt
import logging
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.buttons import Button
from bot.chats.client.care import alert_rows
from bot.chats.coach.settle import choice_rows, well_together
from bot.chats.phrases import care as of_care
from bot.chats.phrases import coach as say
from bot.chats.turn import Desk, Speaker
from bot.learning import learn
from core.adherence.advice import Advice
from core.adherence.forecast import Population
from core.adherence.history import HistoryRow
from core.calendar import zones
from core.calendar.weeks import IsoWeek
from core.digest import order, picture, words
from core.digest.facts import ClientWeek, GroupWeek, Unread
from core.people.model import Client, Coach, Stage
from core.people.records import RedFlag
from core.store import house
from core.store import house_tables as t
from core.store.engine import Store
from core.store.lanes import Kind
from core.store.unread import left_out, reason
from core.usecases import care, issued, recommend, silence, weekly
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

log = logging.getLogger(__name__)

FRESH_FOR = dt.timedelta(hours=36)  # a digest later than that is left out: the next one tells it all


@dataclass(frozen=True, slots=True, kw_only=True)
class Gathered:
    """One client in a digest."""

    client: Client
    promise: Promise | None
    facts: ClientWeek


async def tick_coach(store: Store, desk: Desk, coach_id: int, at: dt.datetime) -> None:
    """Deal with what is due for a coach. An alarm that cannot be repeated holds up nothing else, and is tried again."""
    async with store.reading() as tx:
        coach = await house.coaches.get(tx, coach_id)
    stumbled = await repeat_alarms(store, desk, coach, at)
    if short_list_moment(coach, at) <= at:
        await short_list(store, desk, coach, at)
    if digest_moment(coach, at) <= at:
        await digest(store, desk, coach, at)
    async with store.begin() as tx:
        await reschedule_coach(tx, await house.coaches.get(tx, coach_id), at)
    if stumbled is not None:
        raise stumbled


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
    early = list[int]()
    async with store.reading() as tx:
        for client_id, _ in await house.active_names_of(tx, coach.id):
            with left_out(f"client {client_id}"):  # the digest says why
                if await _is_early(tx, await house.clients.get(tx, client_id), sunday, week):
                    early.append(client_id)
    group, gathered = await gather(store, coach, week, at, only=early)
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
    learnt, cohort = await learn(store, zones.local(at, coach.zone).date())
    async with store.reading() as tx:
        everybody = await house.active_names_of(tx, coach.id)
    gathered, unread = list[Gathered](), list[Unread]()
    for client_id, name in everybody:
        if only is not None and client_id not in only:
            continue
        try:
            async with store.begin() as tx:
                rows = cohort.get(str(client_id), [])
                one = await _gather_one(tx, client_id, week, at, learnt, rows)
                await reschedule(tx, client_id, at)
        except Exception as error:
            unread.append(Unread(name, reason(error)))
            log.exception("client %s cannot be read, and is left out of a digest", client_id)
        else:
            gathered += one
    async with store.reading() as tx:
        past = await issued.audit_of(tx, coach.id)
    by_facts = {id(g.facts): g for g in gathered}
    ordered = [by_facts[id(f)] for f in order.in_order([g.facts for g in gathered])]
    told = tuple(g.facts for g in ordered)
    return GroupWeek(week=week, clients=told, unread=tuple(unread), audit=past), ordered


async def _gather_one(
    tx: AsyncConnection,
    client_id: int,
    week: IsoWeek,
    at: dt.datetime,
    learnt: Population,
    rows: Sequence[HistoryRow],
) -> list[Gathered]:
    """One client; none where they left while the others were gathered."""
    client = await house.clients.find(tx, t.client.c.id == client_id, locked=True)
    if client is None or client.stage is not Stage.ACTIVE:
        return []
    advice = await recommend.advice_for(tx, client, at, learnt, rows, coming=week.next())
    coming = await _promise_of(tx, client, week.next(), advice, at)
    told = await weekly.client_week(tx, client, week, coming, advice, rows)
    if coming is not None and coming.settled is None:
        coming = await house.promises.save(tx, replace(coming, well=order.is_well(told)))
    return [Gathered(client=client, promise=coming, facts=told)]


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
        say.choice(each.client, each.promise, each.facts, last),
        rows,
        kind=Kind.SETTLE,
        key=f"settle:{each.promise.id}",
        person=str(each.client.id),
    )


# --- red flags --------------------------------------------------------------------------------------------------------


async def repeat_alarms(store: Store, desk: Desk, coach: Coach, at: dt.datetime) -> Exception | None:
    """A red flag is told again until it is seen. Returns what went wrong with one of them, if anything."""
    stumbled: Exception | None = None
    async with store.reading() as tx:
        due = {flag.client_id for flag, again in await alarms(tx, coach.id) if again <= at}
    for client_id in sorted(due):
        try:
            async with store.begin() as tx:
                await _repeat_of(tx, desk, coach, client_id, at)
        except Exception as error:  # noqa: BLE001 - raised once all else is done
            reason(error)
            stumbled = error
    return stumbled


async def _repeat_of(tx: AsyncConnection, desk: Desk, coach: Coach, client_id: int, at: dt.datetime) -> None:
    client = await house.clients.find(tx, t.client.c.id == client_id, locked=True)
    for flag, again in await alarms(tx, coach.id):  # as they stand now that nobody else changes them
        if client is not None and flag.client_id == client_id and again <= at:
            await _repeat(tx, desk, coach, client, flag, at)


async def _repeat(
    tx: AsyncConnection, desk: Desk, coach: Coach, client: Client, flag: RedFlag, at: dt.datetime
) -> None:
    told = await care.tell_coach_again(tx, flag, at)
    where, local = client.place or client.zone, None
    with left_out(f"client {client.id}"):  # where they are may be what cannot be read; the alarm goes out
        life = await house.circumstances(tx, client)
        stay = life.where.stay_at(at)
        where, local = stay.place or stay.zone, life.where.local_at(told.raised_at)
    if coach.telegram_id is not None:
        await Speaker(tx, at, desk, occasion=f"flag:{flag.id}", about=str(client.id)).say(
            coach.telegram_id,
            of_care.red_flag(client, told, where, local),
            alert_rows(client, told),
            kind=Kind.SAFETY,
            key=f"flag:{flag.id}:{told.told}",
        )
