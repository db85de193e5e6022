"""One sentence why: the odds of one less, of itself and of one more, and the sessions that moved them."""

import datetime as dt
from collections.abc import Sequence
from itertools import takewhile

from core.adherence.history import LARGEST_PROMISE, HistoryRow
from core.adherence.plan import WeekPlan
from core.adherence.promise import Recommendation
from core.adherence.weeks import known
from core.how_many import how_many
from core.terms import Outcome

NUMBERS = ("none", "one", "two", "three", "four", "five", "six", "seven")
LAST_ASKS = 10
DONE = frozenset({Outcome.DONE, Outcome.SHORT})
ASKED = DONE | {Outcome.MISSED, Outcome.UNANSWERED}


def why(recommendation: Recommendation, rows: Sequence[HistoryRow], as_of: dt.date, plan: WeekPlan) -> str:
    """The sentence beside a recommendation. Every number in it can be recomputed from the history and the plan."""
    parts = [_sizes(recommendation), _sessions(known(rows, as_of)), _trips(recommendation.sessions, plan)]
    parts += [limit.because for limit in recommendation.limits[:1]]
    if recommendation.talk_first:
        parts.append("talk first")
    return "; ".join(part for part in parts if part)


def _sizes(recommendation: Recommendation) -> str:
    own = recommendation.sessions
    around = [k for k in (own, own - 1, own + 1) if 1 <= k <= LARGEST_PROMISE]
    told = [_size(k, recommendation) for k in around]
    return told[0][0].upper() + ", ".join(told)[1:]


def _size(k: int, recommendation: Recommendation) -> str:
    odds = recommendation.odds
    percent = min(max(round(100 * odds.keep[k]), 1), 99)  # nobody is surer than that
    return f"{NUMBERS[k]} {percent} % ({odds.expected[k]:.1f} done)"


def _sessions(rows: Sequence[HistoryRow]) -> str:
    asked = [row for row in rows if row.outcome in ASKED][-LAST_ASKS:]
    if not asked:
        return _without_asks(rows)
    return ", ".join(part for part in (_shares(asked), _silence(asked), _extras(rows, asked)) if part)


def _shares(asked: Sequence[HistoryRow]) -> str:
    away = [row for row in asked if row.away]
    if not away or len(away) == len(asked):
        told = " of the last {} sessions done" if len(asked) > 1 else " of {} session done"
        return _share(asked, told) + (" while away" if away else "")
    home = [row for row in asked if not row.away]
    return f"{_share(home, ' of {} done at home')}, {_share(away, ' of {} while away')} (last {len(asked)} sessions)"


def _share(rows: Sequence[HistoryRow], words: str) -> str:
    return f"{sum(row.outcome in DONE for row in rows)}{words.format(len(rows))}"


def _silence(asked: Sequence[HistoryRow]) -> str:
    """How many of the latest asks in a row were not answered."""
    silent = len(list(takewhile(lambda row: row.outcome is Outcome.UNANSWERED, reversed(asked))))
    return f"the last {silent} without an answer" if silent > 1 else ""


def _extras(rows: Sequence[HistoryRow], asked: Sequence[HistoryRow]) -> str:
    extras = sum(row.outcome is Outcome.EXTRA and row.date >= asked[0].date for row in rows)
    return how_many(extras, "extra") + " since the first of them" if extras else ""


def _trips(sessions: int, plan: WeekPlan) -> str:
    """How many of the days of the promise are known to be away."""
    away = sum(day.away is True for day in plan.days[:sessions])
    return f"next week {away} of {how_many(sessions, 'day')} away" if away else ""


def _without_asks(rows: Sequence[HistoryRow]) -> str:
    excused = sum(row.outcome is Outcome.EXCUSED for row in rows)
    extras = sum(row.outcome is Outcome.EXTRA for row in rows)
    beside = [how_many(excused, "session") + " excused"] if excused else []
    beside += [how_many(extras, "extra")] if extras else []
    return f"only {' and '.join(beside)} so far" if beside else "nothing asked yet"
