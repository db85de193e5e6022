"""The plan of a year as it is told: blocks with their dates, what each is for, and what had to be given up, and why."""

import dataclasses
import datetime as dt
from collections.abc import Iterator, Sequence
from typing import Any

from core.how_many import how_many
from core.programme.year.coming_up import WEEK, ComingUp, Kind, monday_of
from core.programme.year.costs import PEAK
from core.programme.year.lay_out import Laid, Weeks, lay_out, weeks_of
from core.programme.year.lengths import HARD, LENGTHS, LONG_REST, weeks_of_return
from core.terms import Block

_SUNDAY = dt.timedelta(days=6)


@dataclasses.dataclass(frozen=True, slots=True)
class PlannedBlock:
    """A block from a Monday to a Sunday, the Mondays of its deload weeks, and the names of what it is for."""

    block: Block
    first: dt.date
    last: dt.date
    deloads: tuple[dt.date, ...] = ()
    serves: tuple[str, ...] = ()

    @property
    def weeks(self) -> int:
        return ((self.last - self.first).days + 1) // 7


@dataclasses.dataclass(frozen=True, slots=True)
class GivenUp:
    what: str
    why: str


@dataclasses.dataclass(frozen=True, slots=True)
class YearPlan:
    """All blocks of a span of weeks, without gap or overlap, with what was coming up when they were laid out."""

    start: dt.date
    weeks: int
    blocks: tuple[PlannedBlock, ...]
    given_up: tuple[GivenUp, ...]
    coming_up: tuple[ComingUp, ...] = ()

    def block_on(self, day: dt.date) -> PlannedBlock | None:
        return next((each for each in self.blocks if each.first <= day <= each.last), None)

    def to_json(self) -> dict[str, Any]:
        return {
            "from": self.start.isoformat(),
            "weeks": self.weeks,
            "blocks": [
                {
                    "block": str(each.block),
                    "from": each.first.isoformat(),
                    "to": each.last.isoformat(),
                    "deload": [day.isoformat() for day in each.deloads],
                    "for": list(each.serves),
                }
                for each in self.blocks
            ],
            "given_up": [dataclasses.asdict(each) for each in self.given_up],
        }


def lay_out_year(found: Sequence[ComingUp], start: dt.date, count: int) -> YearPlan:
    """Blocks for ``count`` weeks from a Monday, laid so that the right one ends at each event."""
    weeks = weeks_of(found, start, count)
    laid = lay_out(weeks)
    blocks = tuple(_told(index, laid, weeks, found) for index in range(len(laid)))
    lost = tuple(dict.fromkeys([*_events_lost(found, laid, weeks), *_cut_short(laid, weeks, found)]))
    return YearPlan(start, count, blocks, lost, tuple(found))


def _told(index: int, laid: Sequence[Laid], weeks: Weeks, found: Sequence[ComingUp]) -> PlannedBlock:
    each = laid[index]
    return PlannedBlock(
        each.block,
        weeks.monday(each.first),
        weeks.monday(each.last) + _SUNDAY,
        tuple(weeks.monday(week) for week in each.deloads),
        _serves(each, laid[index + 1 :], weeks, found),
    )


def _serves(
    each: Laid, following: Sequence[Laid], weeks: Weeks, found: Sequence[ComingUp]
) -> tuple[str, ...]:
    """The events that it leads to (those of the next week that has any, unless a lay-off lies between), or its holidays."""
    if each.block is Block.REST:
        off = [week for week in range(each.first, each.last + 1) if weeks.off[week]]
        return tuple(dict.fromkeys(name for week in off for name in _holidays_in(week, weeks, found)))
    fresh_start = next((later.first for later in following if later.block is Block.RETURN), weeks.count)
    ahead = next((week for week in range(each.last, fresh_start) if weeks.events[week] is not None), None)
    if ahead is None:
        return ()
    return tuple(e.name for e in found if e.kind is Kind.EVENT and monday_of(e.first) == weeks.monday(ahead))


def _events_lost(found: Sequence[ComingUp], laid: Sequence[Laid], weeks: Weeks) -> Iterator[GivenUp]:
    """Events that do not get what they want."""
    for event in found:
        if event.kind is not Kind.EVENT:
            continue
        week = (monday_of(event.first) - weeks.start).days // 7
        if week < 0:
            yield GivenUp(event.name, "it has begun before the plan does")
        elif week >= weeks.count:
            yield GivenUp(event.name, "it lies after the last week of the plan")
        else:
            why = _why_lost(event, week, laid, weeks, found)
            if why:
                yield GivenUp(_wish(event), why)


