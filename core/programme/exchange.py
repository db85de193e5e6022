"""What a draft offers by hand beyond one exercise: everything that may stand in a place, other kit, all of it easier or harder."""

from dataclasses import replace

from core.programme.adjust import swapped
from core.programme.candidates import forbidden
from core.programme.choices import Taken
from core.programme.explain import why_of
from core.programme.movements import Exercise, Library, Load, Use
from core.programme.prescribe import dose_of
from core.programme.session import Planned, Session, SessionRequest
from core.programme.warm_up import warm_up_for
from core.terms import Block

MOST_RIR = 5
_WHOLE = frozenset({Use.MAIN, Use.ASSIST})
_FAST = frozenset({Block.POWER, Block.POWER_ENDURANCE})


def instead_of(
    session: Session, index: int, request: SessionRequest, library: Library, *, other_kit: bool = False
) -> tuple[Exercise, ...]:
    """All that may stand in a place instead, the coach's own and the nearest first; ``other_kit``: nothing that needs the same."""
    planned = session.exercises[index]
    now = library.by_key.get(planned.key)
    taken = {each.key for each in session.exercises}
    small = now is not None and now.use is Use.ACCESSORY
    fast = {Use.POWER} if request.block in _FAST else set()
    uses = frozenset({Use.ACCESSORY}) if small else _WHOLE | fast
    places = forbidden(request.complaints)
    fit = [
        each
        for each in library
        if each.pattern is planned.pattern
        and each.use in uses
        and each.key not in taken
        and each.fits(request.room, request.level, places)
        and not (other_kit and now is not None and _same_kit(each, now))
    ]
    step, load = (now.step, now.load) if now is not None else (5, None)
    return tuple(
        sorted(
            fit,
            key=lambda e: (
                not e.own,
                e.stand_in,
                e.makeshift,
                e.load is not load,
                abs(e.step - step),
                e.step,
                e.key,
            ),
        )
    )


def _same_kit(one: Exercise, other: Exercise) -> bool:
    return one.load is other.load and one.load is not Load.BODY


def exchanged(
    session: Session, index: int, exercise: Exercise, request: SessionRequest, library: Library
) -> Session:
    """The session with another exercise in one place; where it leads, the warm-up and the reason follow it."""
    changed = swapped(session, index, exercise, request)
    changed = replace(changed, why=why_of(changed.exercises, request))
    if index == 0:
        main = _taken(changed.exercises[0], exercise, request)
        changed = replace(changed, warm_up=warm_up_for(main, session.patterns, request, library))
    return changed


def _taken(planned: Planned, exercise: Exercise, request: SessionRequest) -> Taken:
    return Taken(
        exercise=exercise,
        dose=dose_of(exercise, request.block, request.level, main=planned.main),
        sets=planned.sets,
        amount=planned.high,
        work_s=planned.work_s,
        rest_s=planned.rest_s,
        between_s=planned.between_s,
        main=planned.main,
    )


def moved_along(session: Session, request: SessionRequest, library: Library, *, harder: bool) -> Session:
    """All of it a step easier or harder: the next exercise of each scale; where a scale ends, one repetition in reserve."""
    for index in range(len(session.exercises)):
        other = _next_on_the_scale(session, index, request, library, harder=harder)
        if other is not None:
            session = exchanged(session, index, other, request, library)
        else:
            session = _with_reserve(session, index, -1 if harder else 1)
    return session


def _next_on_the_scale(
    session: Session, index: int, request: SessionRequest, library: Library, *, harder: bool
) -> Exercise | None:
    """The nearest easier or harder exercise; None where the scale ends here, or the coach's own stands on none."""
    now = library.by_key.get(session.exercises[index].key)
    if now is None or now.own:
        return None
    around = [each for each in instead_of(session, index, request, library) if not each.own]
    further = [each for each in around if (each.step > now.step if harder else each.step < now.step)]
    return min(further, key=lambda e: (e.stand_in, e.makeshift, abs(e.step - now.step), e.key), default=None)


def _with_reserve(session: Session, index: int, by: int) -> Session:
    planned = session.exercises[index]
    changed = replace(planned, rir=min(MOST_RIR, max(0, planned.rir + by)), percent=None)
    exercises = (*session.exercises[:index], changed, *session.exercises[index + 1 :])
    return replace(session, exercises=exercises)
