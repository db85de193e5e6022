"""Drafts changed by hand."""

import pytest

from core.programme.build import build_session
from core.programme.exchange import exchanged, instead_of, moved_along
from core.programme.movements import Load, our_library
from core.programme.session import Session, SessionRequest
from core.terms import Block, Place, Room

LIBRARY = our_library()
REQUEST = SessionRequest(
    block=Block.HYPERTROPHY, minutes=30, room=Room.DUMBBELLS, complaints=frozenset({Place.KNEE})
)


def steps(session: Session) -> list[int]:
    return [LIBRARY.by_key[each.key].step for each in session.exercises if each.key in LIBRARY.by_key]


def test_nothing_is_offered_that_a_complaint_forbids() -> None:
    session = build_session(REQUEST, LIBRARY)
    for index, planned in enumerate(session.exercises):
        for offer in instead_of(session, index, REQUEST, LIBRARY):
            assert Place.KNEE not in offer.avoid
            assert offer.pattern is planned.pattern


def test_other_kit_is_other_kit() -> None:
    session = build_session(REQUEST, LIBRARY)
    index = next(n for n, e in enumerate(session.exercises) if LIBRARY.by_key[e.key].load is Load.DUMBBELL)
    offers = instead_of(session, index, REQUEST, LIBRARY, other_kit=True)
    assert offers
    assert not [offer for offer in offers if offer.load is Load.DUMBBELL]


@pytest.mark.parametrize("block", [Block.HYPERTROPHY, Block.STRENGTH, Block.POWER_ENDURANCE])
def test_a_swap_stays_within_the_minutes_and_the_warm_up_follows(block: Block) -> None:
    request = SessionRequest(block=block, minutes=30, room=Room.FULL_GYM)
    session = build_session(request, LIBRARY)
    other = instead_of(session, 0, request, LIBRARY)[0]
    changed = exchanged(session, 0, other, request, LIBRARY)
    assert changed.exercises[0].key == other.key
    assert changed.estimated_seconds <= 30 * 60
    assert changed.warm_up[-1].key == other.key


def test_easier_is_easier_and_harder_harder() -> None:
    session = build_session(REQUEST, LIBRARY)
    easier = moved_along(session, REQUEST, LIBRARY, harder=False)
    harder = moved_along(session, REQUEST, LIBRARY, harder=True)
    assert sum(steps(easier)) < sum(steps(session)) < sum(steps(harder))
    assert all(new.rir >= 0 for new in harder.exercises)
