"""A session in a coach's own words."""

from core.programme.movements import our_library
from core.programme.own_words import LONGEST_TITLE, named_in, parts_of, title_of, trained_in
from core.terms import Pattern

WORDS = "Cabin session\n\n3 rounds:\n12 dumbbell split squats\n\n10 of any press-up you like"


def test_the_longest_name_wins() -> None:
    assert [each.name for each in named_in(WORDS, our_library())] == ["Dumbbell split squat"]


def test_patterns_come_from_names_and_from_the_words_of_the_trade() -> None:
    assert trained_in(WORDS, our_library()) == [Pattern.SQUAT, Pattern.PUSH]
    assert trained_in("Walk on deck for an hour", our_library()) == []


def test_paragraphs_are_parts_else_lines() -> None:
    assert len(parts_of(WORDS)) == 3
    assert parts_of("one\ntwo") == ["one", "two"]
    assert parts_of("only this") == []


def test_a_title_is_the_first_line_and_not_too_long() -> None:
    assert title_of(WORDS) == "Cabin session"
    assert len(title_of("x" * 200)) == LONGEST_TITLE
    assert title_of("Three rounds:\nswing 10") == "Three rounds"
    assert title_of("...\nFive rounds of stairs.\nThen stretch.") == "Five rounds of stairs"
