"""Running the filter over the weeks of many clients."""

from typing import Final

import numpy as np

from core.adherence.evidence import DONE, MISSED, UNANSWERED, Array, Evidence, Whole
from core.adherence.filtering import (
    Ask,
    Open,
    State,
    Tally,
    answer,
    beginning,
    close_week,
    of,
    open_of,
    open_week,
    open_with_part,
    pause,
    with_part,
)
from core.adherence.parameters import Parameters

MOST_OF: Final = 0.3  # where so many were asked, hearing all costs less than picking out


def run(p: Parameters, evidence: Evidence) -> tuple[State, Array]:
    """Filter every client's weeks; the state at the end of the last, and the log probability of all evidence, (B, C)."""
    state, total = run_until(p, evidence, evidence.length)
    return state, total


def run_until(p: Parameters, evidence: Evidence, length: Whole) -> tuple[State, Array]:
    """Filter so many weeks of each client, (C,)."""
    state = beginning(p, evidence.first_promise)
    total = np.zeros((p.sets, evidence.clients), dtype=evidence.first_promise.dtype)
    for at in range(int(length.max(initial=0))):
        running = np.flatnonzero(at < length)
        asked = running[evidence.asked[at, running]]
        idle = running[~evidence.asked[at, running]]
        if idle.size:
            state = with_part(state, pause(p, _of(state, idle)), idle)
        if asked.size:
            week = hear_week(p, _of(state, asked), evidence, np.full(asked.size, at), asked)
            after, gained = close_week(p, week, tally_at(evidence, np.full(asked.size, at), asked))
            state = with_part(state, after, asked)
            total[:, asked] += gained
    return state, total


def hear_week(p: Parameters, state: State, evidence: Evidence, at: Whole, clients: Whole) -> Open:
    """Open week ``at`` of each of the given clients, whose state it is, and hear all its answers."""
    week = open_week(p, state, evidence.first_promise[clients])
    for slot in range(evidence.outcome.shape[1]):
        told = np.flatnonzero(evidence.outcome[at, slot, clients])
        if not told.size:
            break
        ask = ask_at(evidence, at[told], slot, clients[told])
        week = (
            answer(p, week, ask)
            if told.size == clients.size
            else answer(p, week, ask_at(evidence, at, slot, clients))
            if told.size > MOST_OF * clients.size
            else open_with_part(week, answer(p, open_of(week, told), ask), told)
        )
    return week


def ask_at(evidence: Evidence, at: Whole, slot: int, clients: Whole) -> Ask:
    return Ask(
        outcome=evidence.outcome[at, slot, clients],
        away=evidence.away[at, slot, clients],
        weekend=evidence.weekend[at, slot, clients],
        minutes=evidence.minutes[at, slot, clients],
        sleep=evidence.sleep[at, slot, clients],
        after_miss=evidence.after_miss[at, slot, clients],
        promised=evidence.promised[at, clients],
        earlier=slot,
    )


def tally_at(evidence: Evidence, at: Whole, clients: Whole) -> Tally:
    kind = evidence.closed.dtype
    outcome = evidence.outcome[at, :, clients]
    return Tally(
        closed=evidence.closed[at, clients],
        extras=evidence.extras[at, clients],
        alive=evidence.alive[at, clients].astype(kind),
        done=(outcome == DONE).sum(axis=1).astype(kind),
        told=(outcome == MISSED).sum(axis=1).astype(kind),
        untold=(outcome == UNANSWERED).sum(axis=1).astype(kind),
    )


def _of(state: State, clients: Whole) -> State:
    return state if clients.size == state.muted.shape[-1] else of(state, clients)
