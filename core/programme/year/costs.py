"""What a coach would rather not have in a year, and how much rather. Only the order of the sizes matters."""

from core.programme.year.coming_up import ComingUp
from core.programme.year.lengths import BEGINS, FOLLOWS, HARD, LENGTHS, LONG_REST, weeks_of_return
from core.terms import Block

PEAK = 3  # the importance that is peaked for

# by importance: no block ends in the week of the event; one does, but not the one that it wants
NO_END = {1: 300, 2: 4_000, 3: 60_000}
WRONG_BLOCK = {1: 120, 2: 1_600, 3: 24_000}
NO_TAPER = 6_000
BASE_CUT_SHORT = {1: 10, 2: 60, 3: 60}  # the wanted block is shorter than usual

A_WEEK_TOO_SHORT, A_WEEK_BELOW_ALL_SENSE = 30, 250
REST_FOR_NOTHING = (
    700  # a week of rest that neither a holiday nor a peak asks for: more than any block that is too short
)
NO_REST_AFTER_PEAK = 40
NO_RETURN, A_WEEK_OF_RETURN_MISSING = 900, 150
DELOAD_BEFORE_AN_EASY_BLOCK = 6
TAPER_OFF_ITS_BEST = 5  # a week
DELOAD_BEFORE_THE_END, DELOAD_AT_THE_START = (
    1,
    3,
)  # of a block: at home it is best at the end, and never in its first week
UNWANTED_TAPER = 60  # before an event that is not peaked for


def block_cost(block: Block, weeks: int, rested_for_nothing: int) -> int:
    """What the length of a block costs by itself."""
    length = LENGTHS[block]
    cost = abs(weeks - length.best) * (TAPER_OFF_ITS_BEST if block is Block.TAPER else 1)
    if block in HARD:
        cost += A_WEEK_TOO_SHORT * max(0, length.usual[0] - weeks) + A_WEEK_BELOW_ALL_SENSE * max(
            0, length.least - weeks
        )
    return cost + (REST_FOR_NOTHING * rested_for_nothing if block is Block.REST else 0)


def follow_cost(
    before: Block | None, weeks_off: int, run: int, block: Block, weeks: int, *, after_peak: bool
) -> int:
    """What it costs that one block follows another."""
    cost = NO_REST_AFTER_PEAK if after_peak and block is not Block.REST else 0
    if before is Block.REST and weeks_off >= LONG_REST and block is not Block.REST:
        missing = weeks_of_return(weeks_off) - weeks
        cost += A_WEEK_OF_RETURN_MISSING * abs(missing) if block is Block.RETURN else NO_RETURN
    if before in HARD and run == 0 and block not in HARD:
        cost += DELOAD_BEFORE_AN_EASY_BLOCK
    if block in HARD:
        cost += FOLLOWS.get((before, block), BEGINS[block]) if before in HARD else BEGINS[block]
    return cost


def event_cost(
    event: ComingUp, block: Block, *, ends: bool, whole: bool, before: Block | None, base: bool, off: bool
) -> int:
    """What it costs an event that this block holds its week: nothing if it is the right one and ends there."""
    importance = event.importance
    if (
        block is Block.REST
    ):  # nothing is gained by a rest that ends there, but in a holiday by what came before it
        return NO_END[importance] + (WRONG_BLOCK[importance] if off and before is not event.wants else 0)
    if not ends:
        return NO_END[importance]
    tapered = block is Block.TAPER
    leading, led_whole = (before, base) if tapered else (block, whole)
    cost = 0 if leading is event.wants else WRONG_BLOCK[importance]
    cost += 0 if led_whole else BASE_CUT_SHORT[importance]
    if importance == PEAK:
        return cost + (0 if tapered else NO_TAPER)
    return cost + (UNWANTED_TAPER if tapered else 0)
