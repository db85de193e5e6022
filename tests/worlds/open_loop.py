"""A cohort that is coached by hand, its history as the product has it, and at each cut-off the true odds and the best ones."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.adherence.history import HistoryRow
from core.adherence.plan import PlannedDay, WeekPlan
from core.terms import Outcome
from tests.worlds import particles
from tests.worlds.calendars import Calendar, draw_calendar, stream
from tests.worlds.coaching import draw, first_promise, moves
from tests.worlds.law import Array, Law
from tests.worlds.lives import (
    CALENDAR,
    DONE,
    EXCUSED,
    MISSED,
    NOTHING,
    UNANSWERED,
    WITHDRAWN,
    Lived,
    born,
    live,
    true_odds,
)

FIRST_MONDAY = dt.date(2026, 3, 2)
COACH = 11
OUTCOMES = {
    DONE: Outcome.DONE,
    MISSED: Outcome.MISSED,
    UNANSWERED: Outcome.UNANSWERED,
    EXCUSED: Outcome.EXCUSED,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutoff:
    """After so many weeks: the clients with a past, and for these the true odds and the ceiling, (n, 7)."""

    weeks: int
    clients: Array
    truth: Array
    ceiling: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """A world once lived: rows by client, and what was true at the cut-offs."""

    law: Law
    calendar: Calendar
    rows: dict[str, tuple[HistoryRow, ...]]
    cutoffs: tuple[Cutoff, ...]

    def known(self, weeks: int) -> dict[str, tuple[HistoryRow, ...]]:
        """The rows of the first so many weeks; clients without any are not there."""
        end = sunday(weeks - 1)
        past = {name: tuple(row for row in rows if row.date <= end) for name, rows in self.rows.items()}
        return {name: rows for name, rows in past.items() if rows}


def sunday(week: int) -> dt.date:
    return FIRST_MONDAY + dt.timedelta(days=7 * week + 6)


def name_of(client: int) -> str:
    return f"crew {client:03d}"


def tell(
    law: Law, *, seed: int, clients: int, cutoffs: Sequence[int], draws: int = 200, cloud: int = 1500
) -> Story:
    """Live a world up to its last cut-off. ``draws`` weeks for the truth of each client, ``cloud`` particles for the ceiling."""
    weeks = max(cutoffs) + 1
    calendar = draw_calendar(law, stream(seed, CALENDAR), clients, weeks)
    people = born(law, seed, clients)
    belief = particles.cloud_of(law, calendar, seed=seed, particles=cloud)
    rows: dict[str, list[HistoryRow]] = {name_of(client): [] for client in range(clients)}
    reached, number, last = [], np.zeros(clients), None
    for week in range(weeks):
        if week in cutoffs:
            begun = np.flatnonzero(number > 0)
            truth = true_odds(law, calendar, week, people, seed=seed, draws=draws)
            best = particles.ceiling(law, calendar, week, belief, seed=seed)
            reached.append(Cutoff(weeks=week, clients=begun, truth=truth[begun], ceiling=best[begun]))
        if week == max(cutoffs):
            break
        promised = _promise(law, calendar, week, people, last, number, seed)
        belief = particles.hear_promise(law, belief, np.where(number == 0, promised, 0), None)
        if last is not None:
            belief = particles.hear_promise(law, belief, np.where(number > 0, promised, 0), last)
        lived = live(law, calendar, week, people, calendar.asked(promised), seed=seed)
        belief = particles.hear_week(law, calendar, week, belief, lived, seed=seed)
        for client, own in enumerate(rows.values()):
            own.extend(rows_of(calendar, week, client, lived))
        people, number = lived.people, number + (promised > 0)
        last = lived if last is None else _latest(last, lived)
    told = {name: tuple(own) for name, own in rows.items() if own}
    return Story(law=law, calendar=calendar, rows=told, cutoffs=tuple(reached))


def rows_of(
    calendar: Calendar, week: int, client: int, lived: Lived, minutes: Array | None = None
) -> list[HistoryRow]:
    """A client's week as the history has it: what was withdrawn is not there."""
    length = calendar.minutes[week] if minutes is None else minutes
    outcomes = [(day, int(code)) for day, code in enumerate(lived.outcome[client])]
    told = [(day, OUTCOMES[code]) for day, code in outcomes if code not in {NOTHING, WITHDRAWN}]
    free = [day for day, code in outcomes if code == NOTHING]
    if lived.extra[client] and free:
        told.append((free[-1], Outcome.EXTRA))
    return [
        HistoryRow(
            client=name_of(client),
            date=FIRST_MONDAY + dt.timedelta(days=7 * week + day),
            promised=int(lived.promised[client]),
            outcome=outcome,
            minutes=int(length[client]),
            away=bool(calendar.away[week, client, day]),
            slept_h=round(float(calendar.slept[week, client, day]), 1),
        )
        for day, outcome in sorted(told)
    ]


def plan_of(calendar: Calendar, week: int, client: int) -> WeekPlan:
    """The client's seven days of the coming week in their order; trips are known, nights are not."""
    minutes = int(calendar.minutes[week, client])
    monday = FIRST_MONDAY + dt.timedelta(weeks=week)
    days = tuple(
        PlannedDay(
            date=monday + dt.timedelta(days=int(day)),
            minutes=minutes,
            away=bool(calendar.away[week, client, day]),
        )
        for day in calendar.order[client]
    )
    return WeekPlan(monday=monday, days=days, minutes=minutes)


def _promise(
    law: Law,
    calendar: Calendar,
    week: int,
    people: dict[str, Array],
    last: Lived | None,
    number: Array,
    seed: int,
) -> Array:
    random = stream(seed, COACH, week)
    first = draw(random, first_promise(law, people))
    rests = random.random(calendar.clients) < law.rest
    if last is None:
        return np.where(calendar.starts <= week, first, 0)
    then = draw(random, moves(law, people, last.promised, last.kept))
    promised = np.where(number > 0, np.where(rests, 0, then), first)
    return np.where(calendar.starts <= week, promised, 0)


def _latest(last: Lived, lived: Lived) -> Lived:
    """The last week that each client was asked in."""
    asked = lived.promised > 0
    return Lived(
        promised=np.where(asked, lived.promised, last.promised),
        outcome=np.where(asked[:, None], lived.outcome, last.outcome),
        extra=lived.extra,
        people=lived.people,
        quiet=lived.quiet,
    )
