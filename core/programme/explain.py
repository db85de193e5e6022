"""What a session says of itself: what it leads with, what it does without and why, and what to take care of."""

from collections.abc import Sequence

from core.programme.candidates import candidates
from core.programme.choices import USEFUL_SETS, Closing, Taken
from core.programme.movements import Library, Use
from core.programme.ranges import Loading, loading
from core.programme.session import Emphasis, Planned, SessionRequest
from core.terms import Block, Pattern, Place, Room

NOTHING_LEFT_OUT = "Nothing was left out."


def why_of(exercises: Sequence[Planned], request: SessionRequest) -> str:
    """One line: what comes first, and why."""
    first, overdue = exercises[0], request.patterns[0]
    if first.pattern is overdue:
        reason = "it is most overdue"
    elif overdue is Pattern.ROTATION:
        reason = "the trunk is overdue as well, and follows the lifts that need it fresh"
    else:
        reason = f"there is no main lift for {overdue} here today, so that follows"
    name = str(first.pattern)
    circuit = request.block is Block.POWER_ENDURANCE
    opening = f"A circuit that begins with {name}" if circuit else f"{name.capitalize()} comes first"
    leaning = " Today leans towards conditioning." if request.emphasis is Emphasis.CONDITIONING else ""
    return f"{opening}: {reason}.{leaning}"


def left_out_of(
    takes: Sequence[Sequence[Taken]], closings: Sequence[Closing], request: SessionRequest, library: Library
) -> str:
    """One line: what a fuller session would have had, and what it was left out for."""
    flat = [taken for group in takes for taken in group]
    reasons = [
        *_missing_patterns(flat, request, library),
        *_for_time(flat, closings, request),
        *_lighter(request),
    ]
    return "; ".join(reasons)[0].upper() + "; ".join(reasons)[1:] + "." if reasons else NOTHING_LEFT_OUT


def _missing_patterns(flat: Sequence[Taken], request: SessionRequest, library: Library) -> list[str]:
    missing = [p for p in request.patterns if p not in {taken.exercise.pattern for taken in flat}]
    no_way = [str(p) for p in missing if not candidates(request, library, p, main=False)]
    no_time = [str(p) for p in missing if str(p) not in no_way]
    said = [f"{_listed(no_way)}, since nothing here is right with today's complaints"] if no_way else []
    return said + ([f"{_listed(no_time)}, since {request.minutes} minutes do not hold it"] if no_time else [])


def _for_time(flat: Sequence[Taken], closings: Sequence[Closing], request: SessionRequest) -> list[str]:
    """Sets and small things that the minutes did not hold."""
    gone: list[str] = []
    main = next((taken for taken in flat if taken.main), None)
    if main is not None and main.sets < main.dose.most_sets:
        gone.append(f"{main.dose.most_sets - main.sets} of the {main.dose.most_sets} sets of the main lift")
    if any(
        taken.sets < min(USEFUL_SETS, taken.dose.most_sets) and not (taken.main or taken.accessory)
        for taken in flat
    ):
        gone.append("second sets")
    gone += _small_things(flat, closings, request)
    said = f"{_listed(gone)}, since {request.minutes} minutes hold no more" if gone else ""
    return [said] if said else []


def _small_things(flat: Sequence[Taken], closings: Sequence[Closing], request: SessionRequest) -> list[str]:
    """What a longer session of this block would also have."""
    uses = {closing.use for closing in closings}
    lifting = request.block in {Block.HYPERTROPHY, Block.STRENGTH} and request.emphasis is Emphasis.STRENGTH
    conditioning = request.block in {Block.HYPERTROPHY, Block.POWER_ENDURANCE}
    return [
        *(["small exercises"] if lifting and not any(taken.accessory for taken in flat) else []),
        *(["a carry"] if lifting and Use.CARRY not in uses else []),
        *(["conditioning"] if conditioning and Use.CONDITIONING not in uses else []),
    ]


def _lighter(request: SessionRequest) -> list[str]:
    said = []
    if request.short_sleep:
        said.append("a set of each and the last of the effort, after short nights")
    if request.deload:
        said.append("half the sets: this is an easier week")
    if request.allowed_share < 1:
        said.append(f"all sets beyond {round(request.allowed_share * 100)} % of the usual, coming back")
    return said


def cautions_for(takes: Sequence[Sequence[Taken]], request: SessionRequest) -> tuple[str, ...]:
    """What to take care of, in sentences for the client."""
    flat = [taken for group in takes for taken in group]
    said = [
        "Stop and seek medical care if you get chest pain, feel faint or cannot catch your breath.",
    ]
    known = sorted(str(place) for place in request.complaints - {Place.OTHER})
    if known:
        said.append(
            f"Chosen to spare the {_listed(known)}. What hurts is left out; if it lasts, ask a doctor or a physiotherapist."
        )
    if Place.OTHER in request.complaints:
        said.append("Something else hurts too, and we do not know what it minds: leave out whatever it does.")
    if _cannot_load(flat, request):
        close = "" if request.deload else " close to the limit"
        said.append(
            f"This room cannot load the block's range: harder movements instead, or more repetitions{close}."
        )
    if any(taken.exercise.makeshift for taken in flat):
        said.append("Test door, table or chair with some of your weight before you trust it.")
    return tuple(said)


def _cannot_load(flat: Sequence[Taken], request: SessionRequest) -> bool:
    """Whether anything is done for more repetitions than the block asks for, because the room has too little weight."""
    enough = {Block.HYPERTROPHY: Loading.PART, Block.STRENGTH: Loading.FULL}.get(request.block)
    if enough is None or request.room is Room.FULL_GYM:
        return False
    limbs = [
        taken.exercise
        for taken in flat
        if taken.exercise.pattern is not Pattern.ROTATION and not taken.accessory
    ]
    return any(loading(each, request.level) < enough for each in limbs)


def _listed(words: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else ""
