"""How long to wait before trying again."""

import datetime as dt
import random


def backoff(
    attempt: int,
    chance: random.Random,
    *,
    first: dt.timedelta = dt.timedelta(seconds=2),
    longest: dt.timedelta = dt.timedelta(minutes=5),
) -> dt.timedelta:
    """Twice as long each time, up to ``longest``; less up to a quarter, so that workers do not come back together.

    :param attempt: the one that failed, from 1.
    """
    doublings = min(max(attempt, 1) - 1, 30)
    wait: dt.timedelta = min(first * (1 << doublings), longest)
    return wait * chance.uniform(0.75, 1.0)
