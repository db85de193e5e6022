"""What must hold of a library, checked as data: no dead ends, no circles, every room covers every pattern at every level."""

import itertools
from collections.abc import Iterator

from core.programme.movements import Exercise, Library, Use
from core.terms import Level, Pattern, Place, Room

COMPLAINTS = tuple(Place)[:9]  # those that exercises are chosen by
_FEWEST_CUES, _MOST_CUES = 3, 4
_ON_A_SCALE = frozenset(Use) - {Use.MOBILITY, Use.STRETCH}


def problems(library: Library) -> list[str]:
    """A sentence for everything that is wrong with the entries, their links, or what they cover."""
    entries = [line for each in library for line in _entry(each)]
    links = [line for each in library for line in _links(each, library)]
    return [*_doubles(library), *entries, *links, *_circles(library), *_gaps(library)]


def _doubles(library: Library) -> list[str]:
    names = [each.name.casefold() for each in library]
    return [f"two exercises are called '{name}'" for name in sorted({n for n in names if names.count(n) > 1})]


def _entry(each: Exercise) -> Iterator[str]:
    if not each.own and not _FEWEST_CUES <= len(each.cues) <= _MOST_CUES:
        yield f"{each.key}: {len(each.cues)} cues, where three or four are wanted"
    if not each.own and not (each.faults and each.set_up):
        yield f"{each.key}: set-up or faults are missing"
    if each.seconds <= 0 or not each.levels:
        yield f"{each.key}: no time, or no level"
    if (each.pattern is None) == (each.use in {Use.MAIN, Use.ASSIST, Use.ACCESSORY, Use.POWER}):
        yield f"{each.key}: '{each.use}' and its pattern do not belong together"


def _links(each: Exercise, library: Library) -> Iterator[str]:
    """Every link leads to the same kind of movement, up or down; only the ends of a scale lack one."""
    for word, key in (("easier", each.easier), ("harder", each.harder)):
        if key is not None:
            yield from _link(each, word, library.by_key.get(key))
    if each.use not in _ON_A_SCALE or each.own:
        return
    steps = [other.step for other in library if other.pattern is each.pattern and _same_ladder(each, other)]
    if each.easier is None and each.step > min(steps):
        yield f"{each.key}: a dead end, nothing easier is named"
    if each.harder is None and each.step < max(steps):
        yield f"{each.key}: a dead end, nothing harder is named"


def _same_ladder(one: Exercise, other: Exercise) -> bool:
    return one.pattern is not None or one.use is other.use


def _link(each: Exercise, word: str, other: Exercise | None) -> Iterator[str]:
    if other is None:
        yield f"{each.key}: the {word} one does not exist"
    elif other.pattern is not each.pattern:
        yield f"{each.key}: the {word} one, {other.key}, trains another pattern"
    elif (other.step < each.step) != (word == "easier") or other.step == each.step:
        yield f"{each.key}: the {word} one, {other.key}, is on step {other.step} and this on {each.step}"


def _circles(library: Library) -> Iterator[str]:
    """Following 'harder' must end."""
    for each in library:
        seen = {each.key}
        at = library.by_key.get(each.harder or "")
        while at is not None and at.key not in seen:
            seen.add(at.key)
            at = library.by_key.get(at.harder or "")
        if at is not None:
            yield f"{each.key}: going harder leads back to {at.key}"


def _gaps(library: Library) -> Iterator[str]:
    """Every room covers the five patterns at every level, and still does with any one complaint."""
    for room, level, pattern in itertools.product(Room, Level, Pattern):
        for complaint in (frozenset[Place](), *(frozenset({place}) for place in COMPLAINTS)):
            trains = [e for e in library if e.pattern is pattern and e.use in {Use.MAIN, Use.ASSIST}]
            if not any(each.fits(room, level, complaint) for each in trains):
                yield f"nothing for {pattern} in the room '{room}', {level}, with {', '.join(complaint) or 'no complaint'}"
