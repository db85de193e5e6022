"""What is guessed of a coming week where its plan says nothing: where the client will be, and how they will sleep."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from core.adherence.evidence import SLEEP_TRUST, sleep_above_usual
from core.adherence.history import HistoryRow, monday_of

AWAY_MEMORY: Final = 0.8  # of an ask's weight in guessing where a client will be, a week later
AWAY_TRUST: Final = 2.0  # asks at home that nobody has told of


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """Sums over a client's rows: asks and those away, fading from week to week; nights and hours slept above the usual."""

    monday: dt.date
    asks: float = 0.0
    asks_away: float = 0.0
    nights: int = 0
    slept: float = 0.0
    slept_squared: float = 0.0

    @property
    def away(self) -> float:
        """The chance of being away on a day of which nobody knows."""
        return self.asks_away / (self.asks + AWAY_TRUST)

    @property
    def sleep(self) -> float:
        """The mean of the hours slept above the usual, shrunk to nothing."""
        return self.slept / (self.nights + SLEEP_TRUST)

    @property
    def sleep_variance(self) -> float:
        """Their variance, shrunk to one hour squared."""
        about = self.slept_squared - 2 * self.sleep * self.slept + self.nights * self.sleep**2
        return (about + SLEEP_TRUST) / (self.nights + SLEEP_TRUST)


def guess_from(rows: Sequence[HistoryRow], as_of: dt.date) -> Guess:
    """From all rows known at the end of ``as_of``."""
    monday = monday_of(as_of)
    this_week = monday.toordinal()
    asks = asks_away = 0.0
    nights = []
    for row in rows:
        if row.is_ask:
            weight = AWAY_MEMORY ** max(0, -((row.date.toordinal() - this_week) // 7))
            asks += weight
            asks_away += weight * row.away
        if row.slept_h is not None:
            nights.append(sleep_above_usual(row.slept_h))
    return Guess(
        monday=monday,
        asks=asks,
        asks_away=asks_away,
        nights=len(nights),
        slept=sum(nights),
        slept_squared=sum(night * night for night in nights),
    )


def guess_after(guess: Guess, row: HistoryRow) -> Guess:
    """With one more row, of the same week or a later one."""
    fade = AWAY_MEMORY ** max(0, (row.monday - guess.monday).days // 7)
    ask = float(row.is_ask)
    night = None if row.slept_h is None else sleep_above_usual(row.slept_h)
    return replace(
        guess,
        monday=max(guess.monday, row.monday),
        asks=guess.asks * fade + ask,
        asks_away=guess.asks_away * fade + ask * row.away,
        nights=guess.nights + (night is not None),
        slept=guess.slept + (night or 0.0),
        slept_squared=guess.slept_squared + (night or 0.0) ** 2,
    )
