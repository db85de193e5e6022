"""Numbers as people write them, turned into digits: words, fractions, decimal commas."""

import re

_UNITS = {
    word: number
    for number, word in enumerate(
        [
            "zero",
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
        ]
    )
}
_TENS = {
    word: 10 * number
    for number, word in enumerate(
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"], start=2
    )
} | {"fourty": 40}
_FRACTIONS = {"½": ".5", "¼": ".25", "¾": ".75"}

_TENS_AND_UNIT = re.compile(rf"\b({'|'.join(_TENS)})[ -]({'|'.join(list(_UNITS)[1:10])})\b")
_WORD = re.compile(rf"\b({'|'.join([*_TENS, *_UNITS])})\b")
_LONELY_ONE = re.compile(
    r"\bone\b(?= (?:hour|min|session|time|week|night|day|month|or|to|more|workout|x)s?\b)|^\W*one\W*$|"
    r"^one(?= ,)|"
    r"(?<=manage )one\b"
    r"|\bone(?= on )|one(?= (?:next|this|per|a) (?:week|day))|(?<=just )one$|(?<=only )one$|"
    r"\bone(?= and a half)"
)
_AND_HALF = re.compile(
    r"\b(\d{1,2}) (?:and|&|1/2|n) ?(a half|half|a quarter|quarter(?! (?:past|to|of))|3 quarters|1/2)\b|\b(\d{1,2}) 1/2(?!\d)"
)
_POINT = re.compile(r"\b(\d{1,2}) point (\d)\b")
_DECIMAL_COMMA = re.compile(r"(?<![\d,])(\d{1,2}),(\d|25|50|75)(?![\d,])")
_PARTS = {
    "a half": ".5",
    "half": ".5",
    "1/2": ".5",
    "a quarter": ".25",
    "quarter": ".25",
    "3 quarters": ".75",
}


def in_digits(text: str) -> str:
    """The text with its numbers in digits: 'six and a half' is '6.5', 'thirty-five' is '35', '6,5' is '6.5'.

    A 'one' that stands for a thing ('a lighter one') stays a word.
    """
    text = _DECIMAL_COMMA.sub(r"\1.\2", text)
    for sign, decimals in _FRACTIONS.items():
        text = re.sub(rf"(\d) ?{sign}", rf"\g<1>{decimals}", text).replace(sign, f"0{decimals}")
    text = _TENS_AND_UNIT.sub(lambda found: str(_TENS[found[1]] + _UNITS[found[2]]), text)
    text = _LONELY_ONE.sub("1", text)
    text = _WORD.sub(lambda found: found[1] if found[1] == "one" else str((_TENS | _UNITS)[found[1]]), text)
    text = _AND_HALF.sub(_with_part, text)
    return _POINT.sub(r"\1.\2", text)


def _with_part(found: re.Match[str]) -> str:
    whole = found[1] or found[3]
    return whole + _PARTS[found[2] or "half"]
