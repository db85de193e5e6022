"""What follows the exercises, in words and seconds: a carry, conditioning, easy minutes on the floor."""

from collections.abc import Iterable, Sequence

from core.programme.candidates import beside
from core.programme.choices import Closing, freshness
from core.programme.movements import Exercise, Library, Use
from core.programme.session import Part, SessionRequest
from core.terms import Pattern

_STRETCH = 60  # seconds that one stretch is worth holding, both sides together
_METRES = {True: 20, False: 30}  # of one set of a carry, by whether it is done a side


def finish_for(
    closings: Iterable[Closing], patterns: Sequence[Pattern], request: SessionRequest, library: Library
) -> tuple[Part, ...]:
    """The closing parts in their order: carry, conditioning, stretches."""
    order = (Use.CARRY, Use.CONDITIONING, Use.STRETCH)
    parts: list[Part] = []
    for closing in sorted(closings, key=lambda each: order.index(each.use)):
        if closing.exercise is None:
            parts += _stretches(closing.seconds, patterns, request, library)
        else:
            parts.append(
                Part(
                    name=closing.exercise.name,
                    dose=_dose(closing),
                    seconds=closing.seconds,
                    key=closing.exercise.key,
                )
            )
    return tuple(parts)


def _dose(closing: Closing) -> str:
    if closing.use is Use.CARRY:
        side = closing.exercise is not None and closing.exercise.a_side
        return f"{closing.sets} × {_METRES[side]} m{' a side' if side else ''}, {closing.rest_s} s rest"
    if closing.rest_s == 0:
        return f"{closing.seconds // 60} min easy, so that you could talk"
    return f"{closing.sets} rounds of {closing.work_s} s hard, {closing.rest_s} s easy"


def _stretches(
    seconds: int, patterns: Sequence[Pattern], request: SessionRequest, library: Library
) -> list[Part]:
    """Stretches for what was trained, each about a minute; the last takes what is left."""
    found = sorted(
        beside(request, library, Use.STRETCH), key=lambda each: _usefulness(each, patterns, request)
    )
    count = min(max(1, seconds // _STRETCH), len(found))
    parts = [
        Part(name=each.name, dose=_held(each, _STRETCH), seconds=_STRETCH, key=each.key)
        for each in found[:count]
    ]
    rest = seconds - _STRETCH * (len(parts) - 1)
    last = found[count - 1]
    return [*parts[:-1], Part(name=last.name, dose=_held(last, rest), seconds=rest, key=last.key)]


def _usefulness(
    stretch: Exercise, patterns: Sequence[Pattern], request: SessionRequest
) -> tuple[int, int, str]:
    """Fresh ones first, then those for the patterns that came first."""
    ranks = [index for index, pattern in enumerate(patterns) if pattern in stretch.prepares]
    everything = len(stretch.prepares) == len(Pattern)
    return (
        -freshness(stretch, request),
        len(patterns) if everything else min(ranks, default=len(patterns)),
        stretch.key,
    )


def _held(stretch: Exercise, seconds: int) -> str:
    return f"{seconds // 2} s a side" if stretch.a_side else f"{seconds} s"
