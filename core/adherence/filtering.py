"""What is believed of many clients at once, moved from week to week: assumed-density filtering.

For each client and each kind of person there is a Gaussian over the six components below, and beside it a Gaussian for the
case that the client has fallen silent. The weights of all of them add up to one. Every array has an axis of B parameter sets
before that of the clients, one where only one is asked for. ``FORECAST.md`` has the equations.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.adherence.evidence import DONE, MISSED, NOTHING, Array, Whole
from core.adherence.gaussians import (
    COMPONENTS,
    PACKED,
    PAIR,
    Gaussians,
    log_sum,
    merge,
    outer,
    put,
    put_array,
)
from core.adherence.parameters import KINDS, STAYS, Parameters

LEVEL, MOOD, WEEK, AWAY, WEEKEND, MINUTES = range(6)
SIZE: Final = len(KINDS)
CAPACITY, STEADY, RELIABLE = np.array(KINDS, dtype=np.float32).T[..., None, None]  # (K, 1, 1) each

DONE_WHEN_SILENT: Final = 0.01
ALIVE_WHEN_SILENT: Final = (
    0.02  # how likely an excuse or an extra comes from somebody silent, against anybody
)
MUTE_TRUST: Final = 4.0  # unfinished asks that the population's share of silence counts as
MOST_EXTRAS: Final = 2.0
TINY: Final = 1e-6
SUREST: Final = 15.0  # logits beyond it are as sure
_roots, _shares = np.polynomial.hermite_e.hermegauss(5)
NODES: Final = _roots.astype(np.float32)[:, None, None, None, None]
MOMENTS: Final = (np.stack([_roots**0, _roots, _roots**2]) * _shares / _shares.sum()).astype(np.float32)


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """The belief between weeks; K kinds of people, B parameter sets, C clients.

    ``here`` and ``gone`` are Gaussians (6, K, B, C) given engaged and given silent; ``log_weight`` (2, K, B, C) their weights;
    ``muted`` (2, B, C) what was not done by the engaged: answered, and not; ``marks`` (2, B, C) the fading sums of kept and of
    broken weeks.
    """

    here: Gaussians
    gone: Gaussians
    log_weight: Array
    muted: Array
    marks: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """The belief within a week: ``branches`` (6, 2, K, B, C) are life as it was and life begun anew this week.

    ``log_weight`` (3, K, B, C): the two branches, and silent.
    """

    branches: Gaussians
    gone: Gaussians
    log_weight: Array
    muted: Array
    marks: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One ask of each of C clients; ``outcome`` (C,) codes; the rest (C,). See ``Evidence``.

    ``earlier`` is how many asks of the week were before it, the same of all clients.
    """

    outcome: Whole
    away: Array
    weekend: Array
    minutes: Array
    sleep: Array
    after_miss: Array
    promised: Array
    earlier: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """What a week came to for each of C clients, (C,).

    ``closed`` 1 kept, -1 broken, 0 neither; ``alive`` 1 for proof of life; ``done`` how many were; ``told`` and ``untold`` what was
    not done.
    """

    closed: Array
    extras: Array
    alive: Array
    done: Array
    told: Array
    untold: Array


def beginning(p: Parameters, first_promise: Array) -> State:
    """The belief before the first week of clients whose first promise is known."""
    kind, shape = first_promise.dtype, (p.sets, first_promise.size)
    mean = np.zeros((COMPONENTS, SIZE, *shape), dtype=kind)
    mean[LEVEL] = p.level + p.level_by_promise * (first_promise - 3) + RELIABLE
    mean[AWAY], mean[WEEKEND], mean[MINUTES] = p.away, p.weekend, p.minutes
    cov = np.zeros((PACKED, SIZE, *shape), dtype=kind)
    spread = {
        LEVEL: p.level_sd,
        MOOD: STEADY * p.mood_sd,
        AWAY: p.away_sd,
        WEEKEND: p.weekend_sd,
        MINUTES: p.minutes_sd,
    }
    for at, sd in spread.items():
        cov[PAIR[at, at]] = sd**2
    weight = np.empty((2, SIZE, *shape), dtype=kind)
    weight[0] = np.log1p(-p.lapsed_at_first) + np.log(p.shares)[:, None, None]
    weight[1] = np.log(p.lapsed_at_first) + np.log(p.shares)[:, None, None]
    muted = np.empty((2, *shape), dtype=kind)
    muted[0], muted[1] = MUTE_TRUST * (1 - p.mute), MUTE_TRUST * p.mute
    prior = Gaussians(mean=mean, cov=cov)
    return State(here=prior, gone=prior, log_weight=weight, muted=muted, marks=np.zeros_like(muted))


def pause(p: Parameters, state: State) -> State:
    """A week in which nothing was asked: no evidence, no hazard; only the mood is known less well."""
    cov = state.here.cov.copy()
    cov[PAIR[MOOD, MOOD]] += STEADY**2 * (p.mood_sd**2 * (1 - p.mood_memory**2))
    return replace(state, here=replace(state.here, cov=cov))


