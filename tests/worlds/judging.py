"""Judging odds against true ones: the log loss that is to be expected, so that no luck of outcomes blurs it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from core.adherence import simple
from core.adherence.forecast import believe_all, fit, odds
from core.adherence.scoring import SURE, calibration_error
from tests.worlds.calendars import stream
from tests.worlds.law import SIZES, Array
from tests.worlds.open_loop import Cutoff, Story, name_of, plan_of, sunday

OURS: Final = "forecast"
CEILING: Final = "ceiling"
RULES: Final[Mapping[str, simple.Rule]] = {
    "last week": simple.last_week,
    "four weeks": simple.four_weeks,
    "lifetime": simple.lifetime,
    "moving avg": simple.moving_average,
}
RESAMPLES: Final = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """Of all cut-offs of a story: whose odds they are (n,), the truth (n, 7), and what each method said (n, 7)."""

    client: Array
    truth: Array
    said: Mapping[str, Array]

    def loss(self, method: str) -> Array:
        """The expected log loss of each client's odds, over sizes, (n,)."""
        sure = np.clip(self.said[method], SURE, 1 - SURE)
        cost: Array = -(self.truth * np.log(sure) + (1 - self.truth) * np.log1p(-sure)).mean(axis=1)
        return cost

    @property
    def best_simple(self) -> str:
        names = [name for name in self.said if name not in {OURS, CEILING}]
        return min(names, key=lambda name: float(self.loss(name).mean()))

    @property
    def share(self) -> float:
        """How much of the gap from the best simple method to the ceiling is closed."""
        simplest, ours, best = (float(self.loss(name).mean()) for name in (self.best_simple, OURS, CEILING))
        return (simplest - ours) / (simplest - best)

    @property
    def miscalibration(self) -> float:
        return calibration_error(self.said[OURS].ravel(), self.truth.ravel())

    def ahead(self, method: str) -> tuple[float, float, float]:
        """By how much our loss is below another's: the mean and its 95 % interval, clients drawn anew."""
        saved = self.loss(method) - self.loss(OURS)
        _, client = np.unique(self.client, return_inverse=True)
        total, count = np.bincount(client, weights=saved), np.bincount(client)
        drawn = stream(1).integers(0, total.size, (RESAMPLES, total.size))
        means = total[drawn].sum(axis=1) / count[drawn].sum(axis=1)
        low, high = np.quantile(means, [0.025, 0.975])
        return float(saved.mean()), float(low), float(high)


def judge(story: Story) -> Judged:
    """The forecast, the simple rules and the ceiling at every cut-off of a story."""
    said = [said_at(story, cutoff) for cutoff in story.cutoffs]
    return Judged(
        client=np.concatenate([cutoff.clients for cutoff in story.cutoffs]),
        truth=np.concatenate([cutoff.truth for cutoff in story.cutoffs]),
        said={name: np.concatenate([one[name] for one in said]) for name in said[0]},
    )


def together(parts: list[Judged]) -> Judged:
    """Several stories as one."""
    return Judged(
        client=np.concatenate([part.client + 100_000 * at for at, part in enumerate(parts)]),
        truth=np.concatenate([part.truth for part in parts]),
        said={name: np.concatenate([part.said[name] for part in parts]) for name in parts[0].said},
    )


def said_at(story: Story, cutoff: Cutoff) -> dict[str, Array]:
    known = story.known(cutoff.weeks)
    pasts = {name: simple.asked_weeks(rows) for name, rows in known.items()}
    rules = dict(RULES) | {"beta-binomial": simple.beta_binomial(simple.pooled_prior(pasts.values()))}
    regression = simple.pooled_regression(pasts.values())
    own = [pasts[name_of(client)] for client in cutoff.clients]
    said = {name: np.array([rule(past, SIZES.size) for past in own]) for name, rule in rules.items()}
    plans = [plan_of(story.calendar, cutoff.weeks, client) for client in cutoff.clients]
    away = [[bool(day.away) for day in plan.days] for plan in plans]
    said["regression"] = np.array(
        [
            [regression.chances(past, k, k, gone[:k])[-1] for k in SIZES.tolist()]
            for past, gone in zip(own, away, strict=True)
        ]
    )
    as_of = sunday(cutoff.weeks - 1)
    beliefs = believe_all(known, fit(known, as_of), as_of)
    ours = [
        odds(beliefs[name_of(client)], plan).keep for client, plan in zip(cutoff.clients, plans, strict=True)
    ]
    said[OURS] = np.array([[keep[k] for k in SIZES.tolist()] for keep in ours])
    said[CEILING] = cutoff.ceiling
    return said
