"""The audit as a picture: what was said across, what was kept upwards, with the interval that chance allows."""

import io
from collections.abc import Sequence
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from core.adherence.scoring import Bin

WIDTH, HEIGHT = 720, 640
LEFT, TOP, SIDE = 96, 72, 480  # of the square of probabilities, in pixels
INK: Final = "#222831"
PALE: Final = "#b9b4a7"
PAPER: Final = "#fbf8f1"
OURS: Final = "#1f4e79"  # dark blue: told from the ink by its shape too
LARGEST, SMALLEST = 11, 4  # half sides of a square, in pixels


def draw(bins: Sequence[Bin], weeks: int) -> bytes:
    """A PNG; every square has its numbers beside it."""
    image = Image.new("RGB", (WIDTH, HEIGHT), PAPER)
    canvas = ImageDraw.Draw(image)
    canvas.text((LEFT, 20), f"What we said and what was kept, {weeks} weeks", fill=INK, font=_font(22))
    _axes(canvas)
    for one in bins:
        _draw_bin(canvas, one, most=max(b.n for b in bins))
    file = io.BytesIO()
    image.save(file, format="PNG")
    return file.getvalue()


def place(said: float, kept: float) -> tuple[float, float]:
    """Where a pair of probabilities lies, in pixels."""
    return LEFT + said * SIDE, TOP + (1 - kept) * SIDE


def _axes(canvas: ImageDraw.ImageDraw) -> None:
    for tick in range(0, 101, 20):
        share = tick / 100
        canvas.line([place(share, 0), place(share, 1)], fill="#e6e0d2")
        canvas.line([place(0, share), place(1, share)], fill="#e6e0d2")
        x, y = place(share, share)
        canvas.text((x, TOP + SIDE + 10), str(tick), fill=INK, font=_font(15), anchor="ma")
        canvas.text((LEFT - 10, y), str(tick), fill=INK, font=_font(15), anchor="rm")
    for step in range(0, 100, 4):  # dashed: said is kept
        canvas.line(
            [place(step / 100, step / 100), place((step + 2) / 100, (step + 2) / 100)], fill=PALE, width=2
        )
    canvas.text((LEFT + SIDE / 2, TOP + SIDE + 36), "said, %", fill=INK, font=_font(17), anchor="ma")
    canvas.text((LEFT, TOP - 8), "kept, %", fill=INK, font=_font(17), anchor="ls")


def _draw_bin(canvas: ImageDraw.ImageDraw, one: Bin, *, most: int) -> None:
    x, y = place(one.said, one.kept)
    canvas.line([place(one.said, one.low), place(one.said, one.high)], fill=OURS, width=2)
    half = SMALLEST + (LARGEST - SMALLEST) * (one.n / most) ** 0.5
    canvas.rectangle([x - half, y - half, x + half, y + half], fill=OURS)
    canvas.text(
        (x + half + 4, y), f"{round(100 * one.kept)} of 100, n {one.n}", fill=INK, font=_font(13), anchor="lm"
    )


def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)
