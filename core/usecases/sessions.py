"""Sessions for a client as drafts: built to fit where they are, how long they have and what hurts, and changed by hand."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy.ext.asyncio import AsyncConnection

from core.people.model import QUIET_TO, Client
from core.programme.build import build_session
from core.programme.exchange import exchanged, instead_of, moved_along
from core.programme.kept import OwnSession
from core.programme.movements import Exercise, Library
from core.programme.own_words import named_in, parts_of, title_of, trained_in
from core.programme.results import LiftResult
from core.programme.session import LONGEST, SHORTEST, Emphasis, Session, SessionRequest, session_from_json
from core.programme.words import ROOM_WORDS, groups_of, session_cards, session_words
from core.store import house
from core.terms import Block, Level, Pattern, Place, Room
from core.usecases import own, sparing
from core.usecases.carrying import carried_by, done_sessions, phase_on
from core.usecases.results import lasts_of
from core.week.circumstances import Circumstances
from core.week.model import Ask
from core.wellbeing.sleep import Night, two_short_nights

# {"title", "messages", "steps", "step_keys", "minutes", "room", "patterns", "keys", "lifts"}; beside them "session", "request",
# "without" and "wanted" if it was built, "own_session" if it is one that was kept, "why" and "line" where there is something to
# say first.
Drafted = dict[str, Any]

LOOK_BACK = 2  # sessions that the next one should differ from
_HALF_AN_HOUR = dt.timedelta(minutes=30)
LENGTHS = (10, 15, 20, 30, 45, 60, 75, 90)  # minutes that 'shorter' and 'longer' step along


async def draft(
    tx: AsyncConnection,
    client: Client,
    *,
    at: dt.datetime,
    minutes: int,
    room: Room | None = None,
    ask: Ask | None = None,
) -> Drafted:
    """A session for where the client is now: the coach's own where one fits, else one that is built."""
    request, why = await request_for(tx, client, at=at, minutes=minutes, room=room, ask=ask)
    library = await own.library_of(tx, client.coach_id)
    kept = await own.session_that_fits(tx, client, request, library)
    return from_own(kept, library) if kept is not None else _built(request, why, library, ())


async def built(
    tx: AsyncConnection,
    client: Client,
    *,
    at: dt.datetime,
    minutes: int,
    room: Room | None = None,
    without: Sequence[str] = (),
    wanted: Sequence[str] = (),
    beside: Sequence[Client] = (),
) -> Drafted:
    """A built session: room, minutes, level, away from what hurts, the block of the year, what the week is due, what was lifted.

    ``without`` are exercises that were swapped away, ``wanted`` those that were swapped in; ``beside`` those who get the same
    session: it spares what hurts any of them, is for the least trained, and names no weights.
    """
    request, why = await request_for(tx, client, at=at, minutes=minutes, room=room)
    for other in beside:
        theirs, _ = await request_for(tx, other, at=at, minutes=minutes, room=request.room)
        request, why = for_both(request, theirs), ""
    request = replace(request, wanted=frozenset(wanted))
    return _built(request, why, await own.library_of(tx, client.coach_id), without)


def _built(request: SessionRequest, why: str, library: Library, without: Sequence[str]) -> Drafted:
    usable = Library(tuple(each for each in library if each.key not in without))
    session = build_session(request, usable).to_json()
    drafted = {
        "session": session,
        "request": told(request),
        "why": why,
        "without": list(without),
        "wanted": sorted(request.wanted),
    }
    return rendered(drafted, library)