def open_week(p: Parameters, state: State, first_promise: Array) -> Open:
    """Monday: some fall silent, some return, some begin anew; moods move; the week brings its own luck."""
    here, gone = state.log_weight
    stays, returns = here + np.log1p(-p.lapse), gone + np.log(p.return_)
    leaves, remains = here + np.log(p.lapse), gone + np.log1p(-p.return_)
    engaged, log_engaged = merge(state.here, stays, state.gone, returns)
    silent, log_silent = merge(state.here, leaves, state.gone, remains)
    branches = _branch(p, _forward(p, engaged), first_promise)
    weights = np.stack([log_engaged + np.log1p(-p.jump), log_engaged + np.log(p.jump), log_silent])
    return Open(branches=branches, gone=silent, log_weight=weights, muted=state.muted, marks=state.marks)


def answer(p: Parameters, week: Open, ask: Ask) -> Open:
    """One ask with its outcome. Moves what is believed of the engaged, and all weights."""
    point, spread = _along(week.branches, ask)
    heard = (ask.outcome != NOTHING).astype(
        spread.dtype
    )  # to multiply with: choosing by np.where is many times slower
    evidence, gain, curve = _match(
        point + offset(p, ask, week.marks), _summed(spread, ask), _room(p, ask), ask.outcome == DONE
    )
    gain *= heard
    curve *= heard
    cov = outer(curve, spread)
    np.subtract(week.branches.cov, cov, out=cov)
    branches = Gaussians(mean=week.branches.mean + spread * gain, cov=cov)
    weights = week.log_weight.copy()
    weights[:2] += heard * (np.log(evidence) + _log_voice(week.muted, ask.outcome))
    weights[2] += heard * _log_when_silent(p, ask.outcome)
    return replace(week, branches=branches, log_weight=weights)


def offset(p: Parameters, ask: Ask, marks: Array) -> Array:
    """What the promise, the night, the week so far and past weeks do to an ask's logit, (K, B, C)."""
    lasting = p.habit * marks[0] - p.sting * marks[1]
    so_far = p.wear * ask.earlier + p.after_miss * ask.after_miss
    logit: Array = lasting + p.sleep * ask.sleep - so_far - p.overload * _above(ask)
    return logit


def _above(ask: Ask) -> Array:
    """By how many sessions the promise is above the capacity, (K, 1, C)."""
    above: Array = np.maximum(0, ask.promised - CAPACITY)
    return above


def _room(p: Parameters, ask: Ask) -> Array:
    """What share of the asks the week has room for, (K, B, C)."""
    room: Array = np.exp(p.crowding * np.minimum(0, np.log(CAPACITY / np.maximum(ask.promised, 1))))
    return room


def close_week(p: Parameters, week: Open, tally: Tally) -> tuple[State, Array]:
    """Sunday: proof of life counts, the branches become one, and the week leaves its mark.

    Returns the state and the log probability of the week's evidence, (B, C).
    """
    weights = week.log_weight.copy()
    weights[2] += tally.alive * math.log(ALIVE_WHEN_SILENT)
    total = log_sum(weights.reshape(-1, *weights.shape[2:]))
    weights = weights - total
    as_it_was, anew = _branch_of(week.branches, 0), _branch_of(week.branches, 1)
    here, log_here = merge(as_it_was, weights[0], anew, weights[1])
    state = State(
        here=_lift(p, _forget_week(here), tally.extras),
        gone=week.gone,
        log_weight=np.stack([log_here, weights[2]]),
        muted=week.muted + np.stack([tally.told, tally.untold])[:, None] * np.exp(log_here).sum(axis=0),
        marks=_mark(p, week.marks, tally.closed),
    )
    return state, total


def engaged(state: State) -> Array:
    """The probability that each client has not fallen silent, (B, C)."""
    weight: Array = np.exp(state.log_weight[0]).sum(axis=0)
    return weight


def _along(gaussians: Gaussians, ask: Ask) -> tuple[Array, Array]:
    """The mean of an ask's logit over a Gaussian, and the covariance of every component with it."""
    spread = np.empty_like(gaussians.mean)
    for about in range(COMPONENTS):
        spread[about] = _summed([gaussians.cov[pair] for pair in PAIR[about]], ask)
    return _summed(gaussians.mean, ask), spread


def _summed(of_each: Sequence[Array] | Array, ask: Ask) -> Array:
    """What the components come to for this ask."""
    total: Array = of_each[LEVEL] + of_each[MOOD]
    total += of_each[WEEK]
    total += ask.away * of_each[AWAY]
    total += ask.weekend * of_each[WEEKEND]
    total += ask.minutes * of_each[MINUTES]
    return total


