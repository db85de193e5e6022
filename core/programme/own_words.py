"""A session in the coach's own words: which exercises it names, what it trains, how it reads one part after another."""

import re

from core.programme.movements import Exercise, Library
from core.terms import Pattern

LONGEST_TITLE = 60
_PARTS = 2  # fewer parts than this are read whole

# What a coach writes for a pattern where no exercise of the library is named (common practice).
_SAID = {
    Pattern.SQUAT: r"squats?|lunges?|step[- ]?ups?",
    Pattern.HINGE: r"hinges?|dead ?lifts?|rdls?|swings?|bridges?|hip thrusts?",
    Pattern.PUSH: r"push(?:es)?|press(?:es)?|press[- ]?ups?|push[- ]?ups?|dips?",
    Pattern.PULL: r"pulls?|rows?|pull[- ]?ups?|chin[- ]?ups?",
    Pattern.ROTATION: r"rotations?|chops?|planks?|twists?|pallof",
}


def title_of(words: str) -> str:
    """The first line, as far as a title goes."""
    line = next((line.strip().rstrip(".:;, ") for line in words.splitlines() if line.strip(" .:;,")), "")
    return line if len(line) <= LONGEST_TITLE else line[: LONGEST_TITLE - 1].rstrip() + "…"


def parts_of(words: str) -> list[str]:
    """The session one part after another: its paragraphs, or its lines where it has only one; empty where it is one line."""
    paragraphs = [part.strip() for part in re.split(r"\n\s*\n", words) if part.strip()]
    parts = paragraphs if len(paragraphs) >= _PARTS else [x.strip() for x in words.splitlines() if x.strip()]
    return parts if len(parts) >= _PARTS else []


def named_in(words: str, library: Library) -> list[Exercise]:
    """The exercises that are named, in the order in which they are; of two names at one place the longer one."""
    text = words.casefold()
    found: list[tuple[int, int, Exercise]] = []
    for exercise in library:
        pattern = rf"\b{re.escape(exercise.name.casefold())}s?\b"
        found += [(match.start(), match.end(), exercise) for match in re.finditer(pattern, text)]
    found.sort(key=lambda each: (each[0], -each[1]))
    named: list[Exercise] = []
    reached = -1
    for start, end, exercise in found:
        if start >= reached:
            reached = end
            named += [] if exercise in named else [exercise]
    return named


def trained_in(words: str, library: Library) -> list[Pattern]:
    """The patterns that the words train, as far as they say."""
    named = {exercise.pattern for exercise in named_in(words, library)}
    text = words.casefold()
    return [p for p in Pattern if p in named or re.search(rf"\b(?:{_SAID[p]})\b", text)]
