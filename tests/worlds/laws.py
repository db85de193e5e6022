"""Six laws. Their forms are their own: probit, thresholds, hazards, complementary log-log; none is that of the forecast."""

from typing import Final

import numpy as np
from scipy.special import ndtr
from typing_extensions import override

from tests.worlds.law import Array, Ended, Facts, Law, People, Random, draw_mute


class Stable(Law):
    """Nobody changes. Above their capacity people do in proportion less; some weeks are bad from end to end."""

    name = "stable, with capacity"

    @override
    def people(self, random: Random, shape: tuple[int, ...]) -> People:
        return {
            "mute": draw_mute(random, shape),
            "silent": np.zeros(shape),
            "ease": random.normal(1.5, 0.6, shape),
            "capacity": random.choice(6, shape, p=(0.1, 0.2, 0.3, 0.2, 0.1, 0.1)) + 1.0,
            "frail": random.beta(1.5, 16, shape),
            "bad": np.zeros(shape),
        }

    @override
    def monday(self, random: Random, people: People) -> People:
        return people | {"bad": (random.random(people["frail"].shape) < people["frail"]) * 1.0}

    @override
    def chance(self, people: People, facts: Facts) -> Array:
        strained = np.minimum(1, people["capacity"] / np.maximum(1, facts.promised)) ** 1.5
        hindered = 1 - 0.12 * facts.away
        chance: Array = ndtr(people["ease"]) * strained * hindered * (1 - 0.6 * people["bad"])
        return chance

    @override
    def trust(self, people: People) -> Array:
        trusted: Array = people["capacity"] * ndtr(people["ease"])
        return trusted


class Habit(Law):
    """A habit grows towards one with every kept week and wears off with every broken one; extras come with it."""

    name = "habit and erosion"

    @override
    def people(self, random: Random, shape: tuple[int, ...]) -> People:
        return {
            "mute": draw_mute(random, shape),
            "silent": np.zeros(shape),
            "taste": random.normal(-0.2, 0.5, shape),
            "tolerance": random.uniform(1.5, 5.5, shape),
            "habit": random.beta(2, 3, shape),
            "week": np.zeros(shape),
        }

    @override
    def monday(self, random: Random, people: People) -> People:
        return people | {"week": random.normal(0, 0.25, people["taste"].shape)}

    @override
    def chance(self, people: People, facts: Facts) -> Array:
        burden = 0.4 * np.maximum(0, facts.promised - people["tolerance"]) ** 1.3
        drive = people["taste"] + 1.8 * people["habit"] + people["week"] - burden - 0.25 * facts.away
        chance: Array = 1 - np.exp(-np.exp(drive))
        return chance

    @override
    def sunday(self, people: People, ended: Ended) -> People:
        share = ended.missed / np.maximum(1, ended.done + ended.missed)
        grown = people["habit"] + 0.12 * (1 - people["habit"])
        worn = people["habit"] * (0.9 - 0.35 * share)
        return people | {"habit": np.where(ended.kept, grown, worn)}

    @override
    def beyond(self, people: People, ended: Ended) -> Array:
        return 0.3 * people["habit"] * ended.kept

    @override
    def trust(self, people: People) -> Array:
        return 1 + 2 * people["habit"] + 0.3 * people["tolerance"]


class Abrupt(Law):
    """Lives change at once and for long; broken weeks in a row make silence likelier. The coach hears of some of it."""

    name = "abrupt changes and lapses"
    peeks = 0.8
    silences = True

    @override
    def people(self, random: Random, shape: tuple[int, ...]) -> People:
        return {
            "mute": draw_mute(random, shape),
            "silent": np.zeros(shape),
            "reliable": _reliability(random, shape),
            "room": random.integers(2, 7, shape) * 1.0,
            "broken": np.zeros(shape),
        }

    @override
    def monday(self, random: Random, people: People) -> People:
        shape = people["reliable"].shape
        falls = random.random(shape) < 0.004 + 0.02 * np.minimum(people["broken"], 4)
        returns = random.random(shape) < 0.1
        changed = (random.random(shape) < 0.03) | ((people["silent"] > 0) & returns)
        silent = np.where(people["silent"] > 0, ~returns, falls) * 1.0
        reliable = np.where(changed, _reliability(random, shape), people["reliable"])
        return people | {"silent": silent, "reliable": reliable}

    @override
    def chance(self, people: People, facts: Facts) -> Array:
        crowded = 0.82 ** np.maximum(0, facts.promised - people["room"])
        chance: Array = (
            people["reliable"] * crowded * np.where(facts.missed > 0, 0.85, 1) * (1 - 0.15 * facts.away)
        )
        return chance

    @override
    def sunday(self, people: People, ended: Ended) -> People:
        asked = ended.done + ended.missed > 0
        broken = np.where(ended.kept, 0, people["broken"] + 1)
        return people | {"broken": np.where(asked, broken, people["broken"])}

    @override
    def trust(self, people: People) -> Array:
        worth: Array = people["room"] * people["reliable"] ** 2
        return worth


def _reliability(random: Random, shape: tuple[int, ...]) -> Array:
    """Most are good, some are not."""
    good = random.random(shape) < 0.7
    return np.where(good, random.beta(18, 1.5, shape), random.beta(2, 2.5, shape))


