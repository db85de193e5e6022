"""A client's programme as a spreadsheet: the coming weeks go out; what a coach wrote comes back as sessions for that client."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from sqlalchemy import ColumnElement
from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.errors import Refused
from core.people.model import Client
from core.programme.build import build_session
from core.programme.kept import OwnSession
from core.programme.sheets.programme import ProgrammeRow, rows_of
from core.programme.week import Trained, lead_of, plan_week
from core.store import house
from core.store import programme as shelves
from core.store import programme_tables as p
from core.usecases import own
from core.usecases import sessions as deeds
from core.usecases.carrying import done_sessions, phase_on, trained_by_sessions

A_SECOND = dt.timedelta(seconds=1)
WEEKS_AHEAD = 4
USUAL_SESSIONS = 2
_SECONDS_A_REPETITION, _USUAL_REST_S = 3, 75  # for minutes that nobody wrote down
_WARM_UP_S = 240


async def coming_programme(tx: AsyncConnection, client: Client, at: dt.datetime) -> list[ProgrammeRow]:
    """The sessions of the next weeks as they would be built at home, if every one before them is done."""
    life = await house.circumstances(tx, client)
    first = IsoWeek.of(life.today(at)).next()
    number = await _promised(tx, client, first)
    usual, _ = await deeds.request_for(tx, client, at=at, minutes=client.minutes, room=client.room)
    library = await own.library_of(tx, client.coach_id)
    trained = trained_by_sessions(await done_sessions(tx, client), life)
    recent, rows = usual.recent, list[ProgrammeRow]()
    for week in range(WEEKS_AHEAD):
        monday = first.plus(week).monday
        phase = await phase_on(tx, client, monday)
        for place in range(number):
            carried = plan_week(
                promise=number, left=number - place, monday=monday, block=phase.block, trained=trained
            )[0]
            request = replace(
                usual,
                block=phase.block,
                deload=phase.deload,
                share=phase.share,
                patterns=carried.patterns,
                emphasis=carried.emphasis,
                recent=recent,
                short_sleep=False,
            )
            session = build_session(request, library)
            rows += rows_of(session, week + 1, place + 1)
            recent = (session.keys, *recent)[: deeds.LOOK_BACK]
            day = monday + dt.timedelta(days=place)
            trained.append(Trained(day, frozenset(session.patterns), lead_of(session.patterns)))
    return rows


async def _promised(tx: AsyncConnection, client: Client, week: IsoWeek) -> int:
    """The sessions of the coming week, else of the last one that had a promise, else what there were lately."""
    promises = [each.number for each in await house.promises_of(tx, client.id) if each.week <= week]
    known = [number for number in promises if number]
    return known[-1] if known else max(1, client.lately or USUAL_SESSIONS)


async def take_in(
    tx: AsyncConnection, client: Client, rows: Sequence[ProgrammeRow], at: dt.datetime
) -> list[OwnSession]:
    """Keep what a coach wrote as sessions for this client, in place of what was taken in before.

    What it takes the place of is kept for one way back (``take_out``); what was before that goes. ``Refused``, and nothing
    changed, where there would be more sessions of the coach's own than are kept.
    """
    columns = p.own_session.c
    new = number_of_sessions(rows)
    kept = await shelves.own_sessions.list(
        tx, columns.coach_id == client.coach_id, columns.client_id.is_(None)
    )
    if len(kept) + new > own.MOST_SESSIONS:
        raise Refused(
            f"The programme has {new} sessions, and you keep {len(kept)} of your own; together {own.MOST_SESSIONS} are "
            "the most. Send fewer weeks, or take some of your own away first."
        )
    before = await own.programme_of(tx, client)
    await _remove(tx, client, columns.id.not_in([each.id for each in before]))
    # Later than any other, by what a mark can tell.
    made_at = max([at, *(each.made_at + A_SECOND for each in before[:1])])
    return [
        await shelves.own_sessions.add(tx, _session(client, week, number, list(group), made_at))
        for (week, number), group in groupby(sorted(rows, key=_place), key=_place)
    ]


def mark_of(taken: Sequence[OwnSession]) -> int:
    """What a file that was taken in is known by, short enough for a button: whole seconds since 1970."""
    return int(taken[0].made_at.timestamp()) if taken else 0


async def take_out(tx: AsyncConnection, client: Client, mark: int) -> tuple[int, int] | None:
    """Take the last file back: how many of its sessions went, and how many of the one before hold again. None if it is not the last."""
    last = await own.programme_of(tx, client)
    if not last or mark_of(last) != mark:
        return None
    await _remove(tx, client, p.own_session.c.id.in_([each.id for each in last]))
    return len(last), len(await own.programme_of(tx, client))


async def _remove(tx: AsyncConnection, client: Client, which: ColumnElement[bool]) -> None:
    columns = p.own_session.c
    await shelves.own_sessions.remove(
        tx, columns.coach_id == client.coach_id, columns.client_id == client.id, which
    )


def number_of_sessions(rows: Iterable[ProgrammeRow]) -> int:
    return len({_place(row) for row in rows})


async def taken_in_before(tx: AsyncConnection, client: Client) -> int:
    """How many sessions an earlier file left for this client: a new one takes their place."""
    return len(await own.programme_of(tx, client))


def _place(row: ProgrammeRow) -> tuple[int, int]:
    return row.week, row.session


def _session(
    client: Client, week: int, number: int, rows: Sequence[ProgrammeRow], at: dt.datetime
) -> OwnSession:
    title = f"{str(rows[0].block).capitalize()}, week {week}, session {number}"
    words = "\n\n".join([title, *(row_words(row) for row in rows)])
    return OwnSession(
        id=0,
        coach_id=client.coach_id,
        client_id=client.id,
        title=title,
        words=words,
        room=client.room,
        minutes=minutes_of(rows),
        made_at=at,
    )


def row_words(row: ProgrammeRow) -> str:
    """'Goblet squat, 3 × 8 to 12 repetitions, 2 left in reserve, 20 kg; rest 90 s'."""
    many = str(row.low) if row.low == row.high else f"{row.low} to {row.high}"
    said = [row.exercise, f"{row.sets} × {many} {row.unit}"]
    said += [f"{row.rir} left in reserve"] if row.rir is not None else []
    said += [f"{row.kg:g} kg"] if row.kg is not None else []
    said += [row.note] if row.note else []
    rest = f"; rest {row.rest_s} s" if row.rest_s is not None else ""
    return ", ".join(said) + rest


def minutes_of(rows: Iterable[ProgrammeRow]) -> int:
    """About how long a written session takes, in fives, with a short warm-up."""
    seconds = _WARM_UP_S + sum(row.sets * (_work_s(row) + _rest_s(row)) for row in rows)
    return max(10, round(seconds / 300) * 5)


def _work_s(row: ProgrammeRow) -> int:
    sides = 2 if row.unit.endswith("a side") else 1
    each = 1 if row.unit.startswith("seconds") else _SECONDS_A_REPETITION
    return row.high * each * sides


def _rest_s(row: ProgrammeRow) -> int:
    return row.rest_s if row.rest_s is not None else _USUAL_REST_S
