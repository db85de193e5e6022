"""What is said of a file, whoever sent it."""

from collections.abc import Sequence

from bot.chats.phrases.common import safe

MOST_FAULTS, ROOM = 25, 3500  # lines and letters of one message


def too_large(size: int, largest: int) -> str:
    """'The file has 30.0 MB; I read up to 5 MB.'."""
    return f"The file has {_amount(size)}; I read up to {_amount(largest)}."


def larger_than(largest: int) -> str:
    return f"The file is too large; I read up to {_amount(largest)}."


def _amount(size: int) -> str:
    return f"{size / 1e6:.1f} MB".replace(".0 MB", " MB") if size >= 1e6 else f"{size / 1024:.0f} kB"


def not_fetched() -> str:
    return (
        "I could not get the file from Telegram. Nothing was changed; please send it again in a few minutes."
    )


def faults(lines: Sequence[str]) -> str:
    """Everything that is wrong with it at once, as far as a message holds it."""
    shown, length = list[str](), 0
    for line in lines[:MOST_FAULTS]:
        length += len(shown_line := safe(line, 300))
        if length > ROOM:
            break
        shown.append(shown_line)
    left = len(lines) - len(shown)
    more = [f"… and {left} more like these."] if left else []
    return "\n".join(["Nothing was taken in.", *shown, *more])
