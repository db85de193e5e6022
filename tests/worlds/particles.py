"""A filter that knows the law of a world and nothing of its clients: what it says is the best that anybody could say."""

from dataclasses import dataclass

import numpy as np

from tests.worlds.calendars import DAYS, Calendar, stream
from tests.worlds.coaching import first_promise, moves
from tests.worlds.law import Array, Ended, Law, People, Random, chosen, done_chance, told_chance
from tests.worlds.lives import DONE, EXCUSED, MISSED, UNANSWERED, Lived, facts_of, odds_of

FILTER = 7


@dataclass(frozen=True, slots=True)
class Cloud:
    """Draws (C, P) of each client, and the logarithms of their weights."""

    people: People
    log_weight: Array

    @property
    def weight(self) -> Array:
        weight = np.exp(self.log_weight - self.log_weight.max(axis=1, keepdims=True))
        share: Array = weight / weight.sum(axis=1, keepdims=True)
        return share


def cloud_of(law: Law, calendar: Calendar, *, seed: int, particles: int) -> Cloud:
    shape = (calendar.clients, round(particles * law.cloud))
    return Cloud(law.people(stream(seed, FILTER), shape), np.zeros(shape))


def hear_promise(law: Law, cloud: Cloud, promised: Array, last: Lived | None) -> Cloud:
    """What the coach's choice gives away, where the coach knows more than the history."""
    told = (
        first_promise(law, cloud.people)
        if last is None
        else moves(law, cloud.people, last.promised[:, None], last.kept[:, None])
    )
    size = np.clip(promised - 1, 0, DAYS - 1).astype(int)
    chance = np.take_along_axis(told, np.broadcast_to(size[None, :, None], (1, *told.shape[1:])), axis=0)[0]
    return Cloud(cloud.people, cloud.log_weight + np.where(promised[:, None] > 0, np.log(chance), 0))


def hear_week(law: Law, calendar: Calendar, week: int, cloud: Cloud, lived: Lived, *, seed: int) -> Cloud:
    """Move the draws by one week and weigh them by all that was heard in it."""
    random = stream(seed, FILTER, week)
    people = law.monday(random, cloud.people)
    log_weight = cloud.log_weight.copy()
    done, missed, work = (np.zeros(calendar.clients) for _ in range(3))
    told = told_chance(people)
    for day in range(DAYS):
        code = lived.outcome[:, day][:, None]
        if not code.any():
            continue
        facts = facts_of(calendar, week, day, lived.promised, done, missed, beside=True)
        chance = done_chance(law, people, facts)
        heard = np.select(
            [code == DONE, code == MISSED, code == UNANSWERED, code == EXCUSED],
            [chance, (1 - chance) * told, (1 - chance) * (1 - told), np.where(people["silent"] > 0, 1e-9, 1)],
            1.0,
        )
        log_weight += np.log(heard)
        done += code[:, 0] == DONE
        missed += (code[:, 0] == MISSED) | (code[:, 0] == UNANSWERED)
        work += (code[:, 0] == DONE) * calendar.minutes[week] / 60
    ended = Ended(
        promised=lived.promised[:, None], done=done[:, None], missed=missed[:, None], work=work[:, None]
    )
    extra = law.beyond(people, ended)
    could = ((lived.promised > 0) & (lived.promised < DAYS))[:, None]
    log_weight += np.where(could, np.log(np.where(lived.extra[:, None] > 0, extra, 1 - extra) + 1e-12), 0)
    after = chosen((done + missed > 0)[:, None], law.sunday(people, ended), people)
    asked = (lived.promised > 0)[:, None]
    return _resampled(
        random, Cloud(chosen(asked, after, cloud.people), np.where(asked, log_weight, cloud.log_weight))
    )


def ceiling(law: Law, calendar: Calendar, week: int, cloud: Cloud, *, seed: int) -> Array:
    """The odds (C, 7) of the coming week, over the cloud."""
    odds = odds_of(law, calendar, week, cloud.people, stream(seed, FILTER, week, 1))
    mean: Array = np.einsum("kcp,cp->ck", odds, cloud.weight)
    return mean


def _resampled(random: Random, cloud: Cloud) -> Cloud:
    """Draw anew where few of a client's draws carry most of the weight (systematic resampling)."""
    weight = cloud.weight
    particles = weight.shape[1]
    thin = np.flatnonzero(1 / (weight**2).sum(axis=1) < particles / 3)
    if not thin.size:
        return cloud
    steps = (random.random((thin.size, 1)) + np.arange(particles)) / particles
    ladder = np.cumsum(weight[thin], axis=1) + np.arange(thin.size)[:, None]
    ladder[:, -1] = np.arange(1, thin.size + 1)
    flat = np.searchsorted(ladder.ravel(), (steps + np.arange(thin.size)[:, None]).ravel(), side="right")
    chosen_ones = (flat.reshape(thin.size, particles) - particles * np.arange(thin.size)[:, None]).clip(
        0, particles - 1
    )
    people = {name: values.copy() for name, values in cloud.people.items()}
    for values in people.values():
        values[thin] = np.take_along_axis(values[thin], chosen_ones, axis=1)
    log_weight = cloud.log_weight.copy()
    log_weight[thin] = 0
    return Cloud(people, log_weight)
