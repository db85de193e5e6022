"""Blocks laid out over the weeks: the cheapest way to end the right block at each event, found exactly.

A plan is a row of blocks. Everything that a coach would rather not have costs something (``costs``), and the plan with the
smallest sum is found week by week by dynamic programming. What the state must remember of the past is little: the last
block, whether it had its usual length, and how many hard weeks there were since the last easier one.
"""

import dataclasses
import datetime as dt
import functools
import itertools
from collections.abc import Iterator, Sequence

from core.programme.year.coming_up import WEEK, ComingUp, Kind, monday_of
from core.programme.year.costs import (
    DELOAD_AT_THE_START,
    DELOAD_BEFORE_THE_END,
    block_cost,
    event_cost,
    follow_cost,
)
from core.programme.year.lengths import FEWEST_BETWEEN_DELOADS, HARD, LENGTHS, MOST_IN_A_ROW
from core.terms import Block

HARD_WHILE_AWAY = 4
_DAYS_OF_A_WEEK_OFF = 4  # a week of which this many days are holiday is a week off


@dataclasses.dataclass(frozen=True, slots=True)
class Weeks:
    """The weeks of a plan: which are off, which are away, and which event matters most in each."""

    start: dt.date
    count: int
    off: tuple[bool, ...]
    away: tuple[bool, ...]
    events: tuple[ComingUp | None, ...]

    def monday(self, week: int) -> dt.date:
        return self.start + week * WEEK


@dataclasses.dataclass(frozen=True, slots=True)
class Laid:
    """One block: from its first week to its last (both counted from 0), and its deload weeks."""

    block: Block
    first: int
    last: int
    deloads: tuple[int, ...] = ()

    @property
    def weeks(self) -> int:
        return self.last - self.first + 1


@dataclasses.dataclass(frozen=True, slots=True)
class State:
    """What must be remembered after a block: its kind, whether it had its usual length, weeks off, hard weeks in a row."""

    block: Block | None = None
    whole: bool = True
    off: int = 0
    run: int = 0


def weeks_of(found: Sequence[ComingUp], start: dt.date, count: int) -> Weeks:
    mondays = [start + week * WEEK for week in range(count)]
    holidays = [each for each in found if each.kind is Kind.HOLIDAY]
    trips = [each for each in found if each.kind is Kind.TRIP]
    return Weeks(
        start,
        count,
        tuple(_days_in(monday, holidays) >= _DAYS_OF_A_WEEK_OFF for monday in mondays),
        tuple(_days_in(monday, trips) >= _DAYS_OF_A_WEEK_OFF for monday in mondays),
        tuple(_leading_event(monday, found) for monday in mondays),
    )


def _days_in(monday: dt.date, spans: Sequence[ComingUp]) -> int:
    days = {monday + dt.timedelta(days=n) for n in range(7)}
    return sum(any(each.first <= day <= each.last for each in spans) for day in days)


def _leading_event(monday: dt.date, found: Sequence[ComingUp]) -> ComingUp | None:
    """The event that begins in this week and matters most; of equals the first."""
    here = [each for each in found if each.kind is Kind.EVENT and monday_of(each.first) == monday]
    return max(here, key=lambda each: (each.importance, -each.line), default=None)


@dataclasses.dataclass(frozen=True, slots=True)
class Offer:
    """A block that may begin in a week, what is remembered after it, and what it costs whatever came before."""

    laid: Laid
    after: State
    alone: int
    events: tuple[int, ...]  # weeks of it with an event, whose cost depends on what came before


def lay_out(weeks: Weeks) -> tuple[Laid, ...]:
    """The cheapest row of blocks that fills all weeks."""
    best: list[dict[State, tuple[int, State | None, Laid | None]]] = [{} for _ in range(weeks.count + 1)]
    best[0][State()] = (0, None, None)
    for week in range(weeks.count):
        hard = functools.cache(functools.partial(_hard_offers, week, weeks))
        for state, (cost, _, _) in best[week].items():
            for offer in itertools.chain(hard(state.run), _easy_offers(week, state, weeks)):
                laid, after = offer.laid, offer.after
                total = cost + offer.alone + _cost_after(state, offer, weeks)
                known = best[laid.last + 1].get(after)
                if known is None or total < known[0]:
                    best[laid.last + 1][after] = (total, state, laid)
    return _walk_back(best)


def _walk_back(best: Sequence[dict[State, tuple[int, State | None, Laid | None]]]) -> tuple[Laid, ...]:
    end = best[-1]
    state: State | None = min(end, key=lambda each: end[each][0])
    week = len(best) - 1
    blocks: list[Laid] = []
    while week > 0 and state is not None:
        _, state, laid = best[week][state]
        if laid is None:
            break
        blocks.append(laid)
        week = laid.first
    return tuple(reversed(blocks))


