"""The group at a glance: one picture for the coach's phone, with every number in words beside its strokes.

Who needs the coach stands on top, each with the reason; those who are well stand below, in two columns where they are many. The
same facts make the same bytes.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from core.digest.drawing import Pen, drawable, first_that_fits, fitted, width_of
from core.digest.facts import ClientWeek, GroupWeek
from core.digest.look import DARK_OCHRE, FAINT, INK, PAPER, RULE
from core.digest.order import in_order, is_well
from core.digest.phrases import days
from core.digest.strokes import Size, Stroke, draw_stroke, draw_strokes, strokes_of
from core.digest.words import (
    count_in_brief,
    count_in_short,
    headline,
    notes_in_brief,
    promises_kept,
    sessions_done,
)

WIDTH = 1080  # pixels: a phone's width at three to a point
_TALLEST = 1960  # beyond this a phone shows the picture too small to read at a glance
_TALLEST_OF_MANY = 2700  # beyond this Telegram reduces it too far
_MARGIN = 56
_INNER = WIDTH - 2 * _MARGIN
_GUTTER = 40

_SMALL = 22  # the size of a count in a narrow column
_ARROW = 68  # what the arrow and the number after it take there, with the gap before them

_HEADER = 250
_HEADING = 84
_BETWEEN = 28
_KEY = 150


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where a row stands: its upper left corner, its size, and the room that its section's strokes and counts take."""

    x: float
    top: float
    width: float
    height: float
    most: int
    count: float

    @property
    def right(self) -> float:
        return self.x + self.width

    def baseline(self, size: int) -> float:
        """Where text of a size stands to be in the middle."""
        return self.top + self.height / 2 + size * 0.37

    def foot(self, size: Size) -> float:
        """Where strokes stand to be in the middle."""
        return self.top + (self.height + size.height) / 2


Draw = Callable[[Pen, ClientWeek, str, _Place], None]
"""Draws a client, under a name, in a place."""


