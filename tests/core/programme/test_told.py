"""Results in what a client writes, and the rest of the message."""

import pytest

from core.programme.told import is_feel, split_results


@pytest.mark.parametrize(
    ("text", "results", "rest"),
    [
        ("3x8 at 20", ("3x8 at 20",), ""),
        ("20 kg 8 8 7", ("20 kg 8 8 7",), ""),
        ("done, goblet squat 3x8 at 20", ("goblet squat 3x8 at 20",), "done"),
        ("row 3x10 at 30\nsplit squat 3x8", ("row 3x10 at 30", "split squat 3x8"), ""),
        ("slept 6.5", (), "slept 6.5"),
        ("move it to thursday at 18", (), "move it to thursday at 18"),
        ("lost 2 kg this week", (), "lost 2 kg this week"),
        ("7", (), "7"),
    ],
)
def test_results_are_told_from_the_rest(text: str, results: tuple[str, ...], rest: str) -> None:
    told = split_results(text, asked=False)
    assert (told.results, told.rest) == (results, rest)


@pytest.mark.parametrize("text", ["12, 10, 9", "easy", "too hard", "20 kg", "8 8 7 at 20"])
def test_short_answers_count_only_when_asked(text: str) -> None:
    assert split_results(text, asked=True).results == (text,)


@pytest.mark.parametrize("text", ["can't today", "knee hurts", "6", "thursday at 18"])
def test_other_words_are_no_answer_even_when_asked(text: str) -> None:
    assert split_results(text, asked=True).results == ()


def test_feelings() -> None:
    assert is_feel("Too hard.")
    assert is_feel("easy")
    assert not is_feel("a hard week")
