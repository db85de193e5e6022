"""What a session could be: for every place in it, the options, what each costs in seconds and gives to each aim.

The aims stand in strict order (a coach's order: what is overdue before what is pretty):

    0  overdue patterns: the most overdue counts more than all that are less overdue
    1  the smallest useful dose for each: sets up to two a pattern (ACSM 2026: 2-3 sets; one alone keeps, Spiering 2021); up to
       four where the week is shared out, so that a pattern comes about once in it (Iversen 2021: four weekly sets progress)
    2  the block's main lift first and full: the load that it allows, and its sets
    3  progression: the main lift of this block again; after 'easy' a harder movement, after 'too hard' an easier one
    4  variety against the last two sessions
    5  the minutes used well
"""

import dataclasses

from core.programme.movements import Exercise, Library, Use
from core.programme.optimum import GRAIN, Option
from core.programme.prescribe import dose_of
from core.programme.progression import Step, next_step
from core.programme.ranges import Dose
from core.programme.results import LiftResult
from core.programme.session import Emphasis, SessionRequest
from core.terms import Block, Pattern

AIMS = 6
USEFUL_SETS, WEEKLY_SETS, SETS_BESIDE_CONDITIONING = 2, 4, 3
NOTHING_GIVEN = (0,) * AIMS


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One exercise with its dose, as taken into a session."""

    exercise: Exercise
    dose: Dose
    sets: int
    amount: int
    work_s: int
    rest_s: int
    between_s: int
    main: bool = False
    pair: int = 0
    accessory: bool = False

    @property
    def seconds(self) -> int:
        return self.sets * (self.work_s + self.rest_s)


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """What may follow the exercises: a carry, conditioning or easy minutes on the floor."""

    use: Use
    exercise: Exercise | None
    sets: int
    work_s: int
    rest_s: int

    @property
    def seconds(self) -> int:
        return self.sets * (self.work_s + self.rest_s)


Choice = tuple[Taken | Closing, ...]
NOTHING: Option[Choice] = Option(0, NOTHING_GIVEN, ())


def on_the_grid(seconds: float) -> int:
    """Upwards to a multiple of five seconds."""
    return int(-(-seconds // GRAIN)) * GRAIN


_SHARED_OUT = 2  # patterns for limbs, at most, in a session that leaves the others to the rest of the week
_LIFTING = frozenset({Block.HYPERTROPHY, Block.STRENGTH})


def useful_sets(pattern: Pattern, request: SessionRequest) -> int:
    """The sets of a pattern that count as its useful dose today."""
    limbs = [each for each in request.patterns if each is not Pattern.ROTATION]
    shared_out = len(limbs) <= _SHARED_OUT and request.emphasis is Emphasis.STRENGTH
    if pattern is Pattern.ROTATION or request.block not in _LIFTING or not shared_out:
        return USEFUL_SETS
    return WEEKLY_SETS


_FRESH = (0, 1, 2)  # in the last session, in the one before, in neither
CHOSEN = 9  # by hand: before everything else of its pattern
OWN_FIRST = 2  # the coach's own before ours: one that the last session had not before any of ours


def volume_allowed(dose: Dose, request: SessionRequest) -> int:
    """The most sets today: fewer when somebody comes back from a lay-off, deloads or slept short; never none."""
    most = dose.most_sets * request.allowed_share
    if request.deload:
        most = most / 2
    if request.emphasis is Emphasis.CONDITIONING:
        most = min(most, SETS_BESIDE_CONDITIONING)
    if request.short_sleep:
        most = most - 1
    return max(1, int(most + 0.5) if request.deload else int(most))


def dose_today(exercise: Exercise, request: SessionRequest, *, main: bool = False) -> Dose:
    """The dose of the block, lighter in a deload (two more in reserve) and after short sleep (one more)."""
    dose = dose_of(exercise, request.block, request.level, main=main)
    easier = 2 * request.deload + request.short_sleep
    return dataclasses.replace(dose, most_sets=volume_allowed(dose, request), rir=dose.rir + easier)


def freshness(exercise: Exercise, request: SessionRequest) -> int:
    """2 for an exercise that neither of the last two sessions had, 1 for the one before last, 0 for the last.

    The coach's own stand above all of ours, unless the last session had them.
    """
    if exercise.key in request.wanted:
        return CHOSEN
    age = next((age for age, keys in enumerate(request.recent[:2]) if exercise.key in keys), 2)
    return _FRESH[age] + OWN_FIRST * (exercise.own and age > 0)


def progress(exercise: Exercise, request: SessionRequest, library: Library, *, main: bool) -> int:
    """How well an exercise follows from what was done: the block's main lift again; a step up or down where one is due."""
    if main and any(_led_this_block(last, exercise, request) for last in request.lasts):
        return 2
    known, history = _latest_of(exercise, request, library)
    coming = next_step(history, known, request.level) if known else None
    if known is None or coming is None:
        return 0
    harder = coming.step is Step.HARDER and exercise.step > known.step
    easier = coming.step is Step.EASIER and exercise.step < known.step
    return int(harder or easier)


def _led_this_block(last: LiftResult, exercise: Exercise, request: SessionRequest) -> bool:
    """Whether it was the main lift of this block: what was only done beside another is nobody's main lift yet."""
    return last.exercise == exercise.key and last.block in {request.block, None} and last.led is not False


def _latest_of(
    exercise: Exercise, request: SessionRequest, library: Library
) -> tuple[Exercise | None, list[LiftResult]]:
    """The whole movement of the same pattern that was done last, with all its results."""
    for last in reversed(request.lasts):
        known = library.by_key.get(last.exercise)
        if known and known.pattern is exercise.pattern and known.use is not Use.ACCESSORY:
            return known, [each for each in request.lasts if each.exercise == known.key]
    return None, []