class Travel(Law):
    """Half of life on the road: what stands in the way adds up as a hazard, with short nights and long sessions."""

    name = "heavy travel and sleep"
    away = 0.45
    trip = 4.0
    minutes: tuple[int, ...] = (25, 45, 45, 60, 75)

    @override
    def people(self, random: Random, shape: tuple[int, ...]) -> People:
        return {
            "mute": draw_mute(random, shape),
            "silent": np.zeros(shape),
            "base": random.gamma(1.3, 0.06, shape),
            "road": random.gamma(0.9, 0.35, shape),
            "drag": random.gamma(1.0, 0.07, shape),
            "limit": random.integers(2, 6, shape) * 1.0,
            "week": np.ones(shape),
        }

    @override
    def monday(self, random: Random, people: People) -> People:
        return people | {"week": random.lognormal(-0.18, 0.6, people["base"].shape)}

    @override
    def chance(self, people: People, facts: Facts) -> Array:
        tired = 0.2 * (facts.slept < 6) + 0.15 * (facts.slept < 5)
        hours = np.maximum(0, facts.minutes / 60 - 0.3)
        hazard = people["base"] + people["road"] * facts.away + people["drag"] * hours + tired
        hazard = hazard + 0.12 * np.maximum(0, facts.promised - people["limit"]) + 0.1 * (facts.missed > 0)
        chance: Array = np.exp(-hazard * people["week"])
        return chance

    @override
    def trust(self, people: People) -> Array:
        return 3.5 * np.exp(-people["base"] - 0.5 * people["road"])


PERFECT, GHOST, WEEKEND, MOODY, USUAL = range(5)


class Crowd(Law):
    """All sorts: perfect keepers, ghosts, people of the weekend, weeks of all or nothing; many joined lately."""

    name = "mixed crowd"
    late = 0.5
    cloud = 4.0
    silences = True

    @override
    def people(self, random: Random, shape: tuple[int, ...]) -> People:
        kind = random.choice(5, shape, p=(0.2, 0.12, 0.13, 0.2, 0.35)) * 1.0
        return {
            "mute": np.where(kind == PERFECT, 0.05, draw_mute(random, shape)),
            "silent": np.zeros(shape),
            "kind": kind,
            "reliable": random.beta(7, 1.6, shape),
            "most": random.integers(2, 6, shape) * 1.0,
            "good": np.ones(shape),
        }

    @override
    def monday(self, random: Random, people: People) -> People:
        shape, ghost = people["kind"].shape, people["kind"] == GHOST
        good = random.random(shape) < np.where(people["kind"] == MOODY, 0.65, 1)
        vanishes = random.random(shape) < np.where(ghost, 0.35, 0.004)
        returns = random.random(shape) < np.where(ghost, 0.01, 0.1)
        silent = np.where(people["silent"] > 0, ~returns, vanishes) * 1.0
        return people | {"good": good * 1.0, "silent": silent}

    @override
    def chance(self, people: People, facts: Facts) -> Array:
        weekend = 0.94 if facts.weekday >= 6 else 0.12
        too_much = 0.75 ** np.maximum(0, facts.promised - people["most"])
        moody = np.where(people["good"] > 0, 0.96, 0.12)
        usual = people["reliable"] * too_much * (1 - 0.1 * facts.away)
        chance: Array = np.choose(
            people["kind"].astype(int),
            np.broadcast_arrays(0.992 + 0 * usual, 0.5 + 0 * usual, weekend, moody, usual),
        )
        return chance

    @override
    def trust(self, people: People) -> Array:
        guess = np.choose(people["kind"].astype(int), np.broadcast_arrays(4, 2, 2, 3, people["most"]))
        return guess * 1.0


class Fatigue(Law):
    """Work tires and rest restores; moods wander in fits and starts; after one miss the week slides."""

    name = "fatigue and moods"
    minutes: tuple[int, ...] = (30, 45, 60)
    away = 0.2

    @override
    def people(self, random: Random, shape: tuple[int, ...]) -> People:
        return {
            "mute": draw_mute(random, shape),
            "silent": np.zeros(shape),
            "drive": random.normal(1.6, 0.6, shape),
            "tires": random.gamma(4, 0.03, shape),
            "slides": random.gamma(2, 0.25, shape),
            "tired": np.zeros(shape),
            "mood": random.normal(0, 0.4, shape),
        }

    @override
    def monday(self, random: Random, people: People) -> People:
        stir = random.standard_t(4, people["mood"].shape) * 0.2
        return people | {"mood": 0.85 * people["mood"] + stir}

    @override
    def chance(self, people: People, facts: Facts) -> Array:
        weary = people["tired"] + people["tires"] * facts.done
        daunted = 0.1 * np.maximum(0, facts.promised - 2) * (people["tires"] / 0.12)
        slid = people["slides"] * (facts.missed > 0)
        chance: Array = ndtr(people["drive"] + people["mood"] - weary - daunted - slid - 0.2 * facts.away)
        return chance

    @override
    def sunday(self, people: People, ended: Ended) -> People:
        return people | {"tired": 0.6 * people["tired"] + people["tires"] * ended.work / 2}

    @override
    def trust(self, people: People) -> Array:
        worth: Array = 2 + 1.2 * people["drive"] - 4 * people["tires"]
        return worth


LAWS: Final[tuple[Law, ...]] = (Stable(), Habit(), Abrupt(), Travel(), Crowd(), Fatigue())
