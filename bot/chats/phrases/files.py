"""What is said of a file, whoever sent it."""

from collections.abc import Sequence

from bot.chats.phrases.common import count, safe

MOST_FAULTS = 25


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
    """Everything that is wrong with it at once."""
    shown = [safe(line, 300) for line in lines[:MOST_FAULTS]]
    if len(lines) > MOST_FAULTS:
        shown.append(f"… and {count(len(lines) - MOST_FAULTS, 'more like these', 'more like these')}.")
    return "\n".join(["Nothing was taken in.", *shown])
