"""A session changed by hand stays sound."""

import pytest

from core.programme.adjust import swapped
from core.programme.build import build_session
from core.programme.exchange import instead_of
from core.programme.movements import ROOM_HAS, our_library
from core.programme.session import Session, SessionRequest
from core.terms import Block, Place, Room

LIBRARY = our_library()
REQUEST = SessionRequest(
    block=Block.HYPERTROPHY, minutes=30, room=Room.HOTEL_GYM, complaints=frozenset({Place.KNEE})
)
SESSION = build_session(REQUEST, LIBRARY)


def assert_sound(session: Session, request: SessionRequest) -> None:
    assert session.estimated_seconds <= request.minutes * 60
    names = {each.name for each in session.exercises}
    assert len(names) == len(session.exercises)
    for each in session.exercises:
        assert LIBRARY.by_key[each.key].room in ROOM_HAS[request.room]
        assert not LIBRARY.by_key[each.key].avoid & request.complaints
        assert each.alternates_with is None or each.alternates_with in names
        partner = next((other for other in session.exercises if other.name == each.alternates_with), None)
        assert each.between_s == each.rest_s + (partner.work_s + partner.rest_s if partner else 0)
        assert partner is None or partner.sets == each.sets


@pytest.mark.parametrize("index", range(len(SESSION.exercises)))
def test_every_alternative_of_every_exercise_fits(index: int) -> None:
    for exercise in instead_of(SESSION, index, REQUEST, LIBRARY):
        changed = swapped(SESSION, index, exercise, REQUEST)
        assert_sound(changed, REQUEST)
        assert changed.exercises[index].name == exercise.name
        assert changed.exercises[index].pattern is SESSION.exercises[index].pattern


def test_in_a_circuit_the_seconds_stay() -> None:
    request = SessionRequest(block=Block.POWER_ENDURANCE, minutes=20, room=Room.NONE)
    session = build_session(request, LIBRARY)
    exercise = next(each for each in instead_of(session, 2, request, LIBRARY) if not each.a_side)
    changed = swapped(session, 2, exercise, request)
    assert changed.exercises[2].unit == "seconds"
    assert changed.exercises[2].high == session.exercises[2].high
    assert changed.estimated_seconds <= 20 * 60
