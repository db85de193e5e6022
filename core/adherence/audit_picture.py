"""The audit as a picture: what was said across, what was kept upwards, with the interval that chance allows.

Two squares: promises as they were agreed, and every number of sessions up to the promise.
"""

import io
from collections.abc import Sequence
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from core.adherence.scoring import Bin

WIDTH, HEIGHT = 1240, 640
TOP, SIDE = 96, 460  # of a square of probabilities, in pixels
LEFTS: Final = (76, 696)  # of the two squares
INK: Final = "#222831"
PALE: Final = "#b9b4a7"
PAPER: Final = "#fbf8f1"
OURS: Final = "#1f4e79"  # dark blue: told from the ink by its shape too
LARGEST, SMALLEST = 11, 4  # half sides of a square, in pixels
LEGEND: Final = "square: the larger, the more weeks.  upright line: what chance allows, 95 %.  dashed: kept as often as said."


def draw(issued: Sequence[Bin], all_sizes: Sequence[Bin], weeks: int) -> bytes:
    """A PNG; every square has its numbers beside it."""
    image = Image.new("RGB", (WIDTH, HEIGHT), PAPER)
    canvas = ImageDraw.Draw(image)
    canvas.text((LEFTS[0], 16), f"What we said and what was kept, {weeks} weeks", fill=INK, font=_font(22))
    for at, (title, bins) in enumerate(
        (("promises as agreed", issued), ("the first sessions of each, one to all", all_sizes))
    ):
        _axes(canvas, title, at)
        _draw_bins(canvas, bins, at)
    canvas.text((LEFTS[0], HEIGHT - 28), LEGEND, fill=INK, font=_font(14))
    file = io.BytesIO()
    image.save(file, format="PNG")
    return file.getvalue()


def place(said: float, kept: float, at: int = 0) -> tuple[float, float]:
    """Where a pair of probabilities lies in the first or second square, in pixels."""
    return LEFTS[at] + said * SIDE, TOP + (1 - kept) * SIDE


def _axes(canvas: ImageDraw.ImageDraw, title: str, at: int) -> None:
    left = LEFTS[at]
    for tick in range(0, 101, 20):
        share = tick / 100
        canvas.line([place(share, 0, at), place(share, 1, at)], fill="#e6e0d2")
        canvas.line([place(0, share, at), place(1, share, at)], fill="#e6e0d2")
        x, y = place(share, share, at)
        canvas.text((x, TOP + SIDE + 8), str(tick), fill=INK, font=_font(15), anchor="ma")
        canvas.text((left - 10, y), str(tick), fill=INK, font=_font(15), anchor="rm")
    for step in range(0, 100, 4):  # dashed: said is kept
        ends = [place(share / 100, share / 100, at) for share in (step, step + 2)]
        canvas.line(ends, fill=PALE, width=2)
    canvas.text((left + SIDE / 2, TOP + SIDE + 30), "said, %", fill=INK, font=_font(16), anchor="ma")
    canvas.text((left, TOP - 10), f"kept, %: {title}", fill=INK, font=_font(16), anchor="ls")


def _draw_bins(canvas: ImageDraw.ImageDraw, bins: Sequence[Bin], at: int) -> None:
    most = max((one.n for one in bins), default=1)
    for one in bins:
        canvas.line([place(one.said, one.low, at), place(one.said, one.high, at)], fill=OURS, width=2)
    for one in bins:
        x, y = place(one.said, one.kept, at)
        half = SMALLEST + (LARGEST - SMALLEST) * (one.n / most) ** 0.5
        label = ((x + half + 5, y), f"{round(one.kept * one.n)} of {one.n}")
        box = canvas.textbbox(*label, font=_font(13), anchor="lm")
        canvas.rectangle(box, fill=PAPER)  # no line runs through a number
        canvas.text(*label, fill=INK, font=_font(13), anchor="lm")
        canvas.rectangle([x - half, y - half, x + half, y + half], fill=OURS)


def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)
