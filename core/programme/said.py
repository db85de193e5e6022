"""Results in a client's words: '3x8 at 20', '20 kg 8 8 7', '12, 10, 9', 'easy', 'too hard'."""

import re

from core.programme.results import Feel, LiftResult

_NUMBER = r"\d+(?:[.,]\d+)?"
_KG = re.compile(
    rf"(?:\bat|@|\bwith|\bon)\s*({_NUMBER})(?:\s*(kgs?|kilos?|lbs?|pounds?))?\b|({_NUMBER})\s*(kgs?|kilos?|lbs?|pounds?)\b"
)
_SETS_BY = re.compile(r"\b(\d{1,2})\s*(?:x|×|\*|sets?\s+of)\s*(\d{1,3})\b")
_ONE_SET = re.compile(r"\b\d{1,3}\b")
_POUND = 0.45359237
_MOST_SETS, _MOST_REPETITIONS, _MOST_KG = 12, 300, 600

_HARD = re.compile(
    r"\b(?:too (?:hard|heavy|much)|failed|couldn'?t (?:finish|do)|could not (?:finish|do)|brutal)\b"
)
_NOT_EASY = re.compile(
    r"\b(?:not|wasn'?t|isn'?t|never|hardly)\s+(?:so |that |too |very |exactly )?(?:easy|light)\b"
)
_NOT_HARD = re.compile(
    r"\b(?:not|wasn'?t|isn'?t|never)\s+(?:so |that |too |very |exactly )?(?:hard|heavy|bad)\b"
)
_EASY = re.compile(r"\b(?:easy|easily|too light|light|could have done more|more in the tank)\b")
_RIGHT = re.compile(r"\b(?:about right|just right|fine|ok|okay|good|solid|hard enough)\b")


def read_result(text: str, exercise: str) -> LiftResult | None:
    """What a client's words say of one exercise, or None where they say nothing of sets, weight or effort.

    Weights in pounds become kilograms, to a tenth. 'bodyweight' is no weight.
    """
    words = text.casefold().replace("’", "'")
    kg, rest = _weight(words)
    sets = _sets(rest)
    feel = _feel(words)
    if kg is None and not sets and feel is None:
        return None
    return LiftResult(exercise=exercise, sets=sets, kg=kg, feel=feel)


def _weight(words: str) -> tuple[float | None, str]:
    """Kilograms, and the words without them."""
    found = _KG.search(words)
    if found is None:
        return None, words
    number, unit = (found[1], found[2]) if found[1] else (found[3], found[4])
    kg = float(number.replace(",", "."))
    if unit and unit[0] in "lp":
        kg = round(kg * _POUND, 1)
    return (kg if 0 < kg <= _MOST_KG else None), words[: found.start()] + " " + words[found.end() :]


def _sets(words: str) -> tuple[int, ...]:
    """The repetitions of every set: from 'three by eight', else from a row of numbers."""
    by = _SETS_BY.search(words)
    if by is not None:
        count, many = int(by[1]), int(by[2])
        return (many,) * count if count <= _MOST_SETS and 0 < many <= _MOST_REPETITIONS else ()
    row = tuple(int(each) for each in _ONE_SET.findall(words))
    return row if len(row) <= _MOST_SETS and all(0 < each <= _MOST_REPETITIONS for each in row) else ()


def _feel(words: str) -> Feel | None:
    if _NOT_EASY.search(words):
        return Feel.RIGHT
    if _NOT_HARD.search(words):
        return Feel.RIGHT
    for pattern, feel in ((_HARD, Feel.HARD), (_EASY, Feel.EASY), (_RIGHT, Feel.RIGHT)):
        if pattern.search(words):
            return feel
    return None
