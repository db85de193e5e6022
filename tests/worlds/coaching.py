"""How the coach of a world chooses promises by hand, before there is a forecast to follow."""

import numpy as np

from tests.worlds.law import Array, Law, People, Random

MOST_AT_FIRST = 5


def first_promise(law: Law, people: People) -> Array:
    """The chance of every size, (7, ...): about what the coach gives them credit for."""
    sizes = np.arange(1, 8).reshape(-1, *[1] * people["silent"].ndim)
    odds = np.exp(-0.5 * (sizes - law.trust(people)) ** 2) * (sizes <= MOST_AT_FIRST) + 1e-9
    chances: Array = odds / odds.sum(axis=0)
    return chances


def moves(law: Law, people: People, last: Array, kept: Array) -> Array:
    """The chance of every size after a week, (7, ...): often one up after a kept one, often one down after a broken one."""
    knows = law.peeks * np.tanh(law.trust(people) - last)
    up = np.where(kept, 0.4, 0.1) * np.exp(knows)
    down = np.where(kept, 0.07, 0.45) * np.exp(-knows)
    stay = 0.5
    sizes = np.arange(1, 8).reshape(-1, *[1] * people["silent"].ndim)
    step = sizes - last
    odds = up * (step == 1) + down * (step == -1) + stay * (step == 0) + 1e-9
    chances: Array = odds / odds.sum(axis=0)
    return chances


def draw(random: Random, chances: Array) -> Array:
    """One size for each client from (7, C)."""
    turn = random.random(chances.shape[1])
    size: Array = 1.0 + (np.cumsum(chances, axis=0) < turn).sum(axis=0).clip(0, 6)
    return size