async def request_for(
    tx: AsyncConnection,
    client: Client,
    *,
    at: dt.datetime,
    minutes: int,
    room: Room | None = None,
    ask: Ask | None = None,
) -> tuple[SessionRequest, str]:
    """What is asked of the builder, and what to say of it first (empty where nothing out of the way happened)."""
    life = await house.circumstances(tx, client)
    today = life.today(at)
    phase = await phase_on(tx, client, today)
    carried = await carried_by(tx, client, phase.block, at=at, ask=ask)
    recent = [sent.body for sent in await done_sessions(tx, client)]
    request = SessionRequest(
        block=phase.block,
        minutes=min(max(minutes, SHORTEST), LONGEST),
        room=room or life.where.stay_at(at).room or client.room,
        level=client.level,
        complaints=await sparing.hurts_now(tx, client, at),
        patterns=carried.patterns,
        emphasis=carried.emphasis,
        lasts=await lasts_of(tx, client.id),
        recent=tuple(frozenset(body.get("keys", [])) for body in recent[:LOOK_BACK]),
        short_sleep=await slept_short_twice(tx, client, today),
        deload=phase.deload,
        share=phase.share,
    )
    return request, carried.why


def for_both(one: SessionRequest, other: SessionRequest) -> SessionRequest:
    """One request that suits two people: what spares both, the patterns that either has overdue, no more than either may."""
    levels = list(Level)
    share = min(one.allowed_share, other.allowed_share)
    return replace(
        one,
        level=min(one.level, other.level, key=levels.index),
        complaints=one.complaints | other.complaints,
        patterns=tuple(dict.fromkeys([*one.patterns, *other.patterns])),
        lasts=(),
        short_sleep=one.short_sleep or other.short_sleep,
        deload=one.deload or other.deload,
        share=share if share < 1 else one.share,
    )


def told(request: SessionRequest) -> dict[str, Any]:
    """Of a request, what a later change of the session must know."""
    return {
        "complaints": sorted(request.complaints),
        "patterns": list(request.patterns),
        "emphasis": str(request.emphasis),
        "short_sleep": request.short_sleep,
        "deload": request.deload,
        "share": request.share,
    }


def asked_again(drafted: Drafted) -> SessionRequest:
    """The request that a built session came from."""
    session, known = drafted["session"], drafted["request"]
    return SessionRequest(
        block=Block(session["block"]),
        minutes=session["minutes"],
        room=Room(session["room"]),
        level=session_from_json(session).level,
        complaints=frozenset(Place(each) for each in known["complaints"]),
        patterns=tuple(Pattern(each) for each in known["patterns"]),
        emphasis=Emphasis(known["emphasis"]),
        short_sleep=known["short_sleep"],
        deload=known["deload"],
        share=known["share"],
    )


# --- how it is read ---------------------------------------------------------------------------------------------------


def rendered(drafted: Drafted, library: Library) -> Drafted:
    """A built session as it is read: whole, in steps, and what it is made of. What is to be said first stands first."""
    session = session_from_json(drafted["session"])
    first = "\n\n".join(words for words in (drafted.get("line", ""), drafted.get("why", "")) if words)
    cards = session_cards(session, library)
    return {
        **drafted,
        "title": f"{session.minutes} minutes, {ROOM_WORDS[session.room]}",
        "minutes": session.minutes,
        "room": str(session.room),
        "messages": ["\n\n".join(part for part in (first, session_words(session)) if part)],
        "steps": ["\n\n".join(part for part in (first, cards[0]) if part), *cards[1:]],
        "step_keys": _keys_of_steps(session, len(cards)),
        "patterns": [str(p) for p in session.patterns],
        "keys": sorted(session.keys),
        "lifts": [
            {"key": e.key, "name": e.name, "goal": [e.low, e.high], "sets": e.sets, "main": e.main}
            for e in session.exercises
        ],
    }


def _keys_of_steps(session: Session, cards: int) -> list[list[str]]:
    """The exercises of each card: none on the warm-up's and the finish's."""
    groups = [[each.key for each in group] for group in groups_of(session.exercises)]
    before = 2 if session.block is Block.POWER_ENDURANCE else 1
    return [*([[]] * before), *groups, *([[]] * (cards - before - len(groups)))]


def in_own_words(words: str, library: Library, *, line: str = "") -> Drafted:
    """A session that the coach wrote, as it is read and kept. Exercises that it names are known by their keys."""
    steps = parts_of(words)
    named = named_in(words, library)
    return {
        "title": title_of(words),
        "words": words,
        "line": line,
        "messages": ["\n\n".join(part for part in (line, words) if part)],
        "steps": steps,
        "step_keys": [[each.key for each in named_in(step, library)] for step in steps],
        "patterns": [str(p) for p in trained_in(words, library)],
        "keys": sorted(each.key for each in named),
        "lifts": [{"key": each.key, "name": each.name, "goal": None, "sets": None} for each in named],
    }


