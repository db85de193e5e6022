"""What is the coach's own: exercises beside ours, whole sessions kept for again. The builder takes both before ours."""

from collections.abc import Sequence

from sqlalchemy.ext.asyncio import AsyncConnection

from core.errors import Refused
from core.programme.candidates import forbidden
from core.programme.kept import OwnExercise, OwnSession
from core.programme.movements import ROOM_HAS, Library, our_library
from core.programme.own_words import named_in, trained_in
from core.programme.session import SessionRequest
from core.store import programme as shelves
from core.terms import Block, Pattern

MOST_EXERCISES, MOST_SESSIONS = 500, 200
SHORTER_AT_MOST = 0.6  # of the minutes: a kept session much shorter than the time there is does not fit
_LIGHTER = frozenset({Block.RETURN, Block.REST, Block.TAPER})


async def library_of(tx: AsyncConnection, coach_id: int) -> Library:
    """Ours and the coach's own."""
    own = await shelves.exercises_of(tx, coach_id)
    return Library((*(each.exercise for each in own), *our_library().exercises))


async def add_exercise(tx: AsyncConnection, exercise: OwnExercise) -> OwnExercise:
    """Keep an exercise; one of the same name is changed, and keeps its media."""
    known = await shelves.exercises_of(tx, exercise.coach_id)
    if len(known) >= MOST_EXERCISES:
        raise Refused(f"There are {len(known)} exercises of your own: take one away first.")
    same = next((each for each in known if each.name.casefold() == exercise.name.casefold()), None)
    if same is None:
        return await shelves.own_exercises.add(tx, exercise)
    changed = OwnExercise(
        id=same.id,
        coach_id=same.coach_id,
        name=exercise.name,
        pattern=exercise.pattern,
        room=exercise.room,
        load=exercise.load,
        cues=exercise.cues,
        made_at=exercise.made_at,
    )
    return await shelves.own_exercises.save(tx, changed)


async def keep_session(tx: AsyncConnection, session: OwnSession) -> OwnSession:
    if len(await shelves.sessions_of(tx, session.coach_id)) >= MOST_SESSIONS:
        raise Refused(f"There are {MOST_SESSIONS} sessions of your own: take one away first.")
    return await shelves.own_sessions.add(tx, session)


async def session_that_fits(
    tx: AsyncConnection, coach_id: int, request: SessionRequest, library: Library, recent: Sequence[int]
) -> OwnSession | None:
    """The coach's own session to take before one of ours: of those that fit, the one that trains the most overdue patterns.

    ``recent`` are the ids of own sessions that the client did lately: they are not taken again at once.
    """
    if request.block in _LIGHTER or request.deload or request.short_sleep:
        return None  # a session in somebody's own words cannot be made lighter by us
    kept = await shelves.sessions_of(tx, coach_id)
    fit = [each for each in kept if each.id not in recent and fits(each, request, library)]
    return max(fit, key=lambda each: (_worth(each, request, library), each.minutes, each.id), default=None)


def fits(session: OwnSession, request: SessionRequest, library: Library) -> bool:
    """Whether a kept session suits room, minutes and complaints, and trains what is most overdue if it says what it trains."""
    if session.room not in ROOM_HAS[request.room]:
        return False
    if not request.minutes * SHORTER_AT_MOST <= session.minutes <= request.minutes:
        return False
    trained = trained_in(session.words, library)
    return _spares(session, request, library) and (not trained or request.patterns[0] in trained)


def _spares(session: OwnSession, request: SessionRequest, library: Library) -> bool:
    """Whether it is known to leave alone what hurts: it must name its exercises, and none of them may be forbidden."""
    if not request.complaints:
        return True
    named = named_in(session.words, library)
    places = forbidden(request.complaints)
    return bool(named) and not any(each.avoid & places or each.own for each in named)


def _worth(session: OwnSession, request: SessionRequest, library: Library) -> int:
    trained: Sequence[Pattern] = trained_in(session.words, library)
    overdue = list(request.patterns)
    return sum(2 ** (len(overdue) - overdue.index(p)) for p in trained if p in overdue)
