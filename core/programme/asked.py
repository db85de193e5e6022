"""A request for a session in words, as it comes from a command line: every wrong word is named at once."""

import enum
from collections.abc import Iterable
from typing import TypeVar

from core.errors import Refused
from core.programme.session import LONGEST, SHORTEST, SessionRequest
from core.terms import Block, Level, Place, Room

Word = TypeVar("Word", bound=enum.StrEnum)


def request_from_words(
    *, block: str, minutes: str, room: str, level: str, complaints: Iterable[str] = ()
) -> SessionRequest:
    """The request, or ``Refused`` with a line for every word that is not known."""
    faults: list[str] = []
    asked = SessionRequest(
        block=_word(Block, block, "block", faults) or Block.STRENGTH,
        minutes=_minutes(minutes, faults),
        room=_word(Room, room, "room", faults) or Room.NONE,
        level=_word(Level, level, "level", faults) or Level.INTERMEDIATE,
        complaints=frozenset(
            place for each in complaints if (place := _word(Place, each, "place to avoid", faults))
        ),
    )
    if faults:
        raise Refused(*faults)
    return asked


def _word(words: type[Word], said: str, what: str, faults: list[str]) -> Word | None:
    """The term of that name, whatever its capitals; what is not known joins the faults."""
    tidy = " ".join(said.replace("-", " ").replace("_", " ").split()).casefold()
    try:
        return words(tidy)
    except ValueError:
        faults.append(f"There is no {what} '{said}'. Say one of: {', '.join(words)}.")
        return None


def _minutes(said: str, faults: list[str]) -> int:
    try:
        minutes = int(said)
    except ValueError:
        faults.append(f"Minutes are a whole number from {SHORTEST} to {LONGEST}, not '{said}'.")
        return SHORTEST
    if not SHORTEST <= minutes <= LONGEST:
        advice = "with less, a walk is the better idea" if minutes < SHORTEST else "split it over two days"
        faults.append(f"A session takes {SHORTEST} to {LONGEST} minutes, not {minutes}: {advice}.")
    return minutes