def _match(
    centre: Array, variance: Array, room: Array, done: NDArray[np.bool_]
) -> tuple[Array, Array, Array]:
    """The evidence of an outcome, and by how much it moves and narrows a Gaussian logit: moments matched by quadrature."""
    width = np.sqrt(np.maximum(variance, TINY))
    logit = np.clip(centre + NODES * width, -SUREST, SUREST)
    chance = room / (1 + np.exp(-logit))
    not_done = 1 - done.astype(logit.dtype)
    likelihood = not_done + (1 - 2 * not_done) * chance
    evidence, first, second = (MOMENTS @ likelihood.reshape(NODES.size, -1)).reshape(3, *likelihood.shape[1:])
    mean = first / evidence
    return evidence, mean / width, (1 - second / evidence + mean**2) / width**2


def _log_voice(muted: Array, outcome: Whole) -> Array:
    """How likely an engaged client would tell, or not tell, of what was not done."""
    share = muted / muted.sum(axis=0)
    told = np.where(outcome == MISSED, share[0], share[1])
    return np.where(outcome == DONE, 0, np.log(told))


def _log_when_silent(p: Parameters, outcome: Whole) -> Array:
    told = np.log((1 - DONE_WHEN_SILENT) * p.lapsed_answers)
    untold = np.log((1 - DONE_WHEN_SILENT) * (1 - p.lapsed_answers))
    return np.where(outcome == DONE, math.log(DONE_WHEN_SILENT), np.where(outcome == MISSED, told, untold))


def _forward(p: Parameters, gaussians: Gaussians) -> Gaussians:
    """The mood fades and is stirred; the week brings its own luck."""
    mean, cov = gaussians.mean.copy(), gaussians.cov.copy()
    mean[MOOD] *= p.mood_memory
    cov[PAIR[MOOD]] *= p.mood_memory
    cov[PAIR[MOOD, MOOD]] *= p.mood_memory
    cov[PAIR[MOOD, MOOD]] += STEADY**2 * (p.mood_sd**2 * (1 - p.mood_memory**2))
    cov[PAIR[WEEK, WEEK]] = STEADY**2 * p.week_sd**2
    return Gaussians(mean=mean, cov=cov)


def _branch(p: Parameters, usual: Gaussians, first_promise: Array) -> Gaussians:
    """Life as it was, and a level drawn anew from the population, with what stays of being reliable."""
    mean, cov = np.stack([usual.mean] * 2, axis=1), np.stack([usual.cov] * 2, axis=1)
    mean[LEVEL, 1] = p.level + p.level_by_promise * (first_promise - 3) + STAYS * RELIABLE
    cov[PAIR[LEVEL], 1] = 0
    cov[PAIR[LEVEL, LEVEL], 1] = p.level_sd**2
    return Gaussians(mean=mean, cov=cov)


def _branch_of(branches: Gaussians, at: int) -> Gaussians:
    return Gaussians(mean=branches.mean[:, at], cov=branches.cov[:, at])


def _forget_week(gaussians: Gaussians) -> Gaussians:
    mean, cov = gaussians.mean.copy(), gaussians.cov.copy()
    mean[WEEK] = 0
    cov[PAIR[WEEK]] = 0
    return Gaussians(mean=mean, cov=cov)


def _mark(p: Parameters, marks: Array, closed: Array) -> Array:
    """Kept and broken weeks add up, and fade."""
    faded: Array = p.habit_memory * marks + np.stack([np.maximum(closed, 0), np.maximum(-closed, 0)])[:, None]
    return faded


def _lift(p: Parameters, gaussians: Gaussians, extras: Array) -> Gaussians:
    """An extra lifts the mood."""
    mean = gaussians.mean.copy()
    mean[MOOD] += p.extra * np.minimum(extras, MOST_EXTRAS)
    return replace(gaussians, mean=mean)


def of(state: State, clients: Whole | slice) -> State:
    """The part of a state that is about these clients."""
    return State(
        here=state.here.of(clients),
        gone=state.gone.of(clients),
        log_weight=state.log_weight[..., clients],
        muted=state.muted[..., clients],
        marks=state.marks[..., clients],
    )


def with_part(state: State, part: State, clients: Whole) -> State:
    """The state with these clients' part replaced."""
    if clients.size == state.muted.shape[-1]:
        return part
    return State(
        here=put(state.here, part.here, clients),
        gone=put(state.gone, part.gone, clients),
        log_weight=put_array(state.log_weight, part.log_weight, clients),
        muted=put_array(state.muted, part.muted, clients),
        marks=put_array(state.marks, part.marks, clients),
    )


def open_of(week: Open, clients: Whole | slice) -> Open:
    return Open(
        branches=week.branches.of(clients),
        gone=week.gone.of(clients),
        log_weight=week.log_weight[..., clients],
        muted=week.muted[..., clients],
        marks=week.marks[..., clients],
    )


def open_with_part(week: Open, part: Open, clients: Whole) -> Open:
    """The week with these clients' answers heard."""
    return replace(
        week,
        branches=put(week.branches, part.branches, clients),
        log_weight=put_array(week.log_weight, part.log_weight, clients),
    )
