"""What comes next for a lift, and the list of a client's lifts."""

import dataclasses
import datetime as dt

import pytest

from core.programme.build import build_session
from core.programme.lifts import lift_words, lifts_of
from core.programme.movements import our_library
from core.programme.progression import Step, lowered, next_step, raised, two_for_two
from core.programme.ranges import Dose
from core.programme.results import Feel, LiftResult
from core.programme.session import SessionRequest
from core.programme.weights import weight_for
from core.terms import Block, Level, Room

LIBRARY = our_library()
SQUAT, CURL, PUSH_UP = (LIBRARY.by_key[key] for key in ("back-squat", "curl", "push-up"))


def squat(
    *sets: int, kg: float | None = 80, feel: Feel | None = None, goal: tuple[int, int] | None = (6, 8)
) -> LiftResult:
    return LiftResult(exercise="back-squat", sets=sets, kg=kg, feel=feel, goal=goal, block=Block.STRENGTH)


@pytest.mark.parametrize(
    ("history", "step", "kg"),
    [
        ([squat(8, 8, 8)], Step.MORE_WEIGHT, 82.5),
        ([squat(8, 8, 7)], Step.MORE_REPETITIONS, 80),
        ([squat(6, 5, 5)], Step.MORE_REPETITIONS, 80),
        ([squat(5, 5, 4)], Step.LESS_WEIGHT, 75),
        ([squat(8, 7, 7, feel=Feel.HARD)], Step.LESS_WEIGHT, 75),
        ([squat(6, 6, 6, feel=Feel.EASY)], Step.MORE_WEIGHT, 82.5),
        ([squat(7, 7, 10), squat(7, 7, 10)], Step.MORE_WEIGHT, 82.5),
        ([squat(7, 7, 7, goal=None)], Step.SAME, 80),
    ],
)
def test_double_progression(history: list[LiftResult], step: Step, kg: float) -> None:
    coming = next_step(history, SQUAT, Level.INTERMEDIATE)
    assert coming is not None
    assert (coming.step, coming.kg) == (step, kg)
    assert coming.why


def test_nothing_weighed_means_a_harder_or_easier_movement() -> None:
    easy = LiftResult(exercise="push-up", sets=(20, 20), goal=(15, 20))
    hard = LiftResult(exercise="push-up", sets=(8, 6), goal=(15, 20))
    for result, step in ((easy, Step.HARDER), (hard, Step.EASIER)):
        coming = next_step([result], PUSH_UP, Level.INTERMEDIATE)
        assert coming is not None
        assert (coming.step, coming.kg) == (step, None)
    assert next_step([], PUSH_UP, Level.INTERMEDIATE) is None


def test_two_for_two_needs_two_workouts_at_one_weight() -> None:
    assert two_for_two([squat(8, 8, 10), squat(8, 8, 10)])
    assert not two_for_two([squat(8, 8, 10)])
    assert not two_for_two([squat(8, 8, 10), squat(8, 8, 9)])
    assert not two_for_two([squat(8, 8, 10, kg=77.5), squat(8, 8, 10)])


@pytest.mark.parametrize("kg", [4, 10, 22, 40, 100, 180])
@pytest.mark.parametrize("level", Level)
def test_a_step_is_one_of_the_kit_and_never_wild(kg: float, level: Level) -> None:
    for exercise, grain in ((SQUAT, 2.5), (CURL, 1.0)):
        more = raised(kg, exercise, level)
        assert more > kg
        assert more - kg <= max(grain, 0.1 * kg + grain / 2)
        assert lowered(kg, exercise) < kg


def test_the_weight_of_a_new_range_comes_from_the_lower_estimate() -> None:
    dose = Dose(low=4, high=6, rir=2, rest=180, least_rest=120, most_sets=5)
    # 100 kg x 8: Brzycki 124.1; 6 repetitions and 2 in reserve are 80 %: 99.3, down to the next 2.5
    last = LiftResult(exercise="back-squat", sets=(8, 8, 8), kg=100, goal=(8, 12), block=Block.HYPERTROPHY)
    assert weight_for(SQUAT, dose, [last], Level.INTERMEDIATE) == (97.5, "from an estimated 1RM of 124 kg")
    many = dataclasses.replace(last, sets=(15, 15))
    assert weight_for(SQUAT, dose, [many], Level.INTERMEDIATE) == (None, "")


