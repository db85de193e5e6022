"""A cohort whose promises follow a policy, week after week, and what comes of it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Final, Protocol

import numpy as np

from core.adherence.forecast import Odds, Population, believe_all, fit, odds
from core.adherence.history import HistoryRow
from core.adherence.promise import OddsAt, Recommendation, Settings, look_back, recommend
from core.adherence.weeks import weeks_of
from tests.worlds import particles
from tests.worlds.calendars import Calendar, draw_calendar, stream
from tests.worlds.coaching import draw, first_promise
from tests.worlds.law import SIZES, Array, Law, People
from tests.worlds.lives import CALENDAR, QUIET_DAYS, Lived, born, live, true_odds
from tests.worlds.open_loop import COACH, name_of, plan_of, rows_of, sunday

DRAWS: Final = 150
REFIT_EVERY: Final = 4  # weeks, after as many with one each
SUNDAY: Final = 6
ENOUGH: Final = 0.8  # true odds of one, from which on somebody could keep a promise at all


@dataclass(frozen=True, slots=True, kw_only=True)
class Eve:
    """What there is before a week: the rows of everybody, who could be asked, and, for who knows it, the truth."""

    law: Law
    calendar: Calendar
    week: int
    seed: int
    rows: Mapping[str, Sequence[HistoryRow]]
    lately: Array
    people: People
    promised: Array
    kept: Array
    last: Lived | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Sizes and minutes for everybody; what was said of them, of one more, and of being engaged, where the policy says anything."""

    sizes: Array
    minutes: Array
    said: Array
    said_of_more: Array
    engaged: Array


class Policy(Protocol):
    def __call__(self, eve: Eve) -> Choice: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Weeks by clients (T, C): what was promised, said, kept, done with extras; the true odds of one; who was silent."""

    promised: Array
    said: Array
    said_of_more: Array
    engaged: Array
    kept: Array
    broken: Array
    done: Array
    true_one: Array
    true_kept: Array
    true_of_more: Array
    silent: Array
    counted: Array
    judged: Array

    @property
    def kept_share(self) -> float:
        """Kept, of the weeks of those who could have kept one."""
        able = (self.true_one >= ENOUGH) & (self.judged > 0)
        return float(self.kept[able].mean())

    @property
    def done_a_week(self) -> float:
        return float(self.done.sum() / (self.promised > 0).sum())

    @property
    def mean_promise(self) -> float:
        return float(self.promised[self.promised > 0].mean())

    @property
    def optimism(self) -> float:
        """By how much more was said of the promises than was true of them."""
        told = self.judged > 0
        return float((self.said - self.true_kept)[told].mean())

    def just_short(self) -> tuple[float, float, float]:
        """Of one more than was promised, where 0.7 to 0.8 was said of it: said and true (means), and how often 0.8 was true."""
        near = (self.judged > 0) & (self.said_of_more >= 0.7) & (self.said_of_more < ENOUGH)
        true = self.true_of_more[near]
        return float(self.said_of_more[near].mean()), float(true.mean()), float((true >= ENOUGH).mean())

    def steps_up(self) -> tuple[int, int]:
        """The largest step up between promises, and raises after a broken week."""
        largest = raises = 0
        for client in range(self.promised.shape[1]):
            weeks = np.flatnonzero(self.counted[:, client] > 0)
            sizes = self.promised[weeks, client]
            step = np.diff(sizes)
            largest = max(largest, int(step.max(initial=0)))
            raises += int(((step > 0) & (self.broken[weeks[:-1], client] > 0)).sum())
        return largest, raises

    def drift(self) -> tuple[float, float, int]:
        """Weeks from a lapse to engaged < 0.5 (the median), false alarms a client-year, and how many lapses there were."""
        waits, alarms = [], 0
        alarm = self.engaged < 0.5
        for client in range(self.silent.shape[1]):
            silent = self.silent[:, client] > 0
            starts = np.flatnonzero(silent & ~np.concatenate([[False], silent[:-1]]))
            for start in starts:
                length = int(np.argmin(np.append(silent[start:], False)))
                seen = np.flatnonzero(alarm[start + 1 : start + length + 1, client])
                waits += [int(seen[0]) + 1] if seen.size else [] if length < 3 else [26]
            begins = alarm[1:, client] & ~alarm[:-1, client]
            alarms += int((begins & ~silent[:-1]).sum())
        years = float((self.promised > 0).sum()) / 52
        return (float(np.median(waits)) if waits else float("nan")), alarms / years, len(waits)


def follow(law: Law, policy: Policy, *, seed: int, clients: int = 200, weeks: int = 26) -> Run:
    """Let everybody live so many weeks with the promises of a policy, and the house's way with silence."""
    calendar = draw_calendar(law, stream(seed, CALENDAR), clients, weeks)
    people = born(law, seed, clients)
    lately = draw(stream(seed, COACH), first_promise(law, people))
    rows: dict[str, list[HistoryRow]] = {name_of(client): [] for client in range(clients)}
    promised, kept, quiet = np.zeros(clients), np.zeros(clients), np.zeros(clients)
    told, lived = _Told(), None
    for week in range(weeks):
        eve = Eve(
            law=law,
            calendar=calendar,
            week=week,
            seed=seed,
            rows=rows,
            lately=lately,
            people=people,
            promised=promised,
            kept=kept,
            last=lived,
        )
        choice = policy(eve)
        silent = quiet >= QUIET_DAYS
        sizes = np.where(calendar.starts <= week, np.where(silent, 1, choice.sizes), 0)
        asked = calendar.asked(sizes)
        asked[silent & (sizes > 0)] = np.eye(7)[SUNDAY]
        truth = true_odds(law, calendar, week, people, seed=seed, draws=DRAWS)
        lived = live(law, calendar, week, people, asked, seed=seed, minutes=choice.minutes, quiet=quiet)
        for client, own in enumerate(rows.values()):
            own.extend(rows_of(calendar, week, client, lived, choice.minutes))
        people, quiet = lived.people, lived.quiet
        counted = lived.done + lived.broken > 0
        promised, kept = np.where(counted, sizes, promised), np.where(counted, lived.kept, kept)
        told.add(
            promised=sizes,
            said=choice.said,
            said_of_more=choice.said_of_more,
            engaged=choice.engaged,
            kept=lived.kept * 1.0,
            broken=(lived.broken > 0) * 1.0,
            done=lived.done + lived.extra,
            true_one=truth[:, 0],
            true_kept=_of(truth, sizes),
            true_of_more=_of(truth, sizes + 1),
            silent=people["silent"] * (sizes > 0),
            counted=counted * 1.0,
            judged=(counted & ~silent & ~(lived.outcome >= 4).any(axis=1)) * 1.0,
        )
    return told.run()


