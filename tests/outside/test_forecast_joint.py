"""The joint law of a week's sessions, against enumeration of every way it can go and against printed examples."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest

from core.adherence.filtering import DONE_WHEN_SILENT
from core.adherence.forecast import Odds, Population, believe, odds
from core.adherence.parameters import EVEN_SHARES, KINDS, NAMES, Parameters, natural, prior_centre
from core.adherence.plan import PlannedDay, WeekPlan

EVE = dt.date(2026, 3, 1)
MONDAY = EVE + dt.timedelta(days=1)
TINY = 1e-9
NOTHING: Mapping[str, Any] = dict.fromkeys(
    NAMES, TINY
)  # every effect, every difference between people, every chance


def logit(chance: float) -> float:
    return float(np.log(chance / (1 - chance)))


def expit(x: float) -> float:
    return float(1 / (1 + np.exp(-x)))


def of_a_newcomer(parameters: Parameters, days: Sequence[PlannedDay]) -> Odds:
    belief = believe([], Population(parameters=parameters), EVE)
    return odds(belief, WeekPlan(monday=MONDAY, days=tuple(days), minutes=45))


def slept(*hours: float) -> list[PlannedDay]:
    """A session a day from Monday, 45 minutes, at home, after so many hours of sleep."""
    return [
        PlannedDay(date=MONDAY + dt.timedelta(days=at), minutes=45, away=False, slept_h=each)
        for at, each in enumerate(hours)
    ]


def nights_for(chances: Sequence[float], level: float) -> list[float]:
    """The nights that give sessions these chances where an hour of sleep is worth one logit."""
    return [7 + logit(chance) - level for chance in chances]


def people(shares: tuple[float, ...] = EVEN_SHARES, **what: float) -> Parameters:
    """People to whom nothing matters but what is named."""
    return replace(natural(prior_centre(), shares), **{**NOTHING, **what})


ALIKE = tuple(TINY if reliable else 1 / 8 for _, _, reliable in KINDS)
"""Shares of the kinds: nobody is more reliable than others are."""


def test_independent_sessions_are_the_printed_poisson_binomial() -> None:
    """P = (0, 0, .1, .2, .4, .8, 1): chances .0864, .4344, .3784, .0944, .0064 of 1 to 5.

    Printed in the vignette of CRAN's 'PoissonBinomial'. Its 0s and 1 only shift the counts: the four in between all come true
    with .0064, and the mean of the printed law less the sure one is the mean of the four.
    """
    chances, printed = (0.1, 0.2, 0.4, 0.8), (0.0864, 0.4344, 0.3784, 0.0944, 0.0064)
    level = 0.5
    told = of_a_newcomer(people(ALIKE, level=level, sleep=1.0), slept(*nights_for(chances, level), 7, 7, 7))
    assert told.keep[4] == pytest.approx(printed[-1], abs=1e-6)
    assert told.expected[4] == pytest.approx(np.dot(range(1, 6), printed) - 1, abs=1e-5)
    assert told.keep[3] == pytest.approx(0.1 * 0.2 * 0.4, abs=1e-6)  # by hand


def test_seven_alike_are_the_printed_binomial() -> None:
    """Seven times .3, the same vignette: .0002187 that all seven come true."""
    level = logit(0.3)
    told = of_a_newcomer(people(ALIKE, level=level, sleep=1.0), slept(*[7.0] * 7))
    assert told.keep[7] == pytest.approx(0.0002187, abs=1e-7)
    assert told.expected[7] == pytest.approx(7 * 0.3, abs=1e-5)


def test_where_people_are_one_point_the_law_is_every_way_that_a_week_can_go() -> None:
    """All 2**k outcomes of each size, over capacities and silence, each ask and a miss weighing on what follows them."""
    level, overload, after_miss, wear, sleep = 0.8, 0.5, 0.9, 0.2, 0.3
    lapsed, lapse, back = 0.1, 0.2, 0.3
    parameters = people(
        level=level,
        sleep=sleep,
        overload=overload,
        after_miss=after_miss,
        wear=wear,
        lapsed_at_first=lapsed,
        lapse=lapse,
        return_=back,
    )
    nights = (6.0, 7.5, 8.0, 5.0, 7.0, 6.5, 8.5)
    told = of_a_newcomer(parameters, slept(*nights))
    silent = lapsed * (1 - back) + (1 - lapsed) * lapse
    assert told.engaged == pytest.approx(1 - lapsed, abs=1e-4)
    for size in range(1, 8):
        all_done, count = silent * DONE_WHEN_SILENT**size, silent * size * DONE_WHEN_SILENT
        for (capacity, _, reliable), share in zip(KINDS, parameters.shares, strict=True):
            own = level + reliable - overload * max(0, size - capacity)
            base = [own + sleep * (night - 7) - wear * earlier for earlier, night in enumerate(nights)]
            for way in product((True, False), repeat=size):
                weight = (1 - silent) * share * _chance_of(way, base, after_miss)
                all_done += weight * all(way)
                count += weight * sum(way)
        assert told.keep[size] == pytest.approx(all_done, abs=1e-5), size
        assert told.expected[size] == pytest.approx(count, abs=1e-4), size


def _chance_of(way: Sequence[bool], base: Sequence[float], after_miss: float) -> float:
    chance, missed = 1.0, False
    for done, logit_of_day in zip(way, base, strict=False):
        of_done = expit(logit_of_day - after_miss * missed)
        chance *= of_done if done else 1 - of_done
        missed = missed or not done
    return chance


def test_what_is_earlier_in_the_week_is_so_by_date() -> None:
    """Sunday is the surest day, Monday is added to it: by hand, a promise of two has Sunday's session after Monday's."""
    level, wear = 0.4, 0.7
    *others, sunday = slept(*[7.0] * 7)
    told = of_a_newcomer(people(ALIKE, level=level, wear=wear), [sunday, *others])
    assert told.keep[1] == pytest.approx(expit(level), abs=1e-6)
    assert told.keep[2] == pytest.approx(expit(level) * expit(level - wear), abs=1e-6)


DIFFERENCES = (
    *("level", "level_sd", "mood_sd", "mood_memory", "week_sd", "weekend", "weekend_sd"),
    *("overload", "after_miss", "lapse", "return_", "lapsed_at_first"),
)


def test_people_who_differ_are_integrated_over() -> None:
    """50,000 people of each kind, with the differences of the default, and of each every way that the week can go.

    The forecast integrates with few points, so it may be a hundredth off.
    """
    default = natural(prior_centre())
    p = people(**{name: getattr(default, name) for name in DIFFERENCES})
    rng = np.random.default_rng(5)
    draws = 50_000
    silent = p.lapsed_at_first * (1 - p.return_) + (1 - p.lapsed_at_first) * p.lapse
    keep, expected = np.zeros(7), np.zeros(7)
    for (capacity, steady, reliable), share in zip(KINDS, p.shares, strict=True):
        mood = p.mood_sd * steady
        luck = np.hypot(mood, p.week_sd * steady)
        level = p.level + reliable + rng.normal(0, p.level_sd, draws) + rng.normal(0, luck, draws)
        weekend = p.weekend + rng.normal(0, p.weekend_sd, draws)
        for size in range(1, 8):
            days = [
                level + (weekend if day >= 5 else 0) - p.overload * max(0, size - capacity)
                for day in range(size)
            ]
            whole, count = _enumerated(days, p.after_miss)
            keep[size - 1] += share * whole
            expected[size - 1] += share * count
    told = of_a_newcomer(p, slept(*[7.0] * 7))
    for size in range(1, 8):
        engaged_part = (1 - silent) * keep[size - 1] + silent * DONE_WHEN_SILENT**size
        assert told.keep[size] == pytest.approx(engaged_part, abs=0.012), size
        done = (1 - silent) * expected[size - 1] + silent * size * DONE_WHEN_SILENT
        assert told.expected[size] == pytest.approx(done, abs=0.012 * size), size


def _enumerated(days: Sequence[Any], after_miss: float) -> tuple[float, float]:
    """The chance that all are done, and how many are, averaged over draws."""
    unbroken, count = np.ones_like(days[0]), np.zeros_like(days[0])
    for logits in days:
        fresh, after = 1 / (1 + np.exp(-logits)), 1 / (1 + np.exp(after_miss - logits))
        count += unbroken * fresh + (1 - unbroken) * after
        unbroken = unbroken * fresh
    return float(unbroken.mean()), float(count.mean())