def _wish(event: ComingUp) -> str:
    return f"{event.wants} for {event.name}"


def _why_lost(
    event: ComingUp, week: int, laid: Sequence[Laid], weeks: Weeks, found: Sequence[ComingUp]
) -> str:
    """Why an event has not the block that it wants, or an empty string where it has."""
    index = next(n for n, each in enumerate(laid) if each.first <= week <= each.last)
    block = laid[index]
    leading = laid[index - 1] if block.block is Block.TAPER and index else block
    if weeks.events[week] is not event and leading.block is not event.wants:
        other = weeks.events[week]
        return f"{other.name if other else 'another event'} in the same week matters as much or more"
    if block.block is Block.REST:
        return f"its week is a week off ({_rests_for(week, weeks, found)})"
    if block.last != week:
        return f"no block can end in its week: {_squeezed(week, weeks, found)}"
    if leading.block is not event.wants:
        return f"its week ends {leading.block} instead: {_squeezed(week, weeks, found)}"
    if event.importance == PEAK and block.block is not Block.TAPER:
        return f"there is no room for a taper: {_squeezed(week, weeks, found)}"
    return ""


def _cut_short(laid: Sequence[Laid], weeks: Weeks, found: Sequence[ComingUp]) -> Iterator[GivenUp]:
    """Blocks shorter than usual, and a way back from a lay-off that is shorter than it should be."""
    off = 0
    for each in laid:
        wanted = weeks_of_return(off) if off >= LONG_REST else 0
        if each.block is not Block.REST and (each.weeks if each.block is Block.RETURN else 0) < wanted:
            got = how_many(each.weeks, "week") if each.block is Block.RETURN else "none"
            what = f"a whole return from {weeks.monday(each.first)}"
            yield GivenUp(
                what,
                f"{got} instead of {wanted} after {how_many(off, 'week')} off: {_squeezed(each.last, weeks, found)}",
            )
        off = off + each.weeks if each.block is Block.REST else 0
        usual = LENGTHS[each.block].usual
        if each.block in HARD and each.weeks < usual[0]:
            what = f"a whole block of {each.block} from {weeks.monday(each.first)}"
            full = f"{usual[0]} to {usual[1]}"
            yield GivenUp(
                what,
                f"{how_many(each.weeks, 'week')} instead of {full}: {_squeezed(each.last, weeks, found)}",
            )


def _rests_for(week: int, weeks: Weeks, found: Sequence[ComingUp]) -> str:
    """What a week off is for: the holidays that make it one, else the peak just before it."""
    if weeks.off[week]:
        return ", ".join(_holidays_in(week, weeks, found))
    peak = weeks.events[week - 1] if week else None
    return f"rest after {peak.name}" if peak else "rest"


def _holidays_in(week: int, weeks: Weeks, found: Sequence[ComingUp]) -> list[str]:
    monday = weeks.monday(week)
    return [
        h.name for h in found if h.kind is Kind.HOLIDAY and h.first <= monday + _SUNDAY and h.last >= monday
    ]


def _squeezed(week: int, weeks: Weeks, found: Sequence[ComingUp]) -> str:
    """What lies before and after a week, and how many weeks between: 'only 3 weeks lie between A and B'."""
    anchors = _anchors(weeks, found)
    before_week, before = max(
        (anchor for anchor in anchors if anchor[0] < week), default=(-1, "the start of the plan")
    )
    after_week, after = min(
        (anchor for anchor in anchors if anchor[0] >= week), default=(weeks.count, "the end of the plan")
    )
    between = after_week - before_week - (after_week in _weeks_off(weeks))
    return f"only {how_many(max(0, between), 'week')} lie between {before} and {after}".replace(
        "week lie ", "week lies "
    )


def _anchors(weeks: Weeks, found: Sequence[ComingUp]) -> list[tuple[int, str]]:
    """Weeks that blocks must begin or end at: events, weeks off, and both ends."""
    events = [(week, event.name) for week, event in enumerate(weeks.events) if event is not None]
    off = [(week, ", ".join(_holidays_in(week, weeks, found))) for week in _weeks_off(weeks)]
    return [*events, *off, (-1, "the start of the plan"), (weeks.count - 1, "the end of the plan")]


def _weeks_off(weeks: Weeks) -> list[int]:
    return [week for week in range(weeks.count) if weeks.off[week]]


def monday_after(day: dt.date) -> dt.date:
    """The Monday of the next week: where a plan from the chat begins."""
    return monday_of(day) + WEEK
