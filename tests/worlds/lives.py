"""People living by a law, week by week, and the true odds of their coming week."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from tests.worlds.calendars import DAYS, NIGHT_SD, Calendar, stream
from tests.worlds.law import SIZES, Array, Ended, Facts, Law, People, Random, chosen, done_chance, told_chance

NOTHING, DONE, MISSED, UNANSWERED, EXCUSED, WITHDRAWN = range(6)
QUIET_DAYS: Final = 2  # asked days in a row without a word, after which nobody asks on
BORN, WEEK, TRUTH, CALENDAR = range(4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lived:
    """One week of everybody: ``outcome`` (C, 7) by weekday, ``extra`` (C,) sessions beyond it, ``people`` after it.

    ``quiet`` (C,) counts asked days in a row without a word.
    """

    promised: Array
    outcome: Array
    extra: Array
    people: People
    quiet: Array

    @property
    def done(self) -> Array:
        done: Array = (self.outcome == DONE).sum(axis=1)
        return done

    @property
    def broken(self) -> Array:
        broken: Array = ((self.outcome == MISSED) | (self.outcome == UNANSWERED)).sum(axis=1)
        return broken

    @property
    def kept(self) -> Array:
        kept: Array = (self.done > 0) & (self.broken == 0)
        return kept


def born(law: Law, seed: int, clients: int) -> People:
    return law.people(stream(seed, BORN), (clients,))


def live(
    law: Law,
    calendar: Calendar,
    week: int,
    people: People,
    asked: Array,
    *,
    seed: int,
    minutes: Array | None = None,
    quiet: Array | None = None,
) -> Lived:
    """One week in which these days are ``asked`` (C, 7), for the calendar's minutes unless others are given.

    With ``quiet`` given, nobody is asked on who says nothing.
    """
    length = calendar.minutes[week] if minutes is None else minutes
    random = stream(seed, WEEK, week)
    promised = asked.sum(axis=1)
    before, people = people, law.monday(random, people)
    does, tells = random.random((2, calendar.clients, DAYS))
    ill_from = np.where(
        random.random(calendar.clients) < law.ill, random.integers(0, DAYS, calendar.clients), DAYS
    )
    outcome = np.zeros((calendar.clients, DAYS), dtype=int)
    done, missed, work = (np.zeros(calendar.clients) for _ in range(3))
    silence = np.zeros(calendar.clients) if quiet is None else quiet.copy()
    for day in range(DAYS):
        facts = replace(facts_of(calendar, week, day, promised, done, missed), minutes=length)
        succeeds = does[:, day] < done_chance(law, people, facts)
        answers = tells[:, day] < told_chance(people)
        code = np.where(succeeds, DONE, np.where(answers, MISSED, UNANSWERED))
        code = np.where((day >= ill_from) & (people["silent"] == 0), EXCUSED, code)
        if quiet is not None:
            code = np.where(silence >= QUIET_DAYS, np.where(promised == 1, code, WITHDRAWN), code)
        code = np.where(asked[:, day] > 0, code, NOTHING)
        outcome[:, day] = code
        done += code == DONE
        missed += (code == MISSED) | (code == UNANSWERED)
        work += (code == DONE) * length / 60
        silence = np.where(
            code == UNANSWERED, silence + 1, np.where((code == NOTHING) | (code == WITHDRAWN), silence, 0)
        )
    ended = Ended(promised=promised, done=done, missed=missed, work=work)
    extra = (random.random(calendar.clients) < law.beyond(people, ended)) & (promised < DAYS) & (promised > 0)
    after = chosen(done + missed > 0, law.sunday(people, ended), people)
    return Lived(
        promised=promised,
        outcome=outcome,
        extra=extra * 1.0,
        people=chosen(promised > 0, after, before),
        quiet=silence,
    )


def facts_of(
    calendar: Calendar,
    week: int,
    day: int,
    promised: Array,
    done: Array,
    missed: Array,
    *,
    beside: bool = False,
) -> Facts:
    """Of an ask on this day; ``beside`` many draws of each client where it must fit beside these."""

    def shaped(values: Array) -> Array:
        return values[:, None] if beside else values

    return Facts(
        promised=shaped(promised),
        weekday=day + 1,
        away=shaped(calendar.away[week, :, day]),
        minutes=shaped(calendar.minutes[week]),
        slept=shaped(calendar.slept[week, :, day]),
        done=shaped(done),
        missed=shaped(missed),
    )


def true_odds(
    law: Law,
    calendar: Calendar,
    week: int,
    people: People,
    *,
    seed: int,
    draws: int,
    minutes: Array | None = None,
) -> Array:
    """The odds (C, 7) that all k asks of the coming week are done, by so many weeks drawn from each client's true state."""
    random = stream(seed, TRUTH, week)
    many = {name: np.repeat(values[:, None], draws, axis=1) for name, values in people.items()}
    odds: Array = odds_of(law, calendar, week, many, random, minutes=minutes).mean(axis=2).T
    return odds


def odds_of(
    law: Law, calendar: Calendar, week: int, people: People, random: Random, *, minutes: Array | None = None
) -> Array:
    """The chance of keeping each size of promise in the coming week, from every draw (C, S) of the people, (7, C, S).

    What Monday brings and how they sleep is drawn; the sessions are multiplied exactly.
    """
    people = law.monday(random, people)
    shape = people["silent"].shape
    usual = calendar.usual_sleep[:, None]
    slept = [np.clip(random.normal(usual, NIGHT_SD, shape), 2.0, 11.0) for _ in range(DAYS)]
    length = calendar.minutes[week] if minutes is None else minutes
    odds = np.ones((SIZES.size, *shape))
    for at, size in enumerate(SIZES):
        asked = calendar.asked(np.full(calendar.clients, size))
        done = np.zeros(calendar.clients)
        for day in range(DAYS):
            who = np.flatnonzero(asked[:, day])
            facts = Facts(
                promised=np.array(float(size)),
                weekday=day + 1,
                away=calendar.away[week, who, day][:, None],
                minutes=length[who][:, None],
                slept=slept[day][who],
                done=done[who][:, None],
                missed=np.array(0.0),
            )
            odds[at, who] *= done_chance(law, {name: values[who] for name, values in people.items()}, facts)
            done[who] += 1
    return odds
