"""Red flags, pain and illness: what comes before every count.

Until the coach clears a red flag, with a note, asks are excused and nothing asks the client to train.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Role
from core.people.records import RedFlag, Remark
from core.store import house
from core.store import house_tables as t
from core.terms import Outcome, Place
from core.week import answering
from core.week.count import of_promise
from core.week.model import Ask

PHYSIOTHERAPIST_AT_MENTION = 3
MENTIONS_COUNT_FOR_WEEKS = 8


async def raise_red_flag(
    tx: AsyncConnection, client: Client, words: str, *, sure: bool, at: dt.datetime
) -> RedFlag:
    """Keep a red flag, and excuse what is open today."""
    flag = await house.red_flags.add(
        tx, RedFlag(id=0, client_id=client.id, words=words, sure=sure, raised_at=at, told=0, told_at=None)
    )
    await excuse_day(tx, client, at)
    return flag


async def excuse_day(tx: AsyncConnection, client: Client, at: dt.datetime) -> list[Ask]:
    """Excuse the asks of today that are still open."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    week = await house.asks_of_week(tx, client.id, IsoWeek.of(today))
    excused = [
        answering.answer(a, Outcome.EXCUSED, at=at) for a in of_promise(week) if a.is_open and a.day <= today
    ]
    for ask in excused:
        await house.asks.save(tx, ask)
    return excused


async def tell_coach_again(tx: AsyncConnection, flag: RedFlag, at: dt.datetime) -> RedFlag:
    return await house.red_flags.save(tx, replace(flag, told=flag.told + 1, told_at=at))


async def seen_by_coach(tx: AsyncConnection, flag: RedFlag, at: dt.datetime) -> RedFlag:
    return await house.red_flags.save(tx, replace(flag, seen_at=flag.seen_at or at))


async def clear_red_flags(tx: AsyncConnection, client: Client, note: str, at: dt.datetime) -> int:
    """Clear every open red flag of a client, with the coach's note. Returns how many there were."""
    flags = await house.red_flags.list(
        tx, t.red_flag.c.client_id == client.id, t.red_flag.c.cleared_at.is_(None)
    )
    for flag in flags:
        await house.red_flags.save(tx, replace(flag, cleared_at=at, seen_at=flag.seen_at or at, note=note))
    await _tell_what_was_withheld(tx, client, at)
    return len(flags)


async def _tell_what_was_withheld(tx: AsyncConnection, client: Client, at: dt.datetime) -> None:
    """The number of a week is not told under a red flag: what waited may be told now, if its week is not over."""
    life = await house.circumstances(tx, client)
    for promise in await house.promises_of(tx, client.id, since=IsoWeek.of(life.today(at))):
        if promise.told_at is not None and not promise.tellings and promise.agreed is None:
            await house.promises.save(tx, replace(promise, told_at=None))


async def deny_red_flag(tx: AsyncConnection, client: Client, at: dt.datetime) -> bool:
    """The client says that it was a figure of speech: flags that were only asked about are cleared."""
    flags = await house.red_flags.list(
        tx,
        t.red_flag.c.client_id == client.id,
        t.red_flag.c.cleared_at.is_(None),
        t.red_flag.c.sure.is_(False),
    )
    for flag in flags:
        await house.red_flags.save(
            tx, replace(flag, cleared_at=at, note="the client says that it was a figure of speech")
        )
    await _tell_what_was_withheld(tx, client, at)
    return bool(flags)


async def confirm_red_flag(tx: AsyncConnection, client: Client) -> RedFlag | None:
    """The client says that it was meant: the flag is sure from now on."""
    flag = await house.open_red_flag(tx, client.id)
    return None if flag is None else await house.red_flags.save(tx, replace(flag, sure=True))


async def note_pain(
    tx: AsyncConnection, client: Client, places: Iterable[Place], words: str, at: dt.datetime
) -> set[Place]:
    """Keep pain by place. Returns the places that have now been named often enough to suggest a physiotherapist."""
    life = await house.circumstances(tx, client)
    week = IsoWeek.of(life.today(at))
    named = tuple(str(p) for p in places)
    await house.remarks.add(
        tx,
        Remark(
            id=0,
            client_id=client.id,
            said_by=Role.CLIENT,
            kind="pain",
            words=words,
            places=named,
            said_at=at,
            week=week,
        ),
    )
    earlier = await house.remarks_of(tx, client.id, since=week.plus(-MENTIONS_COUNT_FOR_WEEKS))
    mentions = [place for remark in earlier if remark.kind == "pain" for place in remark.places]
    return {Place(p) for p in named if mentions.count(p) >= PHYSIOTHERAPIST_AT_MENTION}


async def pains_of(tx: AsyncConnection, client: Client, *, since: IsoWeek) -> frozenset[Place]:
    """The places that hurt lately, and the complaints named at enrolment: sessions are adapted away from all of them."""
    lately = {
        Place(p)
        for r in await house.remarks_of(tx, client.id, since=since)
        if r.kind == "pain"
        for p in r.places
    }
    return frozenset(lately | {Place(p) for p in client.complaints})


async def fall_ill(tx: AsyncConnection, client: Client, at: dt.datetime) -> tuple[Client, list[Ask]]:
    """Illness excuses today's ask and stops later ones, which ask 'better?' instead, until it is over."""
    life = await house.circumstances(tx, client)
    ill = await house.clients.save(tx, replace(client, unwell_since=client.unwell_since or life.today(at)))
    return ill, await excuse_day(tx, ill, at)


async def recover(tx: AsyncConnection, client: Client) -> Client:
    return await house.clients.save(tx, replace(client, unwell_since=None))
