"""Everything held about one client: to hand it over, and to remove it."""

import dataclasses
import datetime as dt
import enum
from typing import Any

from sqlalchemy import ColumnElement, Table, delete, or_, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client, Role
from core.store import house, housekeeping, queue_tables
from core.store import house_tables as t
from core.store import programme_tables as p

OF_CLIENT: tuple[Table, ...] = (
    t.screening,
    t.trip,
    t.promise,
    t.ask,
    t.unasked,
    t.night,
    t.red_flag,
    t.remark,
    t.remote_session,
    p.lift_result,
    p.year_plan,
    p.own_session,
)


async def held_about(tx: AsyncConnection, client: Client) -> dict[str, Any]:
    """All that is held about a client, in plain words and numbers: one list a table."""
    held: dict[str, Any] = {"client": plain(dataclasses.asdict(client))}
    for table in OF_CLIENT:
        rows = (
            await tx.execute(select(table).where(table.c.client_id == client.id).order_by(table.c.id))
        ).mappings()
        held[table.name] = [plain(dict(row)) for row in rows]
    dialogue = await tx.execute(select(t.dialogue).where(t.dialogue.c.telegram_id == client.telegram_id))
    held["dialogue"] = [plain(dict(row)) for row in dialogue.mappings()]
    for table in (queue_tables.inbox, queue_tables.outbox):
        rows = (await tx.execute(select(table).where(_about(table, client)).order_by(table.c.id))).mappings()
        held[table.name] = [plain(_without_content(dict(row))) for row in rows]
    return held


def _about(table: Table, client: Client) -> ColumnElement[bool]:
    """Messages in the client's own chat, if they have one, and messages about them in their coach's."""
    own = table.c.chat_id == client.telegram_id
    return or_(own, table.c.person == str(client.id)) if "person" in table.c else own


def _without_content(row: dict[str, Any]) -> dict[str, Any]:
    """A message with the names of the files that went with it: what was in them is held elsewhere, or was an export itself."""
    files = (row.get("payload") or {}).get("files")
    if not files:
        return row
    named = {parameter: {"name": file["name"]} for parameter, file in files.items()}
    return {**row, "payload": {**row["payload"], "files": named}}


def plain(value: Any) -> Any:  # noqa: ANN401 - any field of any table
    """A value as JSON can carry it."""
    if isinstance(value, dict):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple | frozenset | set):
        return [plain(v) for v in value]
    if isinstance(value, enum.Enum):
        return value.value
    if isinstance(value, dt.datetime | dt.date | dt.time):
        return value.isoformat()
    return str(value) if isinstance(value, IsoWeek) else value


async def erase(tx: AsyncConnection, client: Client) -> None:
    """Remove a client and everything of theirs: rows, words, queued messages, the invitation, where their dialogue stood."""
    # Whoever is adding to them has ended before anything is looked for.
    await house.clients.lock(tx, client.id)
    for table in OF_CLIENT:
        await tx.execute(delete(table).where(table.c.client_id == client.id))
    await tx.execute(
        delete(t.invitation).where(t.invitation.c.role == Role.CLIENT, t.invitation.c.person_id == client.id)
    )
    coach = await house.coaches.find(tx, t.coach.c.id == client.coach_id)
    await tx.execute(delete(queue_tables.outbox).where(_about(queue_tables.outbox, client)))
    if client.telegram_id is not None:
        await house.forget_dialogue(tx, client.telegram_id)
        # The marks of handled updates stay, so that none is handled again; what they said goes.
        inbox = queue_tables.inbox
        await tx.execute(update(inbox).where(inbox.c.chat_id == client.telegram_id).values(body=None))
    if coach is not None and coach.telegram_id is not None:
        await house.forget_dialogue(tx, coach.telegram_id)  # a file about them may wait there for a tap
        await housekeeping.blank_chat(tx, coach.telegram_id)  # an answer there may tell of several people
    await tx.execute(delete(t.client).where(t.client.c.id == client.id))
