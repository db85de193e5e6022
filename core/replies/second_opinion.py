"""A second opinion beside the grammar: two small linear models of what words usually go with which answer.

The grammar knows many phrasings, and where it meets one that it does not know it may read a part for the whole, or nothing at all.
The models know no phrasings. Where they find the grammar's outcome unlikely, it is asked back instead of recorded; where the
grammar finds no outcome in an answer about a session, and they are sure of one, it holds. Where words sound like red flags in
which the grammar sees none, the client is asked; where the grammar sees one and the words sound harmless, an alarm becomes a
question, and a question falls away.

The weights are in ``data/likely_outcomes.txt`` and ``data/likely_flags.txt``, made from the invented sentences by
``tests/core/replies/training.py``; a line holds a trait of a message and what it is worth, in tenths.
"""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import pairwise

from core.replies.meaning import Asked, Said, Urgency

OUTCOMES: tuple[Said | None, ...] = (None, Said.DONE, Said.SHORT, Said.MISSED, Said.LATER)
"""What the weights of an outcome's trait are for, in their order."""

BIAS = "*"
"""The trait that every message has."""

SURE = 0.7
"""Above this share, an outcome holds though the grammar finds none."""

CERTAIN = 0.8
"""Above this share, an outcome holds also where nobody asked."""

OUTWEIGHS = 0.95
"""Above this share, an outcome holds though the grammar finds another; below it, two readings that differ are asked about."""

DOUBTS = 0.65
"""Above this share of another, an outcome is doubted where its own is less than this part of it: UNLIKELY, or UNHEARD where the other
is no outcome at all, which is also what words sound like that were never heard."""
UNLIKELY, UNHEARD = 0.5, 0.1

ALARMING = 0.35
"""Below this share, what alarms the grammar is only asked about."""

LIKE_A_FLAG = 0.35
"""From this share on, words are asked about though the grammar finds them harmless."""

UNLIKE_A_DOUBT = 0.2
"""Below this share, what the grammar would ask about is left alone."""

UNLIKE_A_FLAG = 0.12
"""Below this share, even what alarms the grammar is left alone. All these were chosen by what sets of sentences told that had been left
out of the learning."""

_CLOCK = re.compile(r"\b[tc]\d\d?:\d\d\b")
_NUMBER = re.compile(r"\b\d[\d:.h]*\b")
_DAY = re.compile(r"\b(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b")
_READ = 1_000
"""Characters that are weighed: nobody's answer is longer."""
_STEM, _RUN, _APART = 4, 5, 6
_STOPS = frozenset(",.?")
_SCALE = 10


def is_unlikely(outcome: Said, plain: str, asked: Asked) -> bool:
    """Whether words in plain form hardly go with an outcome, given what was asked."""
    shares = likely_outcomes(plain, asked)
    likeliest = max(shares)
    least = UNHEARD if shares[0] == likeliest else UNLIKELY
    return likeliest > DOUBTS and shares[OUTCOMES.index(outcome)] < least * likeliest


@dataclass(frozen=True, slots=True)
class Sound:
    """The outcome that a message most sounds like, None where it tells none, and its share."""

    outcome: Said | None = None
    share: float = 0.0

    @property
    def is_sure(self) -> bool:
        return self.share > SURE

    @property
    def is_certain(self) -> bool:
        return self.share > CERTAIN

    @property
    def outweighs(self) -> bool:
        return self.share > OUTWEIGHS


SILENCE = Sound()


def sounds_like(plain: str, asked: Asked) -> Sound:
    """What words in plain form most sound like, given what was asked."""
    shares = likely_outcomes(plain, asked)
    return Sound(OUTCOMES[shares.index(max(shares))], max(shares))


def sounds_alarming(plain: str) -> bool:
    return likely_flag(plain) >= LIKE_A_FLAG


def weighed(urgency: Urgency, share: float, *, grave: bool = False) -> Urgency | None:
    """What is left of a red flag that the grammar sees, by how like one the words sound.

    What is grave is asked about however harmless it sounds, and alarms unless nothing else speaks for it.
    """
    if grave:
        return urgency if share >= UNLIKE_A_FLAG else Urgency.ASK
    if urgency is Urgency.ASK:
        return urgency if share >= UNLIKE_A_DOUBT else None
    if share < UNLIKE_A_FLAG:
        return None
    return urgency if share >= ALARMING else Urgency.ASK


def likely_outcomes(plain: str, asked: Asked) -> list[float]:
    """The shares of OUTCOMES; they add up to one."""
    return _shares(_sums(outcome_traits(plain, asked), _weights("likely_outcomes.txt")))


def likely_flag(plain: str) -> float:
    """How like a red flag the words are, from 0 to 1."""
    return _shares([0.0, *_sums(flag_traits(plain), _weights("likely_flags.txt"))])[1]


def outcome_traits(plain: str, asked: Asked) -> set[str]:
    """Words, beginnings of words, neighbours, and words together with what was asked.

    >>> sorted(outcome_traits("all done", Asked.SESSION))[:4]
    ['^ all', 'all', 'all done', 'asked session']
    """
    general = _general(plain)
    words = _words(general)
    return {
        f"asked {asked}",
        *words,
        *_neighbours(general),
        *(f"{asked}: {word}" for word in words),
        *(f"{word[:_STEM]}~" for word in words if len(word) > _STEM),
    }


def flag_traits(plain: str) -> set[str]:
    """Words, neighbours near and less near, and runs of letters, so that a misspelt word still counts for much of itself."""
    general = _general(plain)
    words = _words(general)
    framed = f"^{general}$"
    runs = {f"~{framed[at : at + _RUN]}~" for at in range(len(framed) - _RUN + 1)}
    apart = {f"{one}..{other}" for at, one in enumerate(words) for other in words[at + 2 : at + _APART]}
    return {*words, *_neighbours(general), *apart, *runs}


def _general(plain: str) -> str:
    """The words with every time, number and day alike."""
    return _DAY.sub("day", _NUMBER.sub("0", _CLOCK.sub("o'clock", plain[:_READ])))


def _words(text: str) -> list[str]:
    return [word for word in text.split() if word not in _STOPS]


def _neighbours(text: str) -> set[str]:
    """Pairs of words, stops and ends included."""
    return set(map(" ".join, pairwise(["^", *text.split(), "$"])))


def _sums(traits: set[str], weights: Mapping[str, Sequence[float]]) -> list[float]:
    """The weights of a message's traits, each divided by the root of their number, so that long messages are no surer."""
    bias = weights[BIAS]
    share = 1 / math.sqrt(len(traits) or 1)
    # in their order, so that the last digit is the same on every run
    known = [weights[trait] for trait in sorted(traits) if trait in weights]
    return [worth + share * math.fsum(row[n] for row in known) for n, worth in enumerate(bias)]


def _shares(sums: Iterable[float]) -> list[float]:
    sums = list(sums)
    top = max(sums)
    powers = [math.exp(one - top) for one in sums]
    return [one / sum(powers) for one in powers]


@cache
def _weights(name: str) -> dict[str, tuple[float, ...]]:
    return weights_in((files("core.replies") / "data" / name).read_text(encoding="utf-8"))


def weights_in(text: str) -> dict[str, tuple[float, ...]]:
    """The worth of each trait, from the lines of a file of weights."""
    lines = (line.partition("\t") for line in text.splitlines())
    return {trait: tuple(map(_tenths, numbers.split())) for trait, _, numbers in lines}


@cache
def _tenths(number: str) -> float:
    """Each worth once in memory, however many traits have it."""
    return int(number) / _SCALE
