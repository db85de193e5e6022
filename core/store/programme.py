"""The shelves of the programme, and what is asked of them again and again."""

import datetime as dt

from sqlalchemy import or_
from sqlalchemy.ext.asyncio import AsyncConnection

from core.programme.kept import KeptResult, KeptYear, MediaNote, OwnExercise, OwnSession
from core.store import programme_tables as p
from core.store.shelf import Shelf

own_exercises = Shelf(p.own_exercise, OwnExercise)
own_sessions = Shelf(p.own_session, OwnSession)
media_notes = Shelf(p.media_note, MediaNote)
lift_results = Shelf(p.lift_result, KeptResult)
years = Shelf(p.year_plan, KeptYear)


async def exercises_of(tx: AsyncConnection, coach_id: int) -> list[OwnExercise]:
    return await own_exercises.list(tx, p.own_exercise.c.coach_id == coach_id)


async def sessions_of(
    tx: AsyncConnection, coach_id: int, *, client_id: int | None = None
) -> list[OwnSession]:
    """The coach's own sessions for everybody, and those for one client, the newest first."""
    columns = p.own_session.c
    whose = or_(columns.client_id.is_(None), columns.client_id == client_id)
    return await own_sessions.list(tx, columns.coach_id == coach_id, whose, order=[columns.id.desc()])


async def media_of(tx: AsyncConnection, coach_id: int) -> dict[str, MediaNote]:
    """The media notes of a coach, by exercise."""
    notes = await media_notes.list(tx, p.media_note.c.coach_id == coach_id)
    return {note.exercise: note for note in notes}


async def attach(tx: AsyncConnection, note: MediaNote) -> MediaNote:
    """Keep a note for an exercise; a newer one takes the place of the older."""
    where = (p.media_note.c.coach_id == note.coach_id, p.media_note.c.exercise == note.exercise)
    await media_notes.remove(tx, *where)
    return await media_notes.add(tx, note)


async def results_of(
    tx: AsyncConnection, client_id: int, *, since: dt.date | None = None
) -> list[KeptResult]:
    """The results of a client, the oldest first."""
    where = [p.lift_result.c.client_id == client_id]
    if since is not None:
        where.append(p.lift_result.c.day >= since)
    return await lift_results.list(tx, *where, order=[p.lift_result.c.day, p.lift_result.c.id])


async def year_of(tx: AsyncConnection, client_id: int) -> KeptYear | None:
    return await years.find(tx, p.year_plan.c.client_id == client_id)


async def keep_year(tx: AsyncConnection, year: KeptYear) -> KeptYear:
    """Keep an accepted year in place of the one before."""
    await years.remove(tx, p.year_plan.c.client_id == year.client_id)
    return await years.add(tx, year)
