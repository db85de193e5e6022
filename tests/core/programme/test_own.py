"""What a coach adds is used before ours."""

import pytest

from core.errors import Refused
from core.programme.build import build_session
from core.programme.movements import our_library
from core.programme.own import OwnSession, own_exercise, own_session_for
from core.programme.session import SessionRequest
from core.terms import Block, Pattern, Place, Room

ROW = own_exercise(
    name="Bed-sheet  row",
    pattern=Pattern.PULL,
    room=Room.NONE,
    cues="Knot it well\n\nChest up",
    avoid=frozenset({Place.ELBOW}),
)


def test_an_exercise_of_own_words() -> None:
    assert (ROW.key, ROW.name, ROW.own) == ("own-bed-sheet-row", "Bed-sheet row", True)
    assert ROW.cues == ("Knot it well", "Chest up")
    assert own_exercise(name="懸垂", pattern=Pattern.PULL, room=Room.NONE, cues="").key == "own-懸垂"
    for name in ("  ", "x" * 81):
        with pytest.raises(Refused, match="needs a name"):
            own_exercise(name=name, pattern=Pattern.PULL, room=Room.NONE, cues="")


@pytest.mark.parametrize("block", Block)
def test_the_builder_uses_it_before_ours_where_it_is_allowed(block: Block) -> None:
    library = our_library().and_own([ROW])
    session = build_session(SessionRequest(block=block, minutes=30, room=Room.NONE), library)
    assert next(each.name for each in session.exercises if each.pattern is Pattern.PULL) == "Bed-sheet row"
    hurt = SessionRequest(block=block, minutes=30, room=Room.NONE, complaints=frozenset({Place.ELBOW}))
    assert "Bed-sheet row" not in [each.name for each in build_session(hurt, library).exercises]


def a_session(key: str, **fields: object) -> OwnSession:
    plain: dict[str, object] = {
        "key": key,
        "name": key,
        "words": "Ten of each, five rounds.",
        "room": Room.NONE,
        "minutes": 20,
    }
    return OwnSession(**{**plain, **fields})  # type: ignore[arg-type]


def test_a_whole_session_of_own_is_taken_where_it_fits() -> None:
    request = SessionRequest(
        block=Block.STRENGTH, minutes=25, room=Room.DUMBBELLS, complaints=frozenset({Place.KNEE})
    )
    fits = a_session("stairs")
    wrong = [
        a_session("gym", room=Room.FULL_GYM),
        a_session("long", minutes=26),
        a_session("tiny", minutes=10),
        a_session("power", block=Block.POWER),
        a_session("jumps", avoid=frozenset({Place.KNEE})),
        a_session("arms", patterns=frozenset({Pattern.PUSH, Pattern.PULL})),
    ]
    assert own_session_for(request, wrong) is None
    assert own_session_for(request, [*wrong, fits]) is fits
    longer = a_session("legs", minutes=24, patterns=frozenset(Pattern))
    assert own_session_for(request, [fits, longer]) is longer


def test_a_session_of_own_is_not_sent_three_times_running() -> None:
    request = SessionRequest(
        block=Block.STRENGTH, minutes=25, room=Room.NONE, recent=(frozenset({"stairs"}),)
    )
    assert own_session_for(request, [a_session("stairs")]) is None
