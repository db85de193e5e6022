"""The warm-up: raise the pulse, loosen what the main lift needs, then lighter sets of the main lift itself.

When time is short only the last two remain (Iversen 2021: exercise-specific light sets suffice).
"""

from collections.abc import Sequence

from core.programme.candidates import beside, forbidden, is_makeshift
from core.programme.choices import Taken, freshness
from core.programme.movements import Exercise, Library, Load, Unit, Use
from core.programme.optimum import GRAIN
from core.programme.session import Part, SessionRequest
from core.terms import Block, Pattern

# up to so many minutes: seconds of warm-up
_LENGTHS = ((10, 75), (15, 120), (20, 165), (30, 240), (45, 360), (60, 480), (75, 540))
_LONGEST = 600
_DRILL, _MOST_OF_A_DRILL = 40, 10  # seconds a drill, at least; repetitions at most
_EASY_STEP = 4
_RAMP = 50  # seconds a lighter set, with changing the weights
_PULSE_FROM, PULSE_SHORT, PULSE_LONG = 200, 60, 120

_RAMPS = (
    ("8 easy ones",),
    ("8 easy ones", "4 at about two thirds of today's weight"),
    ("8 easy ones", "5 at about half of today's weight", "3 at about three quarters"),
    ("8 easy ones", "5 at about half of today's weight", "3 at about three quarters", "1 just below it"),
)


def warm_up_seconds(minutes: int) -> int:
    """How much of a session its warm-up takes: about a seventh, ten minutes at most."""
    return next((seconds for most, seconds in _LENGTHS if minutes <= most), _LONGEST)


def warm_up_for(
    main: Taken, patterns: Sequence[Pattern], request: SessionRequest, library: Library
) -> tuple[Part, ...]:
    """Parts that fill the warm-up to the second, in the order in which they are done."""
    total = warm_up_seconds(request.minutes)
    ramp = _ramp(main, request, library, total)
    left = total - ramp.seconds
    pulse = (
        _pulse(request, library, PULSE_LONG if total >= 360 else PULSE_SHORT)
        if total >= _PULSE_FROM
        else None
    )
    left -= pulse.seconds if pulse else 0
    drills = _drills(patterns, request, library, max(1, left // _DRILL))
    return (*((pulse,) if pulse else ()), *_timed(drills, left), ramp)


def _ramp(main: Taken, request: SessionRequest, library: Library, total: int) -> Part:
    """Lighter sets of the main lift; of an easier movement where there is no weight to take off."""
    exercise = main.exercise
    if request.block in {Block.POWER_ENDURANCE, Block.REST}:
        return Part(
            name=f"Easy round of {_lower(exercise)}", dose="half speed", seconds=_DRILL, key=exercise.key
        )
    if exercise.unit is Unit.SECONDS:
        return Part(name=exercise.name, dose="10 s, gently", seconds=_DRILL, key=exercise.key)
    if exercise.load in {Load.BODY, Load.BAND}:
        easy = _easier(exercise, request, library)
        many = f"6 easy ones{' a side' if easy.a_side else ''}"
        return Part(name=easy.name, dose=many, seconds=_DRILL, key=easy.key)
    if exercise.load is Load.BELT:
        return Part(
            name=exercise.name, dose="5 easy ones with help from a band", seconds=_DRILL, key=exercise.key
        )
    count = next(n for n, least in ((4, 540), (3, 240), (2, 120), (1, 0)) if total >= least)
    if exercise.load is not Load.BARBELL:
        count = min(count, 2)
    return Part(
        name=f"Lighter sets of {_lower(exercise)}",
        dose=", ".join(_RAMPS[count - 1]),
        seconds=count * _RAMP,
        key=exercise.key,
    )


def _easier(exercise: Exercise, request: SessionRequest, library: Library) -> Exercise:
    """The hardest slow movement that is clearly easier than this one, for which nothing is needed; else itself."""
    places = forbidden(request.complaints)
    slow = [
        each
        for each in library.by_pattern[exercise.pattern]
        if each.use is Use.ASSIST and each.load is Load.BODY
    ]
    fit = [
        each
        for each in slow
        if each.fits(request.room, request.level, places)
        and not each.stand_in
        and not is_makeshift(each, request.room)
        and each.step <= exercise.step // 2 + 1
    ]
    return max(fit, key=lambda each: each.step, default=exercise)


def _lower(exercise: Exercise) -> str:
    return exercise.name[0].lower() + exercise.name[1:]


def _drills(
    patterns: Sequence[Pattern], request: SessionRequest, library: Library, count: int
) -> list[Exercise]:
    """Drills for the main pattern first, then for the others; those of the last sessions only if there are no others."""
    found = list(beside(request, library, Use.MOBILITY))
    chosen: list[Exercise] = []
    for pattern in [patterns[0], *patterns]:
        fit = [each for each in found if pattern in each.prepares and each not in chosen]
        chosen += sorted(fit, key=lambda each: (-freshness(each, request), len(each.prepares), each.step))[:1]
    return chosen[:count] or found[:1]


def _pulse(request: SessionRequest, library: Library, seconds: int) -> Part | None:
    """Something easy on the kit of the room that raises the pulse."""
    easy = [each for each in beside(request, library, Use.CONDITIONING) if each.step <= _EASY_STEP]
    if not easy:
        return None
    easy.sort(key=lambda each: (each.load is not Load.MACHINE, -freshness(each, request), each.step))
    return Part(name=easy[0].name, dose="easy, until you are warm", seconds=seconds, key=easy[0].key)


def _timed(drills: Sequence[Exercise], seconds: int) -> list[Part]:
    """The drills share the time in steps of five seconds; the first take what does not divide."""
    steps, more = divmod(seconds // GRAIN, len(drills))
    return [_drill(each, GRAIN * (steps + (index < more))) for index, each in enumerate(drills)]


def _drill(exercise: Exercise, seconds: int) -> Part:
    many = min(_MOST_OF_A_DRILL, max(3, int(seconds / exercise.work_seconds(1))))
    return Part(
        name=exercise.name,
        dose=f"{many} slow ones{' a side' if exercise.a_side else ''}",
        seconds=seconds,
        key=exercise.key,
    )
