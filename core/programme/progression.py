"""What comes next for a lift: double progression, the 2-for-2 rule, the size of the step, and estimates of 1RM.

* Double progression (common practice): first more repetitions within the range, then more weight at its lower end.
* 2-for-2 (Baechle & Earle; NSCA Essentials): two or more repetitions above the goal in the last set of two workouts in a
  row allow more weight next time.
* ACSM 2009: raise the load by 2 to 10 % once the workload can be done for one or two repetitions more than the target.
* Size of the step (NSCA Essentials, from memory): upper body 1-2 kg, lower body 2-4 kg for the less trained; 2-4 and 4-7 kg
  for the more trained. We keep within 2.5 to 10 % of the weight as well, and round to what can be put on the bar.
"""

import dataclasses
import enum
from collections.abc import Sequence
from types import MappingProxyType

from core.programme.movements import Exercise, Load
from core.programme.results import Feel, LiftResult
from core.terms import Level, Pattern

ABOVE_GOAL = 2  # repetitions above the goal, in two workouts: the rule's own numbers
WORKOUTS_IN_A_ROW = 2
SMALLEST_STEP, LARGEST_STEP = 0.025, 0.10  # of the weight
MOST_REPETITIONS_FOR_1RM = 10  # beyond, the equations drift apart
BACK_OFF = 0.95  # of the weight, after a set that was too hard

# kilograms, (less trained, more trained): the middle of the published steps
STEPS = MappingProxyType({"upper": (1.5, 3.0), "lower": (3.0, 5.5)})
# what can be added: a pair of the smallest plates, the next dumbbell, the next hole of the stack
GRAINS = MappingProxyType(
    {
        Load.BARBELL: 2.5,
        Load.DUMBBELL: 1.0,
        Load.MACHINE: 2.5,
        Load.CABLE: 2.5,
        Load.BELT: 2.5,
        Load.BODY: 2.5,
    }
)
# where more weight can be taken, though nobody said how much it was last time
WEIGHED = frozenset({Load.BARBELL, Load.DUMBBELL, Load.MACHINE, Load.CABLE})
_UPPER = frozenset({Pattern.PUSH, Pattern.PULL, Pattern.ROTATION})


class Step(enum.StrEnum):
    """What to do next time."""

    MORE_WEIGHT = "more weight"
    MORE_REPETITIONS = "more repetitions"
    SAME = "the same again"
    LESS_WEIGHT = "less weight"
    HARDER = "a harder movement"
    EASIER = "an easier movement"


@dataclasses.dataclass(frozen=True, slots=True)
class Next:
    """What to do next time, with which weight (None where nothing is weighed), and why, in a few words."""

    step: Step
    kg: float | None
    why: str


def next_step(history: Sequence[LiftResult], exercise: Exercise, level: Level) -> Next | None:
    """What follows from the results of one lift, the oldest first; None where there are none."""
    if not history:
        return None
    last = history[-1]
    step, why = _step(history)
    if last.kg is None:
        return Next(step if exercise.load in WEIGHED else _without_weight(step), None, why)
    return Next(step, _weight(step, last.kg, exercise, level), why)


def _step(history: Sequence[LiftResult]) -> tuple[Step, str]:
    last = history[-1]
    if last.feel is Feel.HARD:
        return Step.LESS_WEIGHT, "last time was too hard"
    if last.feel is Feel.EASY:
        return Step.MORE_WEIGHT, "last time was easy"
    if two_for_two(history):
        return Step.MORE_WEIGHT, "two or more above the goal in the last set, twice running"
    if last.goal is None or not last.sets:
        return Step.SAME, "the same as last time"
    low, high = last.goal
    if min(last.sets) >= high:
        return Step.MORE_WEIGHT, f"every set reached {high}"
    if max(last.sets) < low:
        return Step.LESS_WEIGHT, f"no set reached {low}"
    return Step.MORE_REPETITIONS, f"until every set reaches {high}"


def two_for_two(history: Sequence[LiftResult]) -> bool:
    """Whether the last sets of the last two workouts, at one weight, were two or more above the top of the goal."""
    pair = history[-WORKOUTS_IN_A_ROW:]
    if len(pair) < WORKOUTS_IN_A_ROW or len({each.kg for each in pair}) > 1:
        return False
    return all(
        each.goal is not None and each.sets and each.sets[-1] >= each.goal[1] + ABOVE_GOAL for each in pair
    )


def _without_weight(step: Step) -> Step:
    return {Step.MORE_WEIGHT: Step.HARDER, Step.LESS_WEIGHT: Step.EASIER}.get(step, step)


def _weight(step: Step, kg: float, exercise: Exercise, level: Level) -> float:
    if step is Step.MORE_WEIGHT:
        return raised(kg, exercise, level)
    if step is Step.LESS_WEIGHT:
        return lowered(kg, exercise)
    return kg


def raised(kg: float, exercise: Exercise, level: Level) -> float:
    """The next weight: a step of the size of the lift, at least the smallest that the kit allows, at most a tenth if it can."""
    less, more = STEPS["upper" if exercise.pattern in _UPPER else "lower"]
    step = more if level is Level.ADVANCED else less
    grain = GRAINS.get(exercise.load, 1.0)
    wanted = _to_grain(max(step, kg * SMALLEST_STEP), grain)
    return kg + max(grain, min(wanted, kg * LARGEST_STEP // grain * grain))


def lowered(kg: float, exercise: Exercise) -> float:
    """A twentieth less, at least one step of the kit, never below nothing."""
    grain = GRAINS.get(exercise.load, 1.0)
    return max(0.0, min(kg - grain, _to_grain(kg * BACK_OFF, grain)))


def _to_grain(kg: float, grain: float) -> float:
    return round(kg / grain) * grain


# --- estimates of the most that can be lifted once ------------------------------------------------------------------------


def epley(kg: float, repetitions: int) -> float:
    """1RM = w (1 + r / 30); Epley 1985. For one repetition, the weight itself."""
    _check_repetitions(repetitions)
    return kg if repetitions == 1 else kg * (1 + repetitions / 30)


def brzycki(kg: float, repetitions: int) -> float:
    """1RM = 36 w / (37 - r); Brzycki 1993, J Phys Educ Recreat Dance 64(1):88-90."""
    _check_repetitions(repetitions)
    return kg * 36 / (37 - repetitions)


def _check_repetitions(repetitions: int) -> None:
    if not 1 <= repetitions <= MOST_REPETITIONS_FOR_1RM:
        raise ValueError(
            f"an estimate of 1RM takes 1 to {MOST_REPETITIONS_FOR_1RM} repetitions, not {repetitions}"
        )


def estimated_1rm(result: LiftResult, load: Load) -> tuple[float, float] | None:
    """The lower and the higher of both estimates from the best set; None without weight or from more than ten.

    None either where the body is lifted too: the equations are for all that is lifted, and what hangs on the belt is a part.
    """
    if (
        load in {Load.BODY, Load.BELT}
        or result.kg is None
        or not result.sets
        or not 1 <= max(result.sets) <= MOST_REPETITIONS_FOR_1RM
    ):
        return None
    both = epley(result.kg, max(result.sets)), brzycki(result.kg, max(result.sets))
    return min(both), max(both)