def _of(odds_of: Array, sizes: Array) -> Array:
    """The odds (C, 7) of each client's size."""
    columns = np.clip(sizes - 1, 0, SIZES.size - 1).astype(int)
    return np.take_along_axis(odds_of, columns[:, None], axis=1)[:, 0]


@dataclass(slots=True)
class _Told:
    weeks: list[Mapping[str, Array]] = field(default_factory=list)

    def add(self, **week: Array) -> None:
        self.weeks.append(week)

    def run(self) -> Run:
        return Run(**{name: np.array([week[name] for week in self.weeks]) for name in self.weeks[0]})


# -- policies ----------------------------------------------------------------------------------------------------------------


def ours(confidence: float = 0.8, *, exploring: bool = False) -> Policy:
    """The forecast, and the rules of the promise over it; with ``exploring`` the coach takes every offer to explore."""
    learnt: list[Population] = []

    def policy(eve: Eve) -> Choice:
        as_of = sunday(eve.week - 1)
        if eve.week < REFIT_EVERY or eve.week % REFIT_EVERY == 0:
            learnt[:] = [fit(eve.rows, as_of)]
        beliefs = believe_all(eve.rows, learnt[0], as_of)

        def odds_at(client: int) -> OddsAt:
            plan = plan_of(eve.calendar, eve.week, client)
            return cache(lambda minutes: odds(beliefs[name_of(client)], plan.with_minutes(minutes)))

        return _by_the_rules(eve, odds_at, confidence, exploring=exploring)

    return policy


