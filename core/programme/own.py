"""What a coach adds: exercises and whole sessions in their own words. Both are used before ours."""

import dataclasses
import re
from collections.abc import Sequence
from types import MappingProxyType

from core.errors import Refused
from core.programme.candidates import forbidden
from core.programme.movements import ROOM_HAS, Exercise, Load, Use
from core.programme.session import SessionRequest
from core.terms import Block, Pattern, Place, Room

_LONGEST_NAME, _LONGEST_WORDS = 80, 3_000
_MOST_LEFT_OVER = 0.5  # of the minutes: a session of own is used if it fills at least half of them
_LOADS = {
    Room.NONE: Load.BODY,
    Room.BANDS: Load.BAND,
    Room.DUMBBELLS: Load.DUMBBELL,
    Room.HOTEL_GYM: Load.DUMBBELL,
}


# What a movement of a pattern usually asks of (common practice): an own exercise is kept from whom one of these hurts, until
# its coach says that it spares the place.
USUALLY_ASKS = MappingProxyType(
    {
        Pattern.SQUAT: frozenset({Place.KNEE, Place.HIP, Place.ANKLE, Place.LOWER_BACK}),
        Pattern.HINGE: frozenset({Place.LOWER_BACK, Place.HIP, Place.KNEE}),
        Pattern.PUSH: frozenset({Place.SHOULDER, Place.ELBOW, Place.WRIST, Place.NECK}),
        Pattern.PULL: frozenset({Place.SHOULDER, Place.ELBOW, Place.WRIST, Place.NECK, Place.LOWER_BACK}),
        Pattern.ROTATION: frozenset({Place.LOWER_BACK, Place.SHOULDER, Place.HIP, Place.NECK}),
    }
)
_SPARES = re.compile(r"^spares?\b:?", re.IGNORECASE)


def avoided_by_own(pattern: Pattern, cues: str) -> frozenset[Place]:
    """What an own exercise must avoid, as far as its coach has not said otherwise: a line 'Spares: knee, hip' among the cues."""
    said = " ".join(line.strip() for line in cues.casefold().splitlines() if _SPARES.match(line.strip()))
    spared = {place for place in Place if re.search(rf"\b{place}s?\b", said)}
    return USUALLY_ASKS[pattern] - spared


def own_exercise(
    *,
    name: str,
    pattern: Pattern,
    room: Room,
    cues: str,
    avoid: frozenset[Place] = frozenset(),
    a_side: bool = False,
) -> Exercise:
    """An exercise of a coach's own, in own words; cues a line each. ``Refused`` where the name is missing or too long."""
    tidy = " ".join(name.split())
    if not 1 <= len(tidy) <= _LONGEST_NAME:
        raise Refused(f"An exercise needs a name of up to {_LONGEST_NAME} characters.")
    return Exercise(
        key=own_key(tidy),
        name=tidy,
        pattern=pattern,
        use=Use.ASSIST,
        room=room,
        load=_LOADS.get(room, Load.BARBELL),
        a_side=a_side,
        avoid=avoid,
        cues=tuple(line.strip() for line in cues[:_LONGEST_WORDS].splitlines() if line.strip()),
        own=True,
    )


def own_key(name: str) -> str:
    """A key that none of ours has."""
    return "own-" + (re.sub(r"[\W_]+", "-", name.casefold()).strip("-") or "exercise")


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class OwnSession:
    """A whole session as a coach wrote it. ``block`` None fits all; ``patterns`` empty means it is not known which."""

    key: str
    name: str
    words: str
    room: Room
    minutes: int
    block: Block | None = None
    patterns: frozenset[Pattern] = frozenset()
    avoid: frozenset[Place] = frozenset()


def own_session_for(request: SessionRequest, kept: Sequence[OwnSession]) -> OwnSession | None:
    """The coach's own session that fits best, or None: then one is built.

    It must fit the room, the block and the complaints, take no longer than asked and fill at least half of it, and not be one
    of the last two. Of several the one that trains the most overdue patterns is taken, then the longest.
    """
    places = forbidden(request.complaints)
    lately = frozenset(key for keys in request.recent[:2] for key in keys)
    fit = [
        each
        for each in kept
        if each.room in ROOM_HAS[request.room]
        and each.block in {None, request.block}
        and request.minutes * _MOST_LEFT_OVER <= each.minutes <= request.minutes
        and not each.avoid & places
        and each.key not in lately
        and request.patterns[0] in (each.patterns or frozenset(Pattern))
    ]
    return max(
        fit, key=lambda each: (len(each.patterns & frozenset(request.patterns)), each.minutes), default=None
    )
