"""Which exercises may fill a place in a session: never one that the room, the level or a complaint forbids."""

from collections.abc import Callable, Iterable, Sequence
from types import MappingProxyType

from core.errors import Refused
from core.programme.movements import Exercise, Library, Load, Unit, Use
from core.programme.ranges import HARD_STEP, Loading, loading
from core.programme.session import SessionRequest
from core.terms import Block, Level, Pattern, Place, Room

# Complaints that our exercises do not name, counted as those that they do.
COUNTS_AS = MappingProxyType(
    {
        Place.BACK: frozenset({Place.LOWER_BACK, Place.UPPER_BACK}),
        Place.FOOT: frozenset({Place.ANKLE}),
        Place.CALF: frozenset({Place.ANKLE}),
        Place.HAMSTRING: frozenset({Place.HIP, Place.KNEE, Place.LOWER_BACK}),
        Place.THIGH: frozenset({Place.KNEE, Place.HIP}),
        Place.GROIN: frozenset({Place.HIP}),
    }
)
NOT_OURS = frozenset({Place.CHEST, Place.HEAD})

# The step that suits each level best where nothing else decides.
PREFERRED_STEP = MappingProxyType({Level.BEGINNER: 4, Level.INTERMEDIATE: 8, Level.ADVANCED: 8})

_HEAVY_BLOCKS = frozenset({Block.HYPERTROPHY, Block.STRENGTH, Block.TAPER})
_EASY_BLOCKS = frozenset({Block.RETURN, Block.REST})
MINUTES_FOR_A_BAR = 20
_ENOUGH_TO_VARY = 3
_FASTEST_WORTH_SECONDS = 4  # a repetition slower than this is not moved fast


def forbidden(complaints: frozenset[Place]) -> frozenset[Place]:
    """The complaints in the words that exercises are marked with; a chest or a head is not ours to train round."""
    for place in sorted(complaints & NOT_OURS):
        raise Refused(
            f"Keptword builds no session round a complaint of the {place}: please see a doctor first."
        )
    return frozenset(each for place in complaints for each in COUNTS_AS.get(place, {place}))


def candidates(
    request: SessionRequest, library: Library, pattern: Pattern, *, main: bool
) -> tuple[Exercise, ...]:
    """What may train a pattern in this session, easiest first; for the main lift, those fit to be one."""
    allowed = _allowed(request, library.by_pattern[pattern], lambda each: _suits(each, request, main=main))
    if main and (fit := [each for each in allowed if _fit_to_lead(each, request)]):
        allowed = fit
    heavy = request.block in _HEAVY_BLOCKS
    return _in_order(_worth_loading(allowed, request) if heavy else allowed, request)


def accessories(request: SessionRequest, library: Library, pattern: Pattern) -> tuple[Exercise, ...]:
    """Small exercises beside a pattern."""
    return _in_order(
        _allowed(request, library.by_pattern[pattern], lambda each: each.use is Use.ACCESSORY), request
    )


def beside(request: SessionRequest, library: Library, use: Use) -> tuple[Exercise, ...]:
    """Carries, conditioning, mobility or stretches that are allowed here."""
    return _in_order(_allowed(request, library.by_pattern[None], lambda each: each.use is use), request)


def _allowed(
    request: SessionRequest, exercises: Sequence[Exercise], wanted: Callable[[Exercise], bool]
) -> list[Exercise]:
    """Allowed and wanted: all that a coach added or chose; of ours better kit before makeshift, a stand-in if nothing else."""
    places = forbidden(request.complaints)
    found = [each for each in exercises if each.fits(request.room, request.level, places) and wanted(each)]
    own = [each for each in found if _by_a_coach(each, request)]
    ours = [each for each in found if not _by_a_coach(each, request)]
    better = _quick_to_set_up([each for each in ours if not each.stand_in] or ([] if own else ours), request)
    return own + ([each for each in better if not is_makeshift(each, request.room)] or better)


def is_makeshift(exercise: Exercise, room: Room) -> bool:
    """Towels and tables where there is kit; bands where there is a whole gym."""
    kit = room is not Room.NONE
    return kit and (exercise.makeshift or (room is Room.FULL_GYM and exercise.load is Load.BAND))


def _quick_to_set_up(found: list[Exercise], request: SessionRequest) -> list[Exercise]:
    """No bar where there is no time to work up to its weight."""
    if request.minutes >= MINUTES_FOR_A_BAR:
        return found
    return [each for each in found if each.load is not Load.BARBELL] or found


def _suits(exercise: Exercise, request: SessionRequest, *, main: bool) -> bool:
    """Whether a movement belongs in such a block at all."""
    if _by_a_coach(exercise, request):
        return exercise.use in {Use.MAIN, Use.ASSIST, Use.POWER}
    match request.block:
        case Block.POWER:
            loaded = exercise.use is Use.MAIN and not exercise.slow and _loadable(exercise, request)
            return exercise.use is Use.POWER or (not main and loaded)
        case Block.POWER_ENDURANCE:
            return _can_be_fast(exercise)
        case Block.REST if exercise.load in {Load.BARBELL, Load.BELT}:
            return False
        case _:
            return exercise.use in {Use.MAIN, Use.ASSIST} and not _too_hard(exercise, request)


def _too_hard(exercise: Exercise, request: SessionRequest) -> bool:
    """After a lay-off and in a week of rest, nothing from the hard end of a bodyweight scale."""
    hard = exercise.step >= HARD_STEP[request.level] and exercise.load in {Load.BODY, Load.BAND}
    return request.block in _EASY_BLOCKS and request.level is not Level.BEGINNER and hard


def _can_be_fast(exercise: Exercise) -> bool:
    """Light, quick to repeat, and safe to do breathless."""
    light = exercise.load not in {Load.BARBELL, Load.MACHINE, Load.BELT}
    lively = exercise.unit is Unit.REPETITIONS and exercise.seconds < _FASTEST_WORTH_SECONDS
    return light and exercise.use in {Use.ASSIST, Use.MAIN, Use.POWER} and (lively or exercise.stand_in)


def _loadable(exercise: Exercise, request: SessionRequest) -> bool:
    return loading(exercise, request.level) is not Loading.LIGHT


def _by_a_coach(exercise: Exercise, request: SessionRequest) -> bool:
    """Whether a coach added it, or chose it for this session."""
    return exercise.own or exercise.key in request.wanted


def _fit_to_lead(exercise: Exercise, request: SessionRequest) -> bool:
    fit = Use.POWER if request.block is Block.POWER else Use.MAIN
    return _by_a_coach(exercise, request) or exercise.use is fit


def _worth_loading(found: list[Exercise], request: SessionRequest) -> list[Exercise]:
    """The best loads that the room has, as long as enough are left to vary: a harder progression before more repetitions.

    Size asks for six to fifteen repetitions, which dumbbells give as well as a bar; the other blocks ask for all of the load.
    """
    for least in (Loading.PART,) if request.block is Block.HYPERTROPHY else (Loading.FULL, Loading.PART):
        near = [e for e in found if _by_a_coach(e, request) or loading(e, request.level) >= least]
        if sum(not _by_a_coach(each, request) for each in near) >= _ENOUGH_TO_VARY:
            return near
    return found


def _in_order(found: Iterable[Exercise], request: SessionRequest) -> tuple[Exercise, ...]:
    """The easiest first, without those that are not to be taken."""
    left = (each for each in found if each.key not in request.without)
    return tuple(sorted(left, key=lambda each: (each.step, each.key)))
