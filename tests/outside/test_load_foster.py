"""Session load: Foster et al. 2001 (J Strength Cond Res 15(1):109-115)."""

from core.wellbeing.load import EFFORT_WORDS, Effort


def test_the_words_of_the_scale() -> None:
    """Foster et al. 2001, the modified ten-point scale; 6, 8 and 9 have no words."""
    assert {n: EFFORT_WORDS[n] for n in (0, 3, 4, 5, 7, 10)} == {
        0: "rest",
        3: "moderate",
        4: "somewhat hard",
        5: "hard",
        7: "very hard",
        10: "maximal",
    }
    assert not {6, 8, 9} & set(EFFORT_WORDS)


def test_load_is_rating_times_minutes() -> None:
    """Foster et al. 2001: the rating of the session times its duration in minutes."""
    assert Effort(60, 7).load == 420
