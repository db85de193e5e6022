"""Which weight to take: from the results of that very lift; where there are none, the reserve decides, never a guess."""

from collections.abc import Sequence

from core.programme.movements import Exercise
from core.programme.progression import GRAINS, Step, estimated_1rm, next_step
from core.programme.ranges import Dose, percent_of_1rm
from core.programme.results import LiftResult
from core.terms import Level


def weight_for(
    exercise: Exercise, dose: Dose, history: Sequence[LiftResult], level: Level, *, lighter: bool = False
) -> tuple[float | None, str]:
    """Kilograms and why, in a few words; (None, '') where no result of this lift says anything about them."""
    of_it = [each for each in history if each.exercise == exercise.key]
    weighed = [each for each in of_it if each.kg is not None]
    if not weighed:
        return None, _without_kilograms(exercise, dose, of_it, level, lighter=lighter)
    last = weighed[-1]
    if last.goal is not None and last.goal != (dose.low, dose.high):
        return _for_another_range(exercise, dose, last)
    coming = next_step(weighed, exercise, level)
    if coming is None or (lighter and coming.step is Step.MORE_WEIGHT):
        return last.kg, "as last time"
    return coming.kg, coming.why


def _without_kilograms(
    exercise: Exercise, dose: Dose, history: Sequence[LiftResult], level: Level, *, lighter: bool
) -> str:
    """'More weight: last time was easy', where nobody said how much it was; nothing where nothing is weighed."""
    coming = next_step(history, exercise, level)
    same_goal = bool(history) and history[-1].goal in {None, (dose.low, dose.high)}
    wanted = {Step.LESS_WEIGHT} if lighter else {Step.LESS_WEIGHT, Step.MORE_WEIGHT}
    return f"{coming.step}: {coming.why}" if coming and same_goal and coming.step in wanted else ""


def _for_another_range(exercise: Exercise, dose: Dose, last: LiftResult) -> tuple[float | None, str]:
    """A new block asks for other repetitions: from the lower estimate of 1RM, and only where ten repetitions allow one."""
    estimate = estimated_1rm(last, exercise.load)
    if estimate is None:
        return None, ""
    kg = estimate[0] * percent_of_1rm(dose.high + dose.rir) / 100
    grain = GRAINS.get(exercise.load, 1.0)
    return max(grain, kg // grain * grain), f"from an estimated 1RM of {round(estimate[0])} kg"
