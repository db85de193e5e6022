"""Who is speaking decides where a message goes: a coach, a client, or a stranger. Groups are left."""

import datetime as dt
from collections.abc import Mapping

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats import strangers
from bot.chats.beforehand import Granted, ToLearn, Wish
from bot.chats.client import door as client_door
from bot.chats.client import trip_files
from bot.chats.coach import door as coach_door
from bot.chats.coach import files as coach_files
from bot.chats.files import Brought, Wanted
from bot.chats.incoming import Incoming, Kind, read
from bot.chats.turn import Desk, Speaker, Turn
from core.calendar import zones
from core.people.model import Client
from core.store import house
from core.store.columns import Json
from core.store.lanes import Kind as Out
from core.usecases.schedule import reschedule, reschedule_coach


async def wanted(tx: AsyncConnection, desk: Desk, update: Mapping[str, Json], at: dt.datetime) -> Wish | None:
    """What a message needs before it is handled. Strangers' files are not fetched."""
    incoming = read(update)
    if not incoming.user_id or incoming.chat_id != incoming.user_id:
        return None
    if incoming.kind is Kind.MEDIA and incoming.media == "document":
        return await _file(tx, incoming, at)
    return await _lesson(tx, desk, incoming, at)


async def _lesson(tx: AsyncConnection, desk: Desk, incoming: Incoming, at: dt.datetime) -> ToLearn | None:
    """What a first promise is reckoned by, where a coach is about to confirm somebody."""
    match incoming.kind:
        case Kind.BUTTON:
            pressed = desk.signer.read(incoming.button, incoming.chat_id)
            confirms = pressed is not None and pressed[0] == "confirm"
        case Kind.TEXT:
            confirms = (await house.dialogue_of(tx, incoming.user_id, at)).topic == "confirm"
        case _:
            return None
    coach = await house.coach_by_telegram(tx, incoming.user_id) if confirms else None
    return ToLearn(zones.local(at, coach.zone).date()) if coach is not None else None


async def _file(tx: AsyncConnection, incoming: Incoming, at: dt.datetime) -> Wanted | None:
    """The file of a message, if it is one that its door wants to read."""
    coach = await house.coach_by_telegram(tx, incoming.user_id)
    if coach is not None:
        dialogue = await house.dialogue_of(tx, incoming.user_id, at)
        return await coach_files.wanted(tx, coach, incoming, dialogue)
    client = await house.client_by_telegram(tx, incoming.user_id)
    return await trip_files.wanted(tx, client, incoming, at) if client is not None else None


async def route(
    tx: AsyncConnection,
    desk: Desk,
    update: Mapping[str, Json],
    at: dt.datetime,
    granted: Granted | None = None,
) -> None:
    """Handle one update, inside the transaction that marks it handled."""
    incoming = read(update)
    if incoming.kind is Kind.GROUP:
        await _leave(tx, desk, incoming, at)
        return
    if incoming.kind is Kind.OTHER or not incoming.user_id or not incoming.chat_id:
        return
    if incoming.chat_id != incoming.user_id:
        return  # not a private chat with this person: nothing of theirs may be said there
    client = await house.client_by_telegram(tx, incoming.user_id, locked=True)
    turn = Turn(
        incoming=incoming,
        speaker=Speaker(tx, at, desk, occasion=f"re:{incoming.chat_id}:{incoming.update_id}"),
        dialogue=await house.dialogue_of(tx, incoming.user_id, at),
        brought=granted if isinstance(granted, Brought) else None,
        learnt=None if isinstance(granted, Brought) else granted,
    )
    await _enter(turn, client)
    for client_id in sorted(turn.touched):
        await reschedule(tx, client_id, at)


async def _enter(turn: Turn, client: Client | None) -> None:
    tx = turn.tx
    coach = await house.coach_by_telegram(tx, turn.incoming.user_id)
    if coach is not None:
        await coach_door.enter(turn, coach)
        return
    if client is not None:
        turn.speaker.about = str(client.id)
        await client_door.enter(turn, client)
        coach = await house.coaches.find(tx, house.coaches.table.c.id == client.coach_id)
        if coach is not None and await house.open_red_flag(tx, client.id) is not None:
            await reschedule_coach(tx, coach, turn.at)
        return
    await strangers.meet(turn)


async def _leave(tx: AsyncConnection, desk: Desk, incoming: Incoming, at: dt.datetime) -> None:
    """We talk with one person at a time: a group is left, once."""
    if incoming.left or not incoming.chat_id:
        return
    speaker = Speaker(tx, at, desk, occasion=f"leave:{incoming.chat_id}")
    await speaker.send(
        incoming.chat_id, "leaveChat", {}, kind=Out.EDIT, key=f"leave:{incoming.chat_id}:{at:%Y-%m-%d}"
    )