@dataclass(frozen=True, slots=True)
class _Rows:
    """A way to show clients: how one is drawn, the height that takes, and how many stand side by side."""

    draw: Draw
    height: int
    columns: int = 1

    def tall(self, clients: int) -> int:
        return -(-clients // self.columns) * self.height


def picture(group: GroupWeek) -> bytes:
    """A PNG, ``WIDTH`` pixels wide and as tall as the group needs."""
    ordered = in_order(group.clients)
    needing, well = [c for c in ordered if not is_well(c)], [c for c in ordered if is_well(c)]
    above, below = _fitting(len(needing), len(well))
    names = _names(ordered)
    pen = Pen(WIDTH, _height(needing, well, above, below), PAPER)
    y = _header(pen, group)
    for title, clients, rows in (
        (f"{len(needing)} need you" if len(needing) > 1 else "One needs you", needing, above),
        ("All is well" + (f" with the other {len(well)}" if needing else ""), well, below),
    ):
        if clients:
            y = _section(pen, y, title, [(client, names[id(client)]) for client in clients], rows)
    if ordered:
        _key(pen, y)
    return pen.png()


def _names(clients: Sequence[ClientWeek]) -> dict[int, str]:
    """What each client is called on the picture; by number, where the typeface has none of the letters."""
    return {id(client): drawable(client.name) or f"Client {n}" for n, client in enumerate(clients, 1)}


def _fitting(needing: int, well: int) -> tuple[_Rows, _Rows]:
    """The roomiest way to show so many of each that a phone can still show."""
    ways = (
        (_Rows(_tall_row, 130), _Rows(_long_row, 84), _TALLEST),
        (_Rows(_tall_row, 130), _Rows(_short_row, 74, columns=2), _TALLEST),
        (_Rows(_tall_row, 116), _Rows(_short_row, 56, columns=2), _TALLEST_OF_MANY),
        (_Rows(_short_row, 60, columns=2), _Rows(_short_row, 56, columns=2), _TALLEST_OF_MANY),
    )
    around = _HEADER + 2 * (_HEADING + _BETWEEN) + _KEY
    fits = ((a, b) for a, b, most in ways if around + a.tall(needing) + b.tall(well) <= most)
    return next(fits, ways[-1][:2])


def _height(needing: Sequence[ClientWeek], well: Sequence[ClientWeek], above: _Rows, below: _Rows) -> int:
    sections = [
        rows.tall(len(clients)) + _HEADING + _BETWEEN
        for clients, rows in ((needing, above), (well, below))
        if clients
    ]
    return _HEADER + sum(sections) + (_KEY if sections else 0)


def _header(pen: Pen, group: GroupWeek) -> float:
    week = f"Week {group.week.week}"
    pen.text(_MARGIN, 108, week, 60, INK, bold=True)
    pen.text(WIDTH - _MARGIN, 108, days(group.week.monday, group.week.sunday), 34, FAINT, right=True)
    if not group.clients:
        pen.text(_MARGIN, 182, "Nobody yet.", 38, INK, bold=True)
        return _HEADER
    pen.text(_MARGIN, 176, promises_kept(group) or "No promise has ended yet", 38, INK, bold=True)
    pen.text(_MARGIN, 222, sessions_done(group), 30, FAINT)
    return _HEADER


def _section(pen: Pen, y: float, title: str, clients: Sequence[tuple[ClientWeek, str]], rows: _Rows) -> float:
    """A heading and its clients, read down one column and then the next."""
    pen.line(_MARGIN, y + 8, _INNER, INK, 3)
    pen.text(_MARGIN, y + 60, title, 30, INK, bold=True)
    width = (_INNER - (rows.columns - 1) * _GUTTER) / rows.columns
    deep = -(-len(clients) // rows.columns)
    most = max(len(strokes_of(client)) for client, _ in clients)
    count = max(width_of(count_in_short(client), _SMALL) for client, _ in clients)
    for n, (client, name) in enumerate(clients):
        column, row = divmod(n, deep)
        x, top = _MARGIN + column * (width + _GUTTER), y + _HEADING + row * rows.height
        if row:
            pen.line(x, top, width, RULE)
        rows.draw(
            pen, client, name, _Place(x=x, top=top, width=width, height=rows.height, most=most, count=count)
        )
    return y + _HEADING + rows.tall(len(clients)) + _BETWEEN


def _tall_row(pen: Pen, client: ClientWeek, name: str, at: _Place) -> None:
    """Two lines: name and reason, strokes and count, what else to know, and the coming promise."""
    size = Size(width=15, height=46, gap=10) if at.most <= 6 else Size(width=11, height=46, gap=7)
    upper, lower = at.top + at.height / 2 - 8, at.top + at.height / 2 + 34
    pen.text(at.x, upper, fitted(name, 32, 380, bold=True), 32, INK, bold=True)
    pen.text(at.x, lower, first_that_fits((headline(client), headline(client, 1)), 25, 380), 25, DARK_OCHRE)
    middle = at.x + 400
    notes = middle + max(150, at.most * size.pitch + 24, width_of(count_in_brief(client), 25) + 28)
    draw_strokes(pen, middle, upper + 8, strokes_of(client), size)
    pen.text(middle, lower, count_in_brief(client), 25, FAINT)
    for line, note in zip((upper, lower), notes_in_brief(client), strict=False):
        shown = first_that_fits([drawable(each) for each in note], 24, at.right - 120 - notes)
        pen.text(notes, line, shown, 24, FAINT)
    _next_number(pen, client, at.right, upper, 32)
    if client.next_week and client.next_week.previous not in {None, client.next_week.number}:
        pen.text(at.right, lower, f"was {client.next_week.previous}", 25, FAINT, right=True)


def _long_row(pen: Pen, client: ClientWeek, name: str, at: _Place) -> None:
    """All on one line, across the picture."""
    size = Size(width=13, height=40, gap=9)
    middle = at.x + 410
    pen.text(at.x, at.baseline(30), fitted(name, 30, 390), 30, INK)
    draw_strokes(pen, middle, at.foot(size), strokes_of(client), size)
    count = middle + max(150, at.most * size.pitch + 24)
    pen.text(count, at.baseline(26), fitted(count_in_brief(client), 26, at.right - 90 - count), 26, FAINT)
    _next_number(pen, client, at.right, at.baseline(30), 30)


def _short_row(pen: Pen, client: ClientWeek, name: str, at: _Place) -> None:
    """All on one line, in half the width."""
    size = Size(width=9, height=30, gap=6)
    middle = at.right - _ARROW - at.count - 20 - at.most * size.pitch
    pen.text(at.x, at.baseline(25), fitted(name, 25, middle - at.x - 14), 25, INK)
    draw_strokes(pen, middle, at.foot(size), strokes_of(client), size)
    pen.text(at.right - _ARROW, at.baseline(_SMALL), count_in_short(client), _SMALL, FAINT, right=True)
    _next_number(pen, client, at.right, at.baseline(25), 25)


def _next_number(pen: Pen, client: ClientWeek, right: float, baseline: float, size: int) -> None:
    """An arrow and the promise of the coming week."""
    if client.next_week:
        pen.text(right, baseline, f"→ {client.next_week.number}", size, INK, bold=True, right=True)


def _key(pen: Pen, y: float) -> None:
    """What the strokes mean, in two lines."""
    pen.line(_MARGIN, y, _INNER, INK, 3)
    size = Size(width=10, height=30, gap=8)
    x, foot = float(_MARGIN), y + 58
    for stroke in Stroke:
        pen_width = 30 if stroke is Stroke.EXTRA else 20
        draw_stroke(pen, x, foot, stroke, size)
        pen.text(x + pen_width, foot - 4, stroke.value, 23, FAINT)
        x += pen_width + width_of(stroke.value, 23) + 26
    pen.text(_MARGIN, y + 108, "→ the promise of the coming week: recommended, or settled already", 23, FAINT)
