"""The year as a picture: a path that runs down the page, one step a week, wider where the weeks are harder.

Every block is named in words beside its part of the path, every deload is a notch that says so, every event a diamond at the
edge, every holiday and trip a line as long as it lasts.
The fills differ in lightness and in hatching, so that nothing rests on colour alone.
"""

import datetime as dt
import io
from collections.abc import Sequence
from types import MappingProxyType

from PIL import Image, ImageDraw, ImageFont

from core.programme.year.coming_up import WEEK, ComingUp, Kind, monday_of
from core.programme.year.plan import PlannedBlock, YearPlan
from core.terms import Block

WIDTH, TOP, BOTTOM = 1080, 90, 70
_STEP = 22  # pixels a week
_AXIS = 330  # the middle of the path
_MARKS, _NAMES = 806, 826  # where events, holidays and trips are marked and named
_INK, _QUIET, _PAPER = (38, 34, 48), (120, 112, 128), (250, 247, 240)

# half the width of the path, its fill, and the distance between the lines of its hatching (0: none)
_LOOKS = MappingProxyType(
    {
        Block.HYPERTROPHY: (110, (205, 185, 220), 0),
        Block.STRENGTH: (120, (112, 88, 150), 0),
        Block.POWER: (90, (66, 120, 140), 7),
        Block.POWER_ENDURANCE: (90, (160, 200, 205), 7),
        Block.RETURN: (55, (232, 214, 170), 0),
        Block.TAPER: (40, (214, 160, 90), 12),
        Block.REST: (12, (190, 184, 176), 0),
    }
)


def year_picture(plan: YearPlan) -> bytes:
    """A PNG of the plan, 1080 pixels wide."""
    image = Image.new("RGB", (WIDTH, TOP + plan.weeks * _STEP + BOTTOM), _PAPER)
    draw = ImageDraw.Draw(image)
    draw.text((40, 28), f"{plan.weeks} weeks from {plan.start:%-d %B %Y}", font=_font(30), fill=_INK)
    _months(draw, plan)
    for each in plan.blocks:
        _block(draw, plan, each)
    _coming_up(draw, plan)
    _legend(draw, plan)
    out = io.BytesIO()
    image.save(out, "PNG", optimize=True)
    return out.getvalue()


def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)


def _y(plan: YearPlan, day: dt.date) -> float:
    return TOP + (day - plan.start).days / 7 * _STEP


def _months(draw: ImageDraw.ImageDraw, plan: YearPlan) -> None:
    """The names of the months down the left edge, at the first week of each."""
    for week in range(plan.weeks):
        monday = plan.start + week * WEEK
        if week == 0 or monday.month != (monday - WEEK).month:
            new_year = monday.year > (monday - WEEK).year and week > 0
            said = f"{monday:%b %Y}" if new_year else f"{monday:%b}"
            draw.text((40, _y(plan, monday)), said, font=_font(18), fill=_QUIET)


def _block(draw: ImageDraw.ImageDraw, plan: YearPlan, each: PlannedBlock) -> None:
    half, fill, gap = _LOOKS[each.block]
    top, bottom = _y(plan, each.first) + 1, _y(plan, each.last + dt.timedelta(days=1)) - 1
    draw.rounded_rectangle((_AXIS - half, top, _AXIS + half, bottom), radius=6, fill=fill)
    if gap:
        _hatch(draw, (_AXIS - half, top, _AXIS + half, bottom), gap)
    for monday in each.deloads:
        _notch(draw, _y(plan, monday), half, last=monday + dt.timedelta(days=6) == each.last)
    weeks = "1 week" if each.weeks == 1 else f"{each.weeks} weeks"
    middle = (top + bottom) / 2
    said = f"{each.block}, {weeks}"
    draw.text((_AXIS + 150, middle), said, font=_font(17), fill=_INK, anchor="lm")
    after = _AXIS + 150 + draw.textlength(said, font=_font(17))
    draw.text((after + 5, middle), f"from {each.first:%-d %b}", font=_font(15), fill=_QUIET, anchor="lm")


