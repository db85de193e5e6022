"""What is the coach's own: exercises beside ours, whole sessions kept for again. The builder takes both before ours."""

from sqlalchemy.ext.asyncio import AsyncConnection

from core.errors import Refused
from core.programme.kept import OwnExercise, OwnSession
from core.programme.movements import Library, our_library
from core.programme.own import OwnSession as KnownSession
from core.programme.own import own_session_for
from core.programme.own_words import named_in, trained_in
from core.programme.session import SessionRequest
from core.store import programme as shelves
from core.terms import Block

MOST_EXERCISES, MOST_SESSIONS = 500, 200
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
    tx: AsyncConnection, coach_id: int, request: SessionRequest, library: Library
) -> OwnSession | None:
    """The coach's own session to take before one of ours, or None where none fits.

    None either where today must be lighter: a session in somebody's own words cannot be made so by us. With a complaint, only
    one that names its exercises is known to spare it.
    """
    if request.block in _LIGHTER or request.deload or request.short_sleep:
        return None
    kept = {key_of(each): each for each in await shelves.sessions_of(tx, coach_id)}
    known = [_as_known(each, library) for each in kept.values()]
    found = own_session_for(request, [each for each in known if _is_known(kept[each.key], request, library)])
    return kept[found.key] if found is not None else None


def key_of(session: OwnSession) -> str:
    """What it is remembered by among the exercises of a session that was done."""
    return f"own-session-{session.id}"


def _as_known(session: OwnSession, library: Library) -> KnownSession:
    named = named_in(session.words, library)
    return KnownSession(
        key=key_of(session),
        name=session.title,
        words=session.words,
        room=session.room,
        minutes=session.minutes,
        patterns=frozenset(trained_in(session.words, library)),
        avoid=frozenset(place for each in named for place in each.avoid),
    )


def _is_known(session: OwnSession, request: SessionRequest, library: Library) -> bool:
    """Whether enough is known of it to give it to somebody whom something hurts."""
    named = named_in(session.words, library)
    return not request.complaints or (bool(named) and not any(each.own for each in named))