def from_own(kept: OwnSession, library: Library) -> Drafted:
    """A session that the coach kept for again."""
    words = in_own_words(kept.words, library)
    return {
        **words,
        "keys": [*words["keys"], own.key_of(kept)],
        "own_session": kept.id,
        "minutes": kept.minutes,
        "room": str(kept.room),
    }


def with_line(drafted: Drafted, line: str, library: Library) -> Drafted:
    """The same session with a line of the coach's own before it."""
    if "session" in drafted:
        return rendered({**drafted, "line": line}, library)
    return {**drafted, **in_own_words(drafted["words"], library, line=line), "keys": drafted["keys"]}


# --- changing it by hand ----------------------------------------------------------------------------------------------


def exercises_in(drafted: Drafted) -> list[tuple[str, str]]:
    """Key and name of every exercise, in order."""
    return [(lift["key"], lift["name"]) for lift in drafted.get("lifts", [])]


def alternatives(
    drafted: Drafted,
    index: int,
    library: Library,
    *,
    other_kit: bool = False,
    hurts: frozenset[Place] = frozenset(),
) -> tuple[Exercise, ...]:
    """What may stand in a place instead, the nearest first; what was swapped away before, or hurts by now, comes no more."""
    if "session" not in drafted or not 0 <= index < len(drafted["lifts"]):
        return ()
    gone = set(drafted.get("without", []))
    session = session_from_json(drafted["session"])
    asked = asked_again(drafted)
    request = replace(asked, complaints=asked.complaints | hurts)
    found = instead_of(session, index, request, library, other_kit=other_kit)
    return tuple(each for each in found if each.key not in gone)


def swapped(
    drafted: Drafted, index: int, exercise: Exercise, library: Library, lasts: Sequence[LiftResult] = ()
) -> Drafted:
    """The session with another exercise in a place; its weight follows from ``lasts`` where they know it."""
    session = session_from_json(drafted["session"])
    request = replace(asked_again(drafted), lasts=tuple(lasts))
    old = session.exercises[index].key
    gone = [*drafted.get("without", []), old]
    wanted = [*(key for key in drafted.get("wanted", []) if key != old), exercise.key]
    changed = exchanged(session, index, exercise, request, library)
    return rendered({**drafted, "session": changed.to_json(), "without": gone, "wanted": wanted}, library)


def stepped(drafted: Drafted, library: Library, lasts: Sequence[LiftResult] = (), *, harder: bool) -> Drafted:
    """The session all of it a step easier or harder."""
    request = replace(asked_again(drafted), lasts=tuple(lasts))
    changed = moved_along(session_from_json(drafted["session"]), request, library, harder=harder)
    return rendered({**drafted, "session": changed.to_json()}, library)


def next_length(minutes: int, *, longer: bool) -> int | None:
    """The next of the usual lengths; None at either end."""
    others = [each for each in LENGTHS if (each > minutes if longer else each < minutes)]
    return (min(others) if longer else max(others)) if others else None


def next_morning(life: Circumstances, at: dt.datetime) -> dt.datetime:
    """When the client's quiet hours end next, where they will be then; 07:00 tomorrow for who has none."""
    steps = (at + n * _HALF_AN_HOUR for n in range(49))
    quiet = next((moment for moment in steps if life.is_quiet(moment)), None)
    if quiet is not None:
        return life.wake(quiet)
    return life.first_lived(life.today(at) + dt.timedelta(days=1), QUIET_TO)


async def slept_short_twice(tx: AsyncConnection, client: Client, today: dt.date) -> bool:
    """Two short nights make the day's session lighter, never longer."""
    nights = await house.nights_of(tx, client.id, since=today - dt.timedelta(days=2))
    return two_short_nights([Night(n.day, n.hours) for n in nights if n.hours is not None], today)
