"""What everybody sees of a world: days, trips, nights and lengths of sessions, drawn apart from the people."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from tests.worlds.law import Array, Law, Random

DAYS: Final = 7
NIGHT_SD: Final = 0.9  # hours, of a night around the client's own mean


def stream(*keys: int) -> Random:
    """A generator of its own for each purpose, so that two policies meet the same chances."""
    return np.random.default_rng(keys)


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """T weeks of C clients: ``away``, ``slept`` (T, C, 7); ``minutes`` (T, C).

    ``order`` (C, 7) the weekdays, 0 to 6, in the order in which each client takes them; ``starts`` (C,) the first week;
    ``usual_sleep`` (C,) hours.
    """

    away: Array
    slept: Array
    minutes: Array
    order: Array
    starts: Array
    usual_sleep: Array

    @property
    def clients(self) -> int:
        return int(self.starts.size)

    def asked(self, promised: Array) -> Array:
        """Which weekdays a promise takes, (C, 7)."""
        rank = np.argsort(self.order, axis=1)
        return (rank < promised[:, None]) * 1.0


def draw_calendar(law: Law, random: Random, clients: int, weeks: int) -> Calendar:
    usual_sleep = random.normal(7.0, 0.6, clients)
    late = random.random(clients) < law.late
    return Calendar(
        away=_trips(law, random, clients, weeks),
        slept=np.clip(random.normal(usual_sleep[:, None], NIGHT_SD, (weeks, clients, DAYS)), 2.0, 11.0),
        minutes=random.choice(law.minutes, (weeks, clients)) * 1.0,
        order=_orders(random, clients),
        starts=np.where(late, random.integers(1, max(2, weeks - 1), clients), 0),
        usual_sleep=usual_sleep,
    )


def _trips(law: Law, random: Random, clients: int, weeks: int) -> Array:
    """Days come in runs: a trip ends with one chance a day and begins with another."""
    ends = 1 / law.trip
    begins = ends * law.away / (1 - law.away)
    away = random.random(clients) < law.away
    days = np.empty((weeks * DAYS, clients))
    for day in range(weeks * DAYS):
        turn = random.random(clients)
        away = np.where(away, turn >= ends, turn < begins)
        days[day] = away
    return np.moveaxis(days.reshape(weeks, DAYS, clients), 1, 2)


def _orders(random: Random, clients: int) -> Array:
    """Spread over the week, the favourite days first, each client's own way."""
    favour = np.array([1.0, 0.4, 1.0, 0.4, 1.0, 0.7, 0.2]) + random.normal(0, 0.5, (clients, DAYS))
    return np.argsort(-favour, axis=1)
