"""Whether minutes that stand in a message without a verb of training are minutes trained.

'45 min, effort 7' is an answer to 'did you train?'; 'the ferry took 90 minutes' is not. Beside minutes that count, a clause may
only hold words that cannot change what they are minutes of: those in ``data/beside_minutes.txt``.
"""

import re
from functools import cache
from importlib.resources import files

from core.replies.durations import DURATION

_CLAUSE = re.compile(r" , | and (?=slept\b|effort\b|my\b)")
_WORD = re.compile(r"(?<![\w:])[a-z]{2,}(?![\w:])")


def minutes_stand_alone(text: str) -> bool:
    """Whether every clause with a length of time in it is free of anything else that could have taken it.

    >>> minutes_stand_alone("a solid 45 min , my knee is ok"), minutes_stand_alone("the ferry took 90 min")
    (True, False)
    """
    timed = [clause for clause in _CLAUSE.split(text) if DURATION.search(clause)]
    return all(map(_is_bare, timed))


def _is_bare(clause: str) -> bool:
    return set(_WORD.findall(DURATION.sub(" ", clause))) <= _beside_minutes()


@cache
def _beside_minutes() -> frozenset[str]:
    return frozenset(
        (files("core.replies") / "data" / "beside_minutes.txt").read_text(encoding="utf-8").split()
    )