def test_another_exercise_gets_no_guessed_weight() -> None:
    dose = Dose(low=4, high=6, rir=2, rest=180, least_rest=120, most_sets=5)
    assert weight_for(CURL, dose, [squat(6, 6)], Level.INTERMEDIATE) == (None, "")


def test_an_easier_week_takes_no_new_weight() -> None:
    dose = Dose(low=6, high=8, rir=4, rest=180, least_rest=120, most_sets=5)
    assert weight_for(SQUAT, dose, [squat(8, 8, 8)], Level.INTERMEDIATE, lighter=True)[0] == 80
    assert weight_for(SQUAT, dose, [squat(8, 8, 8)], Level.INTERMEDIATE)[0] == 82.5


def test_the_session_carries_the_weight_and_says_why() -> None:
    last = squat(6, 6, 6, kg=100, goal=(4, 6))
    request = SessionRequest(block=Block.STRENGTH, minutes=60, room=Room.FULL_GYM, lasts=(last,))
    main = build_session(request, LIBRARY).exercises[0]
    assert (main.key, main.kg) == ("back-squat", 102.5)
    assert "every set reached 6" in main.note


def test_the_main_lift_of_a_block_stays_and_a_new_block_may_choose_anew() -> None:
    last = LiftResult(exercise="front-squat", sets=(5, 5), kg=70, goal=(4, 6), block=Block.STRENGTH)
    for block, same in ((Block.STRENGTH, True), (Block.HYPERTROPHY, False)):
        request = SessionRequest(block=block, minutes=60, room=Room.FULL_GYM, lasts=(last,))
        assert (build_session(request, LIBRARY).exercises[0].key == "front-squat") is same


def test_after_easy_bodyweight_work_comes_a_harder_movement() -> None:
    def step_of(feel: Feel) -> int:
        last = LiftResult(exercise="table-row", sets=(12, 12), feel=feel, block=Block.STRENGTH)
        request = SessionRequest(block=Block.STRENGTH, minutes=30, room=Room.NONE, lasts=(last,))
        pull = next(e for e in build_session(request, LIBRARY).exercises if e.pattern == "pull")
        return LIBRARY.by_key[pull.key].step

    assert step_of(Feel.EASY) > LIBRARY.by_key["table-row"].step > step_of(Feel.HARD)


def test_the_list_of_lifts() -> None:
    results = [
        dataclasses.replace(squat(8, 8, 7), on=dt.date(2027, 3, 1)),
        LiftResult(exercise="curl", sets=(12, 12), kg=10, goal=(10, 12), on=dt.date(2027, 3, 4)),
        LiftResult(exercise="unknown", sets=(5,), kg=10),
    ]
    curl, back_squat = lifts_of(results, LIBRARY, Level.INTERMEDIATE)
    assert lift_words(curl) == "Dumbbell curl: 4 Mar, 10 kg 12 12; next 11 kg (every set reached 12)"
    assert lift_words(back_squat) == (
        "Back squat: 1 Mar, 80 kg 8 8 7; next 80 kg (until every set reaches 8); 1RM about 99 to 101 kg"
    )


def test_more_weight_is_said_where_nobody_named_the_weight() -> None:
    """'Easy' with dumbbells means a heavier pair, not another movement; with the body alone it means a harder one."""
    dose = Dose(low=8, high=12, rir=2, rest=90, least_rest=60, most_sets=4)
    easy = LiftResult(exercise="curl", feel=Feel.EASY, goal=(8, 12))
    coming = next_step([easy], CURL, Level.INTERMEDIATE)
    assert coming is not None
    assert (coming.step, coming.kg) == (Step.MORE_WEIGHT, None)
    assert weight_for(CURL, dose, [easy], Level.INTERMEDIATE) == (None, "more weight: last time was easy")
    assert weight_for(CURL, dose, [easy], Level.INTERMEDIATE, lighter=True) == (None, "")
    hard = LiftResult(exercise="curl", feel=Feel.HARD, goal=(8, 12))
    assert weight_for(CURL, dose, [hard], Level.INTERMEDIATE)[1] == "less weight: last time was too hard"
    body = LiftResult(exercise="push-up", feel=Feel.EASY, goal=(8, 12))
    assert weight_for(PUSH_UP, dose, [body], Level.INTERMEDIATE) == (None, "")
