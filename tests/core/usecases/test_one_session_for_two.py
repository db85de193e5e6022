"""One session for several people asks of nobody more than they may do."""

from core.programme.build import build_session
from core.programme.movements import our_library
from core.programme.results import LiftResult
from core.programme.session import SessionRequest
from core.terms import Block, Level, Pattern, Place, Room
from core.usecases.sessions import for_both

LIBRARY = our_library()
FIT = SessionRequest(
    block=Block.STRENGTH,
    minutes=45,
    room=Room.FULL_GYM,
    level=Level.ADVANCED,
    patterns=(Pattern.PUSH, Pattern.SQUAT),
    lasts=(
        LiftResult(exercise="bench-press", kg=90, sets=(5, 5), goal=(3, 5), block=Block.STRENGTH, led=True),
    ),
)
BACK_AGAIN = SessionRequest(
    block=Block.RETURN,
    minutes=45,
    room=Room.FULL_GYM,
    level=Level.BEGINNER,
    complaints=frozenset({Place.WRIST}),
    patterns=(Pattern.HINGE, Pattern.SQUAT),
    short_sleep=True,
    share=0.5,
)


def test_what_two_do_together_is_for_the_one_who_may_do_less() -> None:
    for one, other in ((FIT, BACK_AGAIN), (BACK_AGAIN, FIT)):
        both = for_both(one, other)
        assert both.level is Level.BEGINNER
        assert both.complaints == {Place.WRIST}
        assert set(both.patterns) == {Pattern.PUSH, Pattern.SQUAT, Pattern.HINGE}
        assert both.short_sleep
        assert both.allowed_share == 0.5
        assert both.lasts == ()
        session = build_session(both, LIBRARY)
        assert all(each.kg is None for each in session.exercises)
        assert not any(Place.WRIST in LIBRARY.by_key[each.key].avoid for each in session.exercises)
        assert max(each.sets for each in session.exercises) <= 2


def test_two_who_may_do_all_get_all() -> None:
    assert for_both(FIT, FIT).allowed_share == 1.0