def oracle(confidence: float = 0.8) -> Policy:
    """The same rules over the true odds."""

    def policy(eve: Eve) -> Choice:
        @cache
        def everybody(minutes: int) -> Array:
            length = np.minimum(eve.calendar.minutes[eve.week], minutes)
            return true_odds(
                eve.law, eve.calendar, eve.week, eve.people, seed=eve.seed, draws=DRAWS, minutes=length
            )

        def odds_at(client: int) -> OddsAt:
            def told(minutes: int) -> Odds:
                keep = dict(zip(SIZES.tolist(), everybody(minutes)[client].tolist(), strict=True))
                return Odds(keep=keep, expected=keep, engaged=1.0, lighter=float(len(eve.law.minutes) > 1))

            return told

        return _by_the_rules(eve, odds_at, confidence)

    return policy


def knowing_the_law(confidence: float = 0.8, cloud: int = 600) -> Policy:
    """The same rules over what the filter says that knows the law and not the clients: as good as any forecast can be."""
    held: list[particles.Cloud] = []

    def policy(eve: Eve) -> Choice:
        law, calendar, week, seed = eve.law, eve.calendar, eve.week, eve.seed
        if eve.last is None:
            held[:] = [particles.cloud_of(law, calendar, seed=seed, particles=cloud)]
            held[0] = particles.hear_promise(law, held[0], eve.lately, None)
        else:
            held[0] = particles.hear_week(law, calendar, week - 1, held[0], eve.last, seed=seed)
        best = particles.ceiling(law, calendar, week, held[0], seed=seed)

        def odds_at(client: int) -> OddsAt:
            keep = dict(zip(SIZES.tolist(), best[client].tolist(), strict=True))
            return lambda _: Odds(keep=keep, expected=keep, engaged=1.0)

        return _by_the_rules(eve, odds_at, confidence)

    return policy


def fixed(size: int) -> Policy:
    return lambda eve: _plain(eve, np.full(eve.promised.size, float(size)))


def one_up_one_down(eve: Eve) -> Choice:
    return _plain(eve, _stepped(eve, eve.kept > 0, eve.kept == 0))


def up_after_three() -> Policy:
    """One up after three kept weeks in a row, one down after a broken one."""
    run = np.zeros(0)

    def policy(eve: Eve) -> Choice:
        nonlocal run
        run = np.zeros(eve.promised.size) if eve.week == 0 else np.where(eve.kept > 0, run + 1, 0)
        up = run >= 3
        run = np.where(up, 0, run)
        return _plain(eve, _stepped(eve, up, eve.kept == 0))

    return policy


def _stepped(eve: Eve, up: Array, down: Array) -> Array:
    moved = np.clip(eve.promised + up - (1.0 * down), 1, 7)
    return np.where(eve.promised > 0, moved, eve.lately)


def _plain(eve: Eve, sizes: Array) -> Choice:
    nothing = np.full(sizes.size, np.nan)
    return Choice(
        sizes=sizes,
        minutes=eve.calendar.minutes[eve.week],
        said=nothing,
        said_of_more=nothing,
        engaged=np.ones(sizes.size),
    )


def _by_the_rules(
    eve: Eve, odds_at: Callable[[int], OddsAt], confidence: float, *, exploring: bool = False
) -> Choice:
    advice = [_recommend(eve, client, odds_at(client), confidence) for client in range(eve.promised.size)]
    sizes = [(exploring and one.explore) or one.sessions for one in advice]
    return Choice(
        sizes=np.array(sizes, dtype=float),
        minutes=np.array([one.minutes for one in advice], dtype=float),
        said=np.array([one.odds.keep[size] for one, size in zip(advice, sizes, strict=True)]),
        said_of_more=np.array(
            [one.odds.keep[min(size + 1, 7)] for one, size in zip(advice, sizes, strict=True)]
        ),
        engaged=np.array([one.odds.engaged for one in advice]),
    )


def _recommend(eve: Eve, client: int, odds_at: OddsAt, confidence: float) -> Recommendation:
    own = eve.rows[name_of(client)]
    minutes = int(eve.calendar.minutes[eve.week, client])
    past = look_back(weeks_of(own), own, sunday(eve.week - 1), minutes)
    return recommend(past, odds_at, Settings(confidence=confidence, lately=int(eve.lately[client])))
