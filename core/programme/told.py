"""Which parts of a message tell results of lifts, and which say something else."""

import re
from dataclasses import dataclass

_SETS_BY = re.compile(r"\b\d{1,2}\s*(?:x|×|\*|sets?\s+of)\s*\d{1,3}\b")
_KG = re.compile(r"\b\d+(?:[.,]\d+)?\s*(?:kgs?|kilos?|lbs?|pounds?)\b")
_CLAUSES = re.compile(r"[;\n]+|(?<!\d)\.(?!\d)|,\s*(?=[^\d\s])|\s+(?:and|then)\s+(?=[a-z])", re.IGNORECASE)
_NUMBER = re.compile(r"\d+")
_WORD = re.compile(r"[a-z]+")
# What may stand beside numbers in a result without saying anything else.
_BESIDE = frozenset(
    (
        *(
            "x",
            "at",
            "with",
            "on",
            "of",
            "each",
            "side",
            "a",
            "per",
            "set",
            "sets",
            "rep",
            "reps",
            "repetitions",
        ),
        *("kg", "kgs", "kilo", "kilos", "lb", "lbs", "pounds", "bodyweight", "body", "weight", "and", "the"),
        *(
            "easy",
            "easily",
            "hard",
            "too",
            "heavy",
            "light",
            "about",
            "right",
            "fine",
            "ok",
            "okay",
            "good",
            "solid",
        ),
        *("was", "it", "felt", "did", "done"),
    )
)
_FEELS = re.compile(
    r"(?:it was |felt |all )?(?:too |very |a bit )?(?:easy|hard|heavy|light)|about right|just right"
)


@dataclass(frozen=True, slots=True)
class Told:
    """The clauses that tell results, and the rest of the message."""

    results: tuple[str, ...]
    rest: str


def split_results(text: str, *, asked: bool) -> Told:
    """Take the results out of a message: '3x8 at 20', '20 kg 8 8 7', with or without the name of a lift.

    ``asked``: a lift was just asked about, so that a row of numbers ('12, 10, 9') or a word ('easy') is an answer too.
    """
    if asked and _is_answer(text):
        return Told((text.strip(),), "")
    clauses = [clause.strip() for clause in _CLAUSES.split(text) if clause and clause.strip()]
    results = tuple(clause for clause in clauses if _is_result(clause))
    rest = ", ".join(clause for clause in clauses if clause not in results)
    return Told(results, rest if results else text)


def _is_result(clause: str) -> bool:
    words = clause.casefold()
    weighed = _KG.search(words)
    return bool(_SETS_BY.search(words) or (weighed and len(_NUMBER.findall(_KG.sub(" ", words))) > 1))


def _is_answer(text: str) -> bool:
    """Whether all of it is numbers and the few words that go with them."""
    words = text.casefold().replace("’", "'")
    letters = set(_WORD.findall(words))
    return letters <= _BESIDE and (
        len(_NUMBER.findall(words)) > 1 or is_feel(words) or bool(_KG.search(words))
    )


def is_feel(text: str) -> bool:
    """Whether the words say how it felt, and nothing else."""
    return _FEELS.fullmatch(text.casefold().strip(" .!")) is not None
