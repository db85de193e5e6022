"""What each session of a week carries: which movement patterns, the most overdue first, and which emphasis.

It is planned afresh from what was really trained whenever a session is due: a missed session needs no repair of its own, its
patterns have simply become the most overdue, and the sessions that are left take them up.
"""

import dataclasses
import datetime as dt
from collections.abc import Mapping, Sequence

from core.programme.session import Emphasis
from core.terms import Block, Pattern

Days = Mapping[Pattern, dt.date | None]

LEGS = (Pattern.SQUAT, Pattern.HINGE)
ARMS = (Pattern.PUSH, Pattern.PULL)
_A_WHOLE_WEEK = 5  # sessions that leave room for both emphases (common practice)
_ONE_PRIORITY = (2, 3)  # sessions that take one, and the other next week (common practice)
_EMPHASIS_FITS = frozenset({Block.HYPERTROPHY, Block.STRENGTH, Block.POWER, Block.POWER_ENDURANCE})


@dataclasses.dataclass(frozen=True, slots=True)
class Trained:
    """What one session really trained, and what led it."""

    on: dt.date
    patterns: frozenset[Pattern]
    lead: Pattern | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class Carried:
    """What a session is to carry, and in a few words why (empty where nothing out of the way happened)."""

    patterns: tuple[Pattern, ...]
    emphasis: Emphasis
    why: str = ""


def plan_week(
    *,
    promise: int,
    left: int,
    monday: dt.date,
    block: Block,
    trained: Sequence[Trained],
    missed: Sequence[frozenset[Pattern]] = (),
) -> tuple[Carried, ...]:
    """What the ``left`` sessions of the ISO week that begins on ``monday`` carry, of ``promise`` agreed ones.

    ``trained`` is all that was trained so far, this week included; ``missed`` what the missed sessions of this week would
    have carried. Over the week all five patterns are covered, if only one session is left as well.
    """
    ages, led = last_trained(trained), last_led(trained)
    open_still = [pattern for pattern in most_overdue(ages, led) if (ages[pattern] or dt.date.min) < monday]
    emphases = _emphases(max(promise, left), block, monday)[max(promise - left, 0) :]
    moved = frozenset(pattern for each in missed for pattern in each)
    sessions: list[Carried] = []
    for number in range(left):
        patterns = _patterns_of_one(most_overdue(ages, led), open_still, left - number)
        why = _why(patterns, moved) if number == 0 else ""
        sessions.append(Carried(patterns, emphases[number], why))
        day = monday + dt.timedelta(days=7 + number)  # later than all that was trained so far
        ages = {pattern: day if pattern in patterns else age for pattern, age in ages.items()}
        led = {**led, lead_of(patterns): day}
        open_still = [pattern for pattern in open_still if pattern not in patterns]
    return tuple(sessions)


def extra_session(trained: Sequence[Trained], monday: dt.date, block: Block) -> Carried:
    """What an extra carries: what the week has not covered yet, else the pair that was trained longest ago."""
    ages, led = last_trained(trained), last_led(trained)
    open_still = [pattern for pattern in most_overdue(ages, led) if (ages[pattern] or dt.date.min) < monday]
    patterns = tuple(open_still) or most_overdue(ages, led)[:2]
    emphasis = Emphasis.STRENGTH if open_still or block not in _EMPHASIS_FITS else Emphasis.CONDITIONING
    return Carried(patterns, emphasis, "An extra: what the week has left.")


def last_trained(trained: Sequence[Trained]) -> dict[Pattern, dt.date | None]:
    """The day on which each pattern was last trained; None for never."""
    return {
        pattern: max((each.on for each in trained if pattern in each.patterns), default=None)
        for pattern in Pattern
    }


def last_led(trained: Sequence[Trained]) -> dict[Pattern, dt.date | None]:
    """The day on which each pattern last led a session; None for never."""
    return {
        pattern: max((each.on for each in trained if pattern is each.lead), default=None)
        for pattern in Pattern
    }


def lead_of(patterns: Sequence[Pattern]) -> Pattern:
    """The most overdue pattern for limbs: the trunk never leads."""
    return next((pattern for pattern in patterns if pattern is not Pattern.ROTATION), patterns[0])


def most_overdue(ages: Days, led: Days) -> tuple[Pattern, ...]:
    """The patterns, the one trained longest ago first, of equals the one that led longest ago; never comes before ever."""
    return tuple(
        sorted(Pattern, key=lambda pattern: (ages[pattern] or dt.date.min, led[pattern] or dt.date.min))
    )


def _patterns_of_one(
    order: Sequence[Pattern], open_still: Sequence[Pattern], left: int
) -> tuple[Pattern, ...]:
    """One for the legs, one for the arms and the trunk; and as many more as the sessions left cannot hold otherwise."""
    legs, arms = (next(p for p in order if p in half) for half in (LEGS, ARMS))
    chosen = {legs, arms, Pattern.ROTATION}
    room_after = 3 * (left - 1)
    for pattern in open_still:
        if len([p for p in open_still if p not in chosen]) > room_after or left == 1:
            chosen.add(pattern)
    return tuple(pattern for pattern in order if pattern in chosen)


def _emphases(promise: int, block: Block, monday: dt.date) -> list[Emphasis]:
    """The emphasis of every session of a week: balanced from five, one priority a week at two or three, else strength."""
    strength = [Emphasis.STRENGTH] * promise
    if block not in _EMPHASIS_FITS:
        return strength
    if promise in _ONE_PRIORITY and monday.toordinal() // 7 % 2:
        return [Emphasis.CONDITIONING] * promise
    if promise >= _A_WHOLE_WEEK:
        return [Emphasis.CONDITIONING if number % 2 else Emphasis.STRENGTH for number in range(promise)]
    return strength


def _why(patterns: Sequence[Pattern], moved: frozenset[Pattern]) -> str:
    taken = [str(pattern) for pattern in patterns if pattern in moved]
    if not taken:
        return ""
    words = " and ".join(filter(None, (", ".join(taken[:-1]), taken[-1])))
    return f"{words.capitalize()} moved here from the session that was missed."
