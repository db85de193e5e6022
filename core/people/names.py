"""Names: when two spellings are one, and how one stands in a line that is not written in its direction."""

import unicodedata

TURNING = dict.fromkeys(
    [*range(0x202A, 0x202F), *range(0x2066, 0x206A)]
)  # signs that turn round what follows them
A_NAME = 80  # characters: a name, a place, a title; longer words stand in lines of their own
ISOLATE, END = "\u2068", "\u2069"


def folded(name: str) -> str:
    """A name as it is compared, never as it is shown: capitals, blanks and accents that are written apart make no difference."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


def in_its_own_direction(words: str) -> str:
    """A name written from right to left must not turn round the line that it stands in (UAX #9: isolates)."""
    plain = words.translate(TURNING)
    from_right = any(unicodedata.bidirectional(sign) in {"R", "AL"} for sign in plain)
    return f"{ISOLATE}{plain}{END}" if from_right and len(plain) <= A_NAME and "\n" not in plain else plain