def _spans(week: int, block: Block, weeks: Weeks) -> Iterator[Laid]:
    """A block from a week on in all its lengths; only rest ends in a week off."""
    if weeks.off[week] and block is not Block.REST:
        return
    for last in range(week, min(week + LENGTHS[block].usual[1], weeks.count)):
        if block is not Block.REST and weeks.off[last]:
            return
        yield Laid(block, week, last)


def _hard_offers(week: int, weeks: Weeks, run: int) -> list[Offer]:
    """Every hard block that may begin in a week after so many hard weeks."""
    return [
        _offer(laid, after, weeks)
        for block in Block
        if block in HARD
        for span in _spans(week, block, weeks)
        for laid, after in _hard_blocks(span, run, weeks)
    ]


def _easy_offers(week: int, state: State, weeks: Weeks) -> Iterator[Offer]:
    """Every easy block that may begin in a week."""
    for block in Block:
        if block in HARD:
            continue
        for laid in _spans(week, block, weeks):
            if _may_stand(block, week, laid.last, state, weeks):
                off = laid.weeks + (state.off if state.block is Block.REST else 0)
                yield _offer(laid, State(block, whole=True, off=off if block is Block.REST else 0), weeks)


def _may_stand(block: Block, first: int, last: int, state: State, weeks: Weeks) -> bool:
    """Whether an easy block is allowed here: a taper ends at an event, a return follows weeks off, rest is not cut short."""
    if block is Block.TAPER:
        event = weeks.events[last]
        return event is not None and event.importance > 1 and state.block in HARD
    if block is Block.RETURN:
        return state.block is Block.REST and state.off > 1
    goes_on = last + 1 < weeks.count and weeks.off[last + 1]
    longest = last - first + 1 == LENGTHS[Block.REST].usual[1]
    after_rest = state.block is Block.REST and not weeks.off[first - 1]
    return (not goes_on or longest) and not after_rest


def _hard_blocks(laid: Laid, before: int, weeks: Weeks) -> Iterator[tuple[Laid, State]]:
    """A hard block with every sensible place for its deload."""
    whole = laid.weeks >= LENGTHS[laid.block].usual[0]
    latest = laid.first + MOST_IN_A_ROW - before
    trips = [week for week in range(laid.first, laid.last + 1) if weeks.away[week]]
    for deloads in dict.fromkeys([(), (laid.last,), (latest,), *((week,) for week in trips)]):
        run = _run_after(laid, deloads, before)
        if run is not None:
            yield dataclasses.replace(laid, deloads=deloads), State(laid.block, whole, 0, run)


def _run_after(laid: Laid, deloads: tuple[int, ...], run: int) -> int | None:
    """Hard weeks in a row at the end of a block, or None where a deload comes too early, too late or outside of it."""
    if any(not laid.first <= week <= laid.last for week in deloads):
        return None
    for week in range(laid.first, laid.last + 1):
        if week in deloads:
            if run < FEWEST_BETWEEN_DELOADS:
                return None
            run = 0
        else:
            run += 1
            if run > MOST_IN_A_ROW:
                return None
    return run


def _offer(laid: Laid, after: State, weeks: Weeks) -> Offer:
    """With all that speaks against it whatever came before."""
    span = range(laid.first, laid.last + 1)
    rested_for_nothing = sum(not weeks.off[week] for week in span) - _after_a_peak(laid, weeks)
    cost = block_cost(laid.block, laid.weeks, max(0, rested_for_nothing))
    cost += DELOAD_BEFORE_THE_END * sum(week != laid.last for week in laid.deloads)
    cost += DELOAD_AT_THE_START * sum(week == laid.first for week in laid.deloads)
    if laid.block in HARD:
        cost += HARD_WHILE_AWAY * sum(weeks.away[week] and week not in laid.deloads for week in span)
    return Offer(laid, after, cost, tuple(week for week in span if weeks.events[week] is not None))


def _cost_after(before: State, offer: Offer, weeks: Weeks) -> int:
    """All that speaks against this block after what came before."""
    laid = offer.laid
    after_peak = _after_a_peak(laid, weeks)
    cost = follow_cost(before.block, before.off, before.run, laid.block, laid.weeks, after_peak=after_peak)
    for week in offer.events:
        event = weeks.events[week]
        if event is not None:
            ends, whole = week == laid.last, offer.after.whole
            cost += event_cost(
                event,
                laid.block,
                ends=ends,
                whole=whole,
                before=before.block,
                base=before.whole,
                off=weeks.off[week],
            )
    return cost


def _after_a_peak(laid: Laid, weeks: Weeks) -> bool:
    return laid.first > 0 and _peaked(weeks.events[laid.first - 1])


def _peaked(event: ComingUp | None) -> bool:
    return event is not None and event.importance == 3
