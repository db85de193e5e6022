"""A pen for pictures: text and plain shapes, in pixels of the finished picture; drawn larger and reduced, so edges are smooth."""

import functools
import io
from collections.abc import Sequence
from importlib import resources

from PIL import Image, ImageDraw, ImageFont

_SCALE = 2
_NO_SUCH_GLYPH = "\uffff"


class Pen:
    """Draws on one sheet. Positions and sizes are in pixels; ``y`` grows downwards, and text stands on its baseline."""

    def __init__(self, width: int, height: int, paper: str) -> None:
        self._sheet = Image.new("RGB", (width * _SCALE, height * _SCALE), paper)
        self._draw = ImageDraw.Draw(self._sheet)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: int,
        colour: str,
        *,
        bold: bool = False,
        right: bool = False,
    ) -> None:
        """Words on the baseline ``y``, beginning at ``x``; ending there, if ``right``."""
        font = _font(size * _SCALE, bold=bold)
        self._draw.text(
            (x * _SCALE, y * _SCALE), words, fill=colour, font=font, anchor="rs" if right else "ls"
        )

    def line(self, x: float, y: float, length: float, colour: str, thickness: float = 2) -> None:
        """A level line."""
        self._draw.rectangle(_scaled(x, y, x + length, y + thickness), fill=colour)

    def bar(self, x: float, y: float, width: float, height: float, colour: str) -> None:
        """A full upright bar, its foot at ``y``, its ends rounded."""
        self._draw.rounded_rectangle(
            _scaled(x, y - height, x + width, y), radius=width * _SCALE / 2, fill=colour
        )

    def hollow_bar(self, x: float, y: float, width: float, height: float, colour: str) -> None:
        box = _scaled(x, y - height, x + width, y)
        self._draw.rounded_rectangle(
            box, radius=width * _SCALE / 2, outline=colour, width=round(width / 4.5 * _SCALE)
        )

    def leaning_bar(self, x: float, y: float, width: float, height: float, colour: str) -> None:
        """A full bar that leans to the right by half its height."""
        lean = height / 2
        corners = [(x, y), (x + width, y), (x + width + lean, y - height), (x + lean, y - height)]
        self._draw.polygon([(a * _SCALE, b * _SCALE) for a, b in corners], fill=colour)

    def dot(self, x: float, y: float, across: float, colour: str) -> None:
        """A point that stands on ``y``."""
        self._draw.ellipse(_scaled(x, y - across, x + across, y), fill=colour)

    def png(self) -> bytes:
        """The finished picture; the same strokes make the same bytes."""
        kept = io.BytesIO()
        self._sheet.reduce(_SCALE).save(kept, "PNG")
        return kept.getvalue()


def width_of(words: str, size: int, *, bold: bool = False) -> float:
    """Pixels that the words take."""
    return _font(size * _SCALE, bold=bold).getlength(words) / _SCALE


def fitted(words: str, size: int, room: float, *, bold: bool = False) -> str:
    """The words, cut with an ellipsis where they would take more than ``room`` pixels."""
    if width_of(words, size, bold=bold) <= room:
        return words
    kept = words
    while kept and width_of(kept.rstrip() + "…", size, bold=bold) > room:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def first_that_fits(ways: Sequence[str], size: int, room: float) -> str:
    """The first of several ways to say it for which there is room; of the last, as much as there is room for."""
    return next((words for words in ways if width_of(words, size) <= room), fitted(ways[-1], size, room))


def drawable(words: str) -> str:
    """The words without what the typeface has no shape for, such as emoji."""
    return " ".join("".join(sign for sign in words if _has_shape(sign)).split())


@functools.cache
def _has_shape(sign: str) -> bool:
    font = _font(20, bold=False)
    return sign.isspace() or bytes(font.getmask(sign)) != bytes(font.getmask(_NO_SUCH_GLYPH))


@functools.cache
def _font(size: int, *, bold: bool) -> ImageFont.FreeTypeFont:
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    with resources.as_file(resources.files("core.digest").joinpath("fonts", name)) as path:
        return ImageFont.truetype(io.BytesIO(path.read_bytes()), size)


def _scaled(*numbers: float) -> tuple[float, ...]:
    return tuple(number * _SCALE for number in numbers)
