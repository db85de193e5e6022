"""Results in a client's own words."""

import pytest

from core.programme.results import Feel
from core.programme.said import read_result


@pytest.mark.parametrize(
    ("text", "sets", "kg", "feel"),
    [
        ("3x8 at 20", (8, 8, 8), 20, None),
        ("3 x 8 @ 22,5 kg", (8, 8, 8), 22.5, None),
        ("20 kg 8 8 7", (8, 8, 7), 20, None),
        ("8, 8, 7 with 20kg", (8, 8, 7), 20, None),
        ("3 sets of 12", (12, 12, 12), None, None),
        ("12/10/9", (12, 10, 9), None, None),
        ("50 lb 10 10", (10, 10), 22.7, None),
        ("easy", (), None, Feel.EASY),
        ("too hard", (), None, Feel.HARD),
        ("3x5 at 100, could have done more", (5, 5, 5), 100, Feel.EASY),
        ("60kg felt too heavy", (), 60, Feel.HARD),
        ("not easy", (), None, Feel.RIGHT),
        ("wasn’t too hard", (), None, Feel.RIGHT),
        ("4×6 at 80 kg, about right", (6, 6, 6, 6), 80, Feel.RIGHT),
    ],
)
def test_sets_weight_and_feel(text: str, sets: tuple[int, ...], kg: float | None, feel: Feel | None) -> None:
    result = read_result(text, "back-squat")
    assert result is not None
    assert (result.sets, result.kg, result.feel) == (sets, kg, feel)


@pytest.mark.parametrize("text", ["", "thanks!", "see you tomorrow", "99x9999"])
def test_words_that_say_nothing_of_it(text: str) -> None:
    assert read_result(text, "back-squat") is None
