"""Building a session: it fits, it covers, it respects, and it says what it does without."""

import itertools

import pytest

from core.errors import Refused
from core.programme.build import build_session
from core.programme.candidates import COUNTS_AS
from core.programme.movements import ROOM_HAS, Load, our_library
from core.programme.session import SessionRequest, session_from_json
from core.terms import Block, Level, Pattern, Place, Room

LIBRARY = our_library()
COMPLAINTS = (frozenset[Place](), frozenset({Place.KNEE}), frozenset({Place.SHOULDER, Place.LOWER_BACK}))


@pytest.mark.parametrize("room", Room)
@pytest.mark.parametrize("block", Block)
@pytest.mark.parametrize("minutes", [10, 30, 90])
def test_every_session_fits_covers_and_respects(block: Block, room: Room, minutes: int) -> None:
    for level, complaints in itertools.product((Level.BEGINNER, Level.ADVANCED), COMPLAINTS):
        request = SessionRequest(block=block, minutes=minutes, room=room, level=level, complaints=complaints)
        session = build_session(request, LIBRARY)
        assert session.estimated_seconds <= minutes * 60
        assert set(session.patterns) == set(Pattern)
        for each in session.exercises:
            known = LIBRARY.by_key[each.key]
            assert known.room in ROOM_HAS[room]
            assert level in known.levels
            assert not known.avoid & complaints
        for part in (*session.warm_up, *session.finish):
            assert part.key is not None
            assert not LIBRARY.by_key[part.key].avoid & complaints


def test_the_estimate_is_the_sum_of_the_parts_as_printed() -> None:
    printed = build_session(
        SessionRequest(block=Block.STRENGTH, minutes=60, room=Room.FULL_GYM), LIBRARY
    ).to_json()
    parts = [*printed["warm_up"], *printed["finish"]]
    work = sum(each["sets"] * (each["work_s"] + each["rest_s"]) for each in printed["exercises"])
    assert printed["estimated_seconds"] == sum(part["seconds"] for part in parts) + work


@pytest.mark.parametrize("block", Block)
def test_a_session_comes_back_from_json_as_it_was(block: Block) -> None:
    session = build_session(SessionRequest(block=block, minutes=45, room=Room.HOTEL_GYM), LIBRARY)
    assert session_from_json(session.to_json()) == session


def test_the_most_overdue_pattern_leads() -> None:
    for first in (Pattern.SQUAT, Pattern.HINGE, Pattern.PUSH, Pattern.PULL):
        order = (first, *(pattern for pattern in Pattern if pattern is not first))
        request = SessionRequest(block=Block.STRENGTH, minutes=60, room=Room.FULL_GYM, patterns=order)
        session = build_session(request, LIBRARY)
        assert session.exercises[0].pattern is first
        assert session.exercises[0].main
        assert first in session.why.casefold()


def test_too_little_time_drops_the_least_overdue() -> None:
    order = (Pattern.PULL, Pattern.HINGE, Pattern.SQUAT, Pattern.PUSH, Pattern.ROTATION)
    request = SessionRequest(block=Block.POWER, minutes=10, room=Room.FULL_GYM, patterns=order)
    session = build_session(request, LIBRARY)
    kept = [pattern for pattern in order if pattern in session.patterns]
    assert kept == list(order[: len(kept)])


def test_strength_in_a_full_gym_is_a_whole_strength_session() -> None:
    session = build_session(SessionRequest(block=Block.STRENGTH, minutes=90, room=Room.FULL_GYM), LIBRARY)
    main = session.exercises[0]
    assert LIBRARY.by_key[main.key].load is Load.BARBELL
    assert main.sets >= 4
    assert main.high <= 6
    assert 120 <= main.rest_s <= 300
    assert session.estimated_seconds >= 80 * 60
    assert any("back squat" in part.name.casefold() for part in session.warm_up)


def test_short_nights_make_it_lighter_and_never_longer() -> None:
    rested = SessionRequest(block=Block.HYPERTROPHY, minutes=45, room=Room.DUMBBELLS)
    tired = SessionRequest(block=Block.HYPERTROPHY, minutes=45, room=Room.DUMBBELLS, short_sleep=True)
    full, light = build_session(rested, LIBRARY), build_session(tired, LIBRARY)
    assert sum(each.sets for each in light.exercises) < sum(each.sets for each in full.exercises)
    assert light.exercises[0].rir > full.exercises[0].rir
    assert light.estimated_seconds <= full.estimated_seconds
    assert "short nights" in light.left_out


def test_an_easier_week_halves_the_sets() -> None:
    usual = build_session(SessionRequest(block=Block.STRENGTH, minutes=90, room=Room.FULL_GYM), LIBRARY)
    easier = build_session(
        SessionRequest(block=Block.STRENGTH, minutes=90, room=Room.FULL_GYM, deload=True), LIBRARY
    )
    assert sum(e.sets for e in easier.exercises) <= sum(e.sets for e in usual.exercises) * 0.6
    assert "easier week" in easier.left_out


def test_the_same_request_gives_the_same_session() -> None:
    request = SessionRequest(block=Block.HYPERTROPHY, minutes=30, room=Room.BANDS)
    assert build_session(request, LIBRARY) == build_session(request, LIBRARY)


def test_what_was_done_lately_makes_way() -> None:
    first = build_session(SessionRequest(block=Block.HYPERTROPHY, minutes=45, room=Room.FULL_GYM), LIBRARY)
    second = build_session(
        SessionRequest(block=Block.HYPERTROPHY, minutes=45, room=Room.FULL_GYM, recent=(first.keys,)), LIBRARY
    )
    again = {each.key for each in second.exercises if not each.main} & first.keys
    assert len(again) <= 1


@pytest.mark.parametrize("minutes", [3, 9, 181, 400])
def test_minutes_out_of_bounds_are_refused_with_advice(minutes: int) -> None:
    with pytest.raises(Refused, match=f"10 to 180 minutes, not {minutes}"):
        build_session(SessionRequest(block=Block.STRENGTH, minutes=minutes, room=Room.NONE), LIBRARY)


def test_a_chest_or_a_head_is_for_a_doctor() -> None:
    for place in (Place.CHEST, Place.HEAD):
        with pytest.raises(Refused, match="see a doctor"):
            build_session(
                SessionRequest(
                    block=Block.STRENGTH, minutes=30, room=Room.NONE, complaints=frozenset({place})
                ),
                LIBRARY,
            )


def test_every_place_that_hurts_is_counted_as_one_that_exercises_know() -> None:
    for place in Place:
        known = COUNTS_AS.get(place, frozenset({place}))
        if place not in {Place.CHEST, Place.HEAD, Place.OTHER}:
            assert known <= set(tuple(Place)[:9]), place


def test_an_empty_library_is_refused_with_a_sentence() -> None:
    from core.programme.movements import Library

    with pytest.raises(Refused, match="Nothing is left to do"):
        build_session(SessionRequest(block=Block.STRENGTH, minutes=30, room=Room.NONE), Library(()))


def test_a_complaint_without_a_place_is_not_said_to_be_spared() -> None:
    cautions = build_session(
        SessionRequest(
            block=Block.STRENGTH, minutes=30, room=Room.NONE, complaints=frozenset({Place.OTHER, Place.KNEE})
        ),
        LIBRARY,
    ).cautions
    assert any(line.startswith("Chosen to spare the knee.") for line in cautions)
    assert any(line.startswith("Something else hurts too") for line in cautions)
