"""The best choice of one option a slot within the time, aim before aim: exact, by dynamic programming over seconds.

It is the multiple-choice knapsack with aims in strict order: a gain in an earlier aim outweighs any loss in later ones.
The aims of one option are folded into a single integer, whose digits are the aims, so that one table serves them all.

    best[t] = the largest total of one option a slot whose seconds sum to at most t
    best after one more slot[t] = max over its options o with o.seconds <= t of best[t - o.seconds] + value(o)

The table has one cell for every five seconds; every time that we prescribe is a multiple of five.
"""

import dataclasses
from collections.abc import Sequence
from typing import Generic, TypeAlias, TypeVar

import numpy as np
import numpy.typing as npt

T = TypeVar("T")

GRAIN = 5  # seconds
_Table = npt.NDArray[np.int64]
_ROOM_FOR_DIGITS = 2**62


@dataclasses.dataclass(frozen=True, slots=True)
class Option(Generic[T]):
    """What may be taken in a slot, the seconds that it costs, and what it gives to each aim (never negative)."""

    seconds: int
    aims: tuple[int, ...]
    what: T


Slot: TypeAlias = Sequence[Option[T]]


@dataclasses.dataclass(frozen=True, slots=True)
class Optimum(Generic[T]):
    """The chosen options in the order of the slots, and the totals of the aims."""

    chosen: tuple[Option[T], ...]
    aims: tuple[int, ...]
    structure: int


@dataclasses.dataclass(frozen=True, slots=True)
class _Stage(Generic[T]):
    """The table after some slots: the best value for each time, and which option of the last slot gave it."""

    best: _Table
    taken: npt.NDArray[np.int16]
    options: Slot[T]
    before: "_Stage[T] | None"


def best_of(shared: Sequence[Slot[T]], structures: Sequence[Sequence[Slot[T]]], seconds: int) -> Optimum[T]:
    """The best choice over all structures, each of which has the shared slots and its own.

    Every slot needs an option of zero seconds (usually: nothing). The first structure wins a tie, as does the first option.
    """
    weights = _weights(shared, structures)
    common = _begin(seconds, weights, shared)
    ends = [_through(common, structure, weights) for structure in structures]
    at = max(range(len(ends)), key=lambda index: (int(ends[index].best[-1]), -index))
    chosen = _walk_back(ends[at])
    totals = tuple(int(sum(column)) for column in zip(*(option.aims for option in chosen), strict=True))
    return Optimum(chosen, totals, at)


def _weights(shared: Sequence[Slot[T]], structures: Sequence[Sequence[Slot[T]]]) -> tuple[int, ...]:
    """What one unit of each aim is worth, so that all later aims together are worth less than one of it."""
    ceilings = [_ceiling([*shared, *structure]) for structure in structures]
    bases = [max(column) + 1 for column in zip(*ceilings, strict=True)]
    weights = [1]
    for base in reversed(bases[1:]):
        weights.append(weights[-1] * base)
    if weights[-1] * bases[0] >= _ROOM_FOR_DIGITS:
        raise OverflowError("the aims no longer fit into one integer")
    return tuple(reversed(weights))


def _ceiling(slots: Sequence[Slot[T]]) -> tuple[int, ...]:
    """The most that each aim could sum to."""
    highest = [
        [max(option.aims[aim] for option in slot) for aim in range(len(slot[0].aims))] for slot in slots
    ]
    return tuple(sum(column) for column in zip(*highest, strict=True))


def _begin(seconds: int, weights: tuple[int, ...], shared: Sequence[Slot[T]]) -> _Stage[T]:
    cells = seconds // GRAIN + 1
    start: _Stage[T] = _Stage(np.zeros(cells, dtype=np.int64), np.zeros(0, dtype=np.int16), (), None)
    return _through(start, shared, weights)


def _through(stage: _Stage[T], slots: Sequence[Slot[T]], weights: tuple[int, ...]) -> _Stage[T]:
    for slot in slots:
        stage = _after(stage, slot, weights)
    return stage


def _after(stage: _Stage[T], slot: Slot[T], weights: tuple[int, ...]) -> _Stage[T]:
    """The table with one more slot filled."""
    cells = len(stage.best)
    best = np.full(cells, -1, dtype=np.int64)
    taken = np.zeros(cells, dtype=np.int16)
    options, values = _worth_having(slot, weights)
    for index, (option, value) in enumerate(zip(options, values, strict=True)):
        cost = option.seconds // GRAIN
        if cost >= cells:
            break
        offer = stage.best[: cells - cost] + value
        better = offer > best[cost:]
        best[cost:][better] = offer[better]
        taken[cost:][better] = index
    return _Stage(best, taken, options, stage)


def _worth_having(slot: Slot[T], weights: tuple[int, ...]) -> tuple[list[Option[T]], list[int]]:
    """The options, quickest first, without those that cost no less and give no more than another."""
    options: list[Option[T]] = []
    values: list[int] = []
    priced = [(option, sum(w * aim for w, aim in zip(weights, option.aims, strict=True))) for option in slot]
    for option, value in sorted(priced, key=lambda pair: (pair[0].seconds, -pair[1])):
        if not values or value > values[-1]:
            options.append(option)
            values.append(value)
    return options, values


def _walk_back(stage: _Stage[T]) -> tuple[Option[T], ...]:
    """The options that led to the end of the table, first slot first."""
    chosen: list[Option[T]] = []
    cell = len(stage.best) - 1
    while stage.before is not None:
        option = stage.options[int(stage.taken[cell])]
        chosen.append(option)
        cell -= option.seconds // GRAIN
        stage = stage.before
    return tuple(reversed(chosen))
