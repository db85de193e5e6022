"""Days of the month in words: 'from the first to the eleventh', 'back on the sixth'."""

import re

from core.replies.date_named import MONTH

_ONES = "first second third fourth fifth sixth seventh eighth ninth".split()  # noqa: SIM905
_TEENS = "tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth".split()  # noqa: SIM905
_ORDINALS = {word: day for day, word in enumerate([*_ONES, *_TEENS, "twentieth"], start=1)}
_ORDINALS |= {f"20 {word}": 20 + day for day, word in enumerate(_ONES, start=1)} | {
    "thirtieth": 30,
    "30 first": 31,
}
_WORD = "|".join(sorted(_ORDINALS, key=len, reverse=True))
_OF_A_MONTH = re.compile(rf"\b({_WORD})(?= (?:of )?{MONTH}\b)")
_AFTER_THE = re.compile(
    rf"\b(from|on|until|till|to|back|by|home|leave|leaving|return|returning) the ({_WORD})"
    r"(?= ?(?:$|[,.]|to\b|until\b|and\b|then\b|-|for\b|back\b))"
)


def with_ordinals(text: str) -> str:
    """The text with such days in digits; 'the first set' stays.

    >>> with_ordinals("from the first to the eleventh , after the first set")
    'from the 1th to the 11th , after the first set'
    """
    text = _OF_A_MONTH.sub(lambda found: f"{_ORDINALS[found[1]]}th", text)
    return _AFTER_THE.sub(lambda found: f"{found[1]} the {_ORDINALS[found[2]]}th", text)
