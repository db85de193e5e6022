"""What a world is made of: hidden people, facts that everybody sees, and a law between the two.

A law knows nothing of the forecast. Its people are arrays of one shape: of clients (C,), or of as many draws of each (C, S).
Facts are arrays that fit beside them. Everything random comes from a generator that is passed in.
"""

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[Any]
People = dict[str, Array]
Random = np.random.Generator

SIZES: Final = np.arange(1, 8)
DONE_BY_THE_SILENT: Final = 0.005
TOLD_BY_THE_SILENT: Final = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Of one ask: what is known before it. ``done`` and ``missed`` count the asks of the week before it."""

    promised: Array
    weekday: int
    away: Array
    minutes: Array
    slept: Array
    done: Array
    missed: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """A week as it went; ``work`` is the minutes done, in hours."""

    promised: Array
    done: Array
    missed: Array
    work: Array

    @property
    def kept(self) -> Array:
        kept: Array = (self.done > 0) & (self.missed == 0)
        return kept


class Law:
    """The common part: nobody falls silent, nobody does extras, and the days of the world are plain ones."""

    name = ""
    away = 0.15  # of all days
    trip = 5.0  # days, on average
    minutes: tuple[int, ...] = (45,)  # one of these each week
    ill = 0.01  # a week
    late = 0.0  # the share that joins later
    rest = 0.02  # of weeks, without asks
    peeks = 0.0  # by how much the coach knows better than the history, in choosing promises
    cloud = 1.0  # how many more particles than usual it takes to follow these people
    silences = False  # whether anybody falls silent

    def people(self, random: Random, shape: tuple[int, ...]) -> People:
        """Independent people of this world. All of them have 'mute' and 'silent'."""
        raise NotImplementedError

    def monday(self, random: Random, people: People) -> People:
        """What moves before a week begins, and what the week itself brings."""
        raise NotImplementedError

    def chance(self, people: People, facts: Facts) -> Array:
        """That somebody not silent does what is asked."""
        raise NotImplementedError

    def sunday(self, people: People, ended: Ended) -> People:  # noqa: ARG002
        """What a week leaves behind."""
        return people

    def beyond(self, people: People, ended: Ended) -> Array:  # noqa: ARG002
        """The chance of a session beyond the promise."""
        return np.zeros_like(people["mute"])

    def trust(self, people: People) -> Array:
        """How many sessions a week the coach would give them credit for."""
        raise NotImplementedError


def done_chance(law: Law, people: People, facts: Facts) -> Array:
    chance: Array = np.where(people["silent"] > 0, DONE_BY_THE_SILENT, law.chance(people, facts))
    return np.clip(chance, 0.002, 0.998)


def told_chance(people: People) -> Array:
    """That what was not done is answered."""
    told: Array = np.where(people["silent"] > 0, TOLD_BY_THE_SILENT, 1 - people["mute"])
    return told


def draw_mute(random: Random, shape: tuple[int, ...]) -> Array:
    return random.beta(2.0, 6.0, shape)


def chosen(condition: Array, yes: People, no: People) -> People:
    """For each person one or the other."""
    return {name: np.where(condition, yes[name], no[name]) for name in yes}