def _hatch(draw: ImageDraw.ImageDraw, box: tuple[float, float, float, float], gap: int) -> None:
    """Level lines across a block."""
    left, top, right, bottom = box
    y = top + gap
    while y < bottom - 2:
        draw.line((left + 3, y, right - 3, y), fill=_PAPER, width=1)
        y += gap


def _notch(draw: ImageDraw.ImageDraw, y: float, half: int, *, last: bool) -> None:
    """A deload week: the path is cut narrower on both sides, to the end of the block where it is its last."""
    inset = half // 2
    for left, right in ((_AXIS - half, _AXIS - half + inset), (_AXIS + half - inset, _AXIS + half)):
        draw.rectangle((left, y + 2, right, y + _STEP - (0 if last else 3)), fill=_PAPER)
    draw.text((_AXIS - half + inset - 8, y + _STEP / 2), "easier", font=_font(14), fill=_QUIET, anchor="rm")


def _coming_up(draw: ImageDraw.ImageDraw, plan: YearPlan) -> None:
    """Events as diamonds, the larger the more they matter; holidays and trips as brackets; names on the right."""
    taken: list[float] = []
    for number, each in enumerate(plan.coming_up, start=1):
        if each.last < plan.start or each.first >= plan.start + plan.weeks * WEEK:
            continue
        y = _free(_y(plan, max(monday_of(each.first), plan.start)) + _STEP / 2, taken)
        taken.append(y)
        _mark(draw, plan, each, y)
        draw.text((_NAMES, y), _label(each, number), font=_font(16), fill=_INK, anchor="lm")


def _free(wanted: float, taken: Sequence[float]) -> float:
    """The height that is wanted, or the next below it where no other name stands."""
    while any(abs(wanted - other) < _STEP - 2 for other in taken):
        wanted += _STEP - 2
    return wanted


def _mark(draw: ImageDraw.ImageDraw, plan: YearPlan, each: ComingUp, y: float) -> None:
    x, size = _MARKS, 3 + 2 * each.importance
    if each.kind is Kind.EVENT:
        draw.polygon([(x, y - size), (x + size, y), (x, y + size), (x - size, y)], fill=_INK)
        return
    end = plan.start + plan.weeks * WEEK
    top, bottom = _y(plan, max(each.first, plan.start)), _y(plan, min(each.last + dt.timedelta(days=1), end))
    if each.kind is Kind.HOLIDAY:
        draw.line((x, top, x, bottom), fill=_INK, width=2)
        draw.rectangle((x - 5, y - 5, x + 5, y + 5), outline=_INK, fill=_PAPER, width=2)
    else:
        draw.line((x - 12, top, x - 12, bottom), fill=_QUIET, width=2)
        draw.line((x - 12, y, x + 6, y), fill=_INK, width=2)


def _legend(draw: ImageDraw.ImageDraw, plan: YearPlan) -> None:
    """One line that says what the marks are, where there are any."""
    said = [
        "diamond: an event, the larger the more it matters" if _any(plan, Kind.EVENT) else "",
        "square: a holiday" if _any(plan, Kind.HOLIDAY) else "",
        "dash: a trip" if _any(plan, Kind.TRIP) else "",
    ]
    words = "; ".join(word for word in said if word)
    if words:
        y = TOP + plan.weeks * _STEP + BOTTOM / 2
        draw.text((40, y), words[0].upper() + words[1:] + ".", font=_font(15), fill=_QUIET, anchor="lm")


def _any(plan: YearPlan, kind: Kind) -> bool:
    return any(each.kind is kind for each in plan.coming_up)


def _label(each: ComingUp, number: int) -> str:
    """Name and date; a name that the font cannot draw gives way to its number in the list."""
    drawable = each.name.isascii() or _latin(each.name)
    name = each.name if drawable else f"{each.kind} {number}"
    return f"{name if len(name) <= 24 else name[:23] + '…'}, {each.first:%-d %b}"


def _latin(text: str) -> bool:
    try:
        text.encode("latin-1")
    except UnicodeEncodeError:
        return False
    return True
