"""Mends slips of the keyboard in the words that matter, and leaves every other word alone.

``data/vocabulary.txt`` holds the words that the rules look for; ``data/ordinary.txt`` the English words that are one or two
letters away from one of them and mean something else ('paint' is not 'pain').
"""

from functools import cache, lru_cache

from rapidfuzz.distance import OSA

from core.replies.word_lists import words_of

_SHORTEST = 4
_LONGEST = 16


def mend(word: str) -> str:
    """The word that was meant, or the word itself.

    >>> mend("dizzyness"), mend("paint")
    ('dizziness', 'paint')
    """
    if not (_SHORTEST <= len(word) <= _LONGEST and word.isalpha() and word.isascii()):
        return word
    return _mended(word)


def mend_dates(word: str) -> str:
    """As ``mend``, but only where a day, a month or the like was meant: names of places stay as they are."""
    mended = mend(word)
    return mended if mended in words_of("date_words.txt") else word


@lru_cache(maxsize=4_096)
def _mended(word: str) -> str:
    known = _vocabulary()
    if word in known or word in _ordinary():
        return word
    near = [
        (OSA.distance(word, other, score_cutoff=2), word[-1] != other[-1], -len(other), other)
        for other in _alike(word)
    ]
    distance, _, _, nearest = min(near, default=(3, False, 0, word))
    return nearest if distance <= slips_allowed(word, nearest) else word


def slips_allowed(word: str, meant: str) -> int:
    """How many letters may be wrong: two in a long word, one in a short one, and then not the first."""
    shorter = min(len(word), len(meant))
    if shorter >= 7:
        return 2
    return 1 if shorter >= _SHORTEST and (word[0] == meant[0] or shorter >= 5) else 0


def _alike(word: str) -> list[str]:
    return [other for length in range(len(word) - 2, len(word) + 3) for other in _by_length().get(length, ())]


@cache
def _by_length() -> dict[int, list[str]]:
    words: dict[int, list[str]] = {}
    for word in sorted(_vocabulary()):
        words.setdefault(len(word), []).append(word)
    return words


def _vocabulary() -> frozenset[str]:
    return words_of("vocabulary.txt")


def _ordinary() -> frozenset[str]:
    return words_of("ordinary.txt")
