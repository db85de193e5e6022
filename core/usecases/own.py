"""What is the coach's own: exercises beside ours, whole sessions kept for again. The builder takes both before ours."""

from sqlalchemy.ext.asyncio import AsyncConnection

from core.errors import Refused
from core.people.model import Client
from core.programme.candidates import forbidden
from core.programme.kept import OwnExercise, OwnSession
from core.programme.movements import ROOM_HAS, Library, our_library
from core.programme.own import OwnSession as KnownSession
from core.programme.own import own_session_for
from core.programme.own_words import named_in, trained_in
from core.programme.session import SessionRequest
from core.store import programme as shelves
from core.terms import Block
from core.usecases.carrying import done_sessions

MOST_EXERCISES, MOST_SESSIONS = 500, 200
LONGER_AT_MOST = 1.15  # of the minutes: what was written by hand is not cut for five minutes
_LIGHTER = frozenset({Block.RETURN, Block.REST, Block.TAPER})


async def library_of(tx: AsyncConnection, coach_id: int) -> Library:
    """Ours and the coach's own."""
    own = await shelves.exercises_of(tx, coach_id)
    return our_library().and_own(each.exercise for each in own)


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


async def programme_of(tx: AsyncConnection, client: Client) -> list[OwnSession]:
    """The sessions that the coach's last file left for this client, in their order.

    Those of the file before are kept as well, so that the last one can be taken back: what came in last is what holds.
    """
    known = await shelves.sessions_of(tx, client.coach_id, client_id=client.id)
    written = [each for each in known if each.client_id == client.id]
    last = max((each.made_at for each in written), default=None)
    return [each for each in reversed(written) if each.made_at == last]


async def session_that_fits(
    tx: AsyncConnection, client: Client, request: SessionRequest, library: Library
) -> OwnSession | None:
    """The coach's own session to take before one of ours, or None where none fits.

    None either where today must be lighter: a session in somebody's own words cannot be made so by us. With a complaint, only
    one that names its exercises is known to spare it.
    """
    if request.block in _LIGHTER or request.deload or request.short_sleep:
        return None
    written = await next_of_programme(tx, client, request, library)
    if written is not None:
        return written
    kept = {key_of(each): each for each in await shelves.sessions_of(tx, client.coach_id)}
    known = [_as_known(each, library) for each in kept.values()]
    found = own_session_for(request, [each for each in known if _is_known(kept[each.key], request, library)])
    return kept[found.key] if found is not None else None


async def next_of_programme(
    tx: AsyncConnection, client: Client, request: SessionRequest, library: Library
) -> OwnSession | None:
    """The first session of a programme written for this client that was not done, if room, minutes and complaints allow it."""
    done = {sent.body.get("own_session") for sent in await done_sessions(tx, client)}
    left = [each for each in await programme_of(tx, client) if each.id not in done]
    if not left:
        return None
    first, places = left[0], forbidden(request.complaints)
    fits = first.room in ROOM_HAS[request.room] and first.minutes <= request.minutes * LONGER_AT_MOST
    spares = _is_known(first, request, library) and not _as_known(first, library).avoid & places
    return first if fits and spares else None


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
