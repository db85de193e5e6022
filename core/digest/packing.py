"""Paragraphs put together into messages that Telegram takes."""

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

LONGEST = 4096  # UTF-16 units of one message (Telegram Bot API, sendMessage)


@dataclass(frozen=True, slots=True)
class Block:
    """What is not torn apart unless no message could hold it. A tight one stands directly under the one before."""

    text: str
    tight: bool = False

    @property
    def gap(self) -> str:
        return "\n" if self.tight else "\n\n"


def units(text: str) -> int:
    """The length of a text as Telegram counts it: UTF-16 units."""
    return len(text.encode("utf-16-le")) // 2


def packed(blocks: Iterable[Block]) -> Iterator[str]:
    """Blocks put together, with an empty line before each that is not tight."""
    held = ""
    for block in itertools.chain.from_iterable(_pieces(block) for block in blocks):
        joined = f"{held}{block.gap}{block.text}" if held else block.text
        if held and units(joined) > LONGEST:
            yield held
            joined = block.text
        held = joined
    if held:
        yield held


def _pieces(block: Block) -> Iterator[Block]:
    """A block that no message could hold, cut between its lines; a line is always shorter than a message."""
    lines = block.text.split("\n")
    if units(block.text) <= LONGEST or len(lines) == 1:
        yield block
        return
    middle = len(lines) // 2
    yield from _pieces(Block("\n".join(lines[:middle]), block.tight))
    yield from _pieces(Block("\n".join(lines[middle:]), tight=True))
