"""The library as data: complete, linked, and true to rooms and complaints."""

import dataclasses

import pytest

from core.programme.checks import COMPLAINTS, problems
from core.programme.movements import Exercise, Library, Load, Unit, Use, our_library
from core.terms import Level, Pattern, Place, Room

LIBRARY = our_library()


def test_the_library_has_no_problem_and_enough_entries() -> None:
    assert problems(LIBRARY) == []
    assert len(LIBRARY) >= 120


@pytest.mark.parametrize("room", Room)
@pytest.mark.parametrize("pattern", Pattern)
def test_a_scale_runs_from_an_easy_regression_to_a_hard_progression(room: Room, pattern: Pattern) -> None:
    scale = LIBRARY.scale(pattern, room)
    assert [each.step for each in scale] == sorted(each.step for each in scale)
    assert Level.BEGINNER in scale[0].levels
    assert scale[0].step <= 2
    assert Level.ADVANCED in scale[-1].levels
    assert scale[-1].step >= 9


def test_no_heavy_kit_outside_a_gym() -> None:
    for each in LIBRARY:
        if each.load is Load.BARBELL:
            assert each.room is Room.FULL_GYM, each.name
        if each.load in {Load.MACHINE, Load.CABLE}:
            assert each.room in {Room.HOTEL_GYM, Room.FULL_GYM}, each.name
        if each.load is Load.BAND:
            assert each.room is Room.BANDS, each.name


def test_a_room_with_two_dumbbells_has_no_bands() -> None:
    bands = [each for each in LIBRARY if each.load is Load.BAND]
    assert bands
    assert not any(each.fits(Room.DUMBBELLS, Level.INTERMEDIATE, frozenset()) for each in bands)
    assert not any(each.fits(Room.HOTEL_GYM, Level.INTERMEDIATE, frozenset()) for each in bands)


@pytest.mark.parametrize("place", [Place.KNEE, Place.ANKLE])
def test_nothing_that_leaves_the_ground_with_a_bad_knee_or_ankle(place: Place) -> None:
    for each in LIBRARY:
        if any(word in each.name.casefold() for word in ("jump", "shuttle", "lunge", "pistol", "burpee")):
            assert place in each.avoid or (place is Place.ANKLE and "lunge" in each.name.casefold()), (
                each.name
            )


def test_every_movement_over_the_head_spares_a_bad_shoulder() -> None:
    for each in LIBRARY:
        if each.pattern and any(
            w in each.name.casefold() for w in ("overhead", "handstand", "pull-up", "chin-up", "pull-down")
        ):
            assert Place.SHOULDER in each.avoid, each.name


def test_nine_complaints_are_those_that_exercises_are_chosen_by() -> None:
    assert [str(place) for place in COMPLAINTS] == [
        "neck", "shoulder", "elbow", "wrist", "upper back", "lower back", "hip", "knee", "ankle",
    ]  # fmt: skip


def an_exercise(key: str, **fields: object) -> Exercise:
    plain: dict[str, object] = {
        "key": key, "name": key, "pattern": Pattern.SQUAT, "use": Use.ASSIST, "room": Room.NONE, "load": Load.BODY,
        "cues": ("a", "b", "c"), "faults": ("d",), "set_up": "e",
    }  # fmt: skip
    return Exercise(**{**plain, **fields})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (an_exercise("x", harder="y"), "does not exist"),
        (an_exercise("x", harder="band-row"), "another pattern"),
        (an_exercise("x", step=5, harder="sit-to-stand", easier="high-seat-stand"), "is on step 2"),
        (an_exercise("x", step=5, harder="pistol-squat"), "nothing easier"),
        (an_exercise("x", step=5, easier="sit-to-stand"), "nothing harder"),
        (an_exercise("x", cues=("a",), easier="sit-to-stand", harder="pistol-squat"), "cues"),
        (an_exercise("x", pattern=None, easier=None), "do not belong together"),
        (an_exercise("x", name="Pistol squat", easier="sit-to-stand"), "two exercises are called"),
    ],
)
def test_what_is_wrong_with_an_entry_is_said(wrong: Exercise, said: str) -> None:
    found = problems(Library((*LIBRARY.exercises, wrong)))
    assert any(said in line for line in found), found


def test_a_circle_and_a_gap_are_found() -> None:
    circle = Library((an_exercise("x", harder="y", step=3), an_exercise("y", harder="x", step=4)))
    assert any("leads back" in line for line in problems(circle))
    without = Library(
        tuple(each for each in LIBRARY if each.key != "dead-bug-hold" or each.pattern is not Pattern.ROTATION)
    )
    assert len(problems(without)) >= 1
    none_left = Library(tuple(each for each in LIBRARY if each.pattern is not Pattern.PUSH))
    assert any("nothing for push" in line for line in problems(none_left))


def test_a_coachs_own_come_first_and_replace_ours_of_the_same_key() -> None:
    mine = dataclasses.replace(LIBRARY.by_key["push-up"], name="Push-up, our way")
    library = LIBRARY.and_own([mine])
    assert library.by_key["push-up"].name == "Push-up, our way"
    assert library.by_key["push-up"].own
    assert len(library) == len(LIBRARY)
    assert library.exercises[0].key == "push-up"


def test_time_of_a_set_counts_both_sides() -> None:
    one = an_exercise("x", a_side=True, seconds=3)
    assert one.work_seconds(8) == 48
    assert an_exercise("x", unit=Unit.SECONDS, seconds=1).work_seconds(30) == 30
