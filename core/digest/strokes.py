"""A week as strokes: one upright stroke a session, told apart by shape first and by colour second.

Full where it was done, half as tall where it was short, hollow where it was missed, a point where no answer came, a dash where it
was excused, a hairline where it is open; an extra leans. The blue and the ochre are told apart by colour-blind readers too.
"""

import enum
import itertools
from dataclasses import dataclass

from core.digest.drawing import Pen
from core.digest.facts import ClientWeek
from core.digest.look import BLUE, FAINT, OCHRE

_HAIR = 3.0
_MOST = 14  # strokes that a row has room for


class Stroke(enum.Enum):
    """What became of one session, in the order in which strokes stand."""

    DONE = "done"
    SHORT = "short"
    MISSED = "missed"
    UNANSWERED = "no answer"
    EXCUSED = "excused"
    OPEN = "still open"
    EXTRA = "extra"


@dataclass(frozen=True, slots=True)
class Size:
    """How large strokes are, in pixels."""

    width: float
    height: float
    gap: float

    @property
    def pitch(self) -> float:
        return self.width + self.gap


def strokes_of(client: ClientWeek) -> tuple[Stroke, ...]:
    """The strokes of a client's week, extras last."""
    counted = (
        (Stroke.DONE, client.done - client.short),
        (Stroke.SHORT, client.short),
        (Stroke.MISSED, client.missed),
        (Stroke.UNANSWERED, client.unanswered),
        (Stroke.EXCUSED, client.excused),
        (Stroke.OPEN, client.still_open),
        (Stroke.EXTRA, client.extras),
    )
    every = itertools.chain.from_iterable(itertools.repeat(stroke, number) for stroke, number in counted)
    return tuple(itertools.islice(every, _MOST))


def draw_strokes(pen: Pen, x: float, foot: float, strokes: tuple[Stroke, ...], size: Size) -> float:
    """Draw strokes that stand on ``foot``, from ``x`` on; where the next would stand."""
    for stroke in strokes:
        draw_stroke(pen, x, foot, stroke, size)
        x += size.pitch
    return x


def draw_stroke(pen: Pen, x: float, foot: float, stroke: Stroke, size: Size) -> None:
    match stroke:
        case Stroke.DONE:
            pen.bar(x, foot, size.width, size.height, BLUE)
        case Stroke.SHORT:
            pen.bar(x, foot, size.width, size.height / 2, BLUE)
        case Stroke.MISSED:
            pen.hollow_bar(x, foot, size.width, size.height, FAINT)
        case Stroke.UNANSWERED:
            pen.dot(x, foot, size.width, FAINT)
        case Stroke.EXCUSED:
            pen.line(x, foot - size.height / 2, size.width, FAINT, _HAIR)
        case Stroke.OPEN:
            pen.bar(x + (size.width - _HAIR) / 2, foot, _HAIR, size.height, FAINT)
        case Stroke.EXTRA:
            pen.leaning_bar(x, foot, size.width, size.height, OCHRE)
