"""The text of a spreadsheet that was saved as CSV, as the programs of several countries write it."""

import codecs
from collections.abc import Iterable, Iterator
from itertools import chain

from core.errors import Refused

SEPARATORS = ",;\t"
UTF_16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def decode(content: bytes, name: str) -> str:
    """UTF-8, with or without its mark, or UTF-16 with it.

    Raises:
        Refused: it is neither; every line that cannot be read is named.

    """
    try:
        return content.decode("utf-16" if content.startswith(UTF_16) else "utf-8-sig")
    except UnicodeDecodeError:
        bad = _unreadable(content)
    if not bad:
        raise Refused(f"{name} is not UTF-8 text. Save it as CSV (UTF-8) and try again.")
    raise Refused(
        *(f"{name}, line {line}: is not UTF-8 text. Save it as CSV (UTF-8) and try again." for line in bad)
    )


def _unreadable(content: bytes) -> list[int]:
    """The lines that are not UTF-8; none where the whole is of another kind."""
    if content.startswith(UTF_16) or b"\0" in content:
        return []
    lines = content.replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n")
    return [number for number, line in enumerate(lines, start=1) if not _readable(line)]


def _readable(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def separator_of(lines: Iterable[str]) -> tuple[str, Iterator[str]]:
    """What stands between the cells, by the first line, and the lines again."""
    rest = iter(lines)
    first = next(rest, None)
    if first is None:
        return ",", rest
    return separator_in(first), chain([first], rest)


def separator_in(line: str) -> str:
    """What stands between the cells of the first line: a comma, or a semicolon or tab."""
    return max(SEPARATORS, key=line.count)
