"""Rows and weeks for the tests, in few words: the crew of a touring theatre and a marine survey team."""

import datetime as dt
from collections.abc import Iterable, Sequence

from core.adherence.history import HistoryRow
from core.terms import Outcome

FIRST_MONDAY = dt.date(2026, 3, 2)
LETTERS = {
    "d": Outcome.DONE,
    "s": Outcome.SHORT,
    "m": Outcome.MISSED,
    "u": Outcome.UNANSWERED,
    "e": Outcome.EXCUSED,
    "x": Outcome.EXTRA,
    "?": None,
}


def week(
    spelt: str,
    *,
    promised: int | None = None,
    number: int = 0,
    client: str = "Noor, rigger",
    days: Sequence[int] = (1, 3, 5, 6, 7, 2, 4),
    minutes: int = 45,
    away: Iterable[int] = (),
    lowered: bool = False,
) -> list[HistoryRow]:
    """One week, a letter a row: done, short, missed, unanswered, excused, x for extra, ? for no outcome yet."""
    asks = sum(letter != "x" for letter in spelt)
    away = set(away)
    rows = [
        HistoryRow(
            client=client,
            date=FIRST_MONDAY + dt.timedelta(days=7 * number + day - 1),
            promised=asks if promised is None else promised,
            outcome=LETTERS[letter],
            minutes=minutes,
            away=day in away,
            lowered=lowered,
        )
        for letter, day in zip(spelt, days, strict=False)
    ]
    return sorted(rows, key=lambda row: row.date)


def weeks(*spelt: str, client: str = "Noor, rigger", minutes: int = 45, start: int = 0) -> list[HistoryRow]:
    """Successive weeks; an empty word is a week without rows; '3:dd' says another promise than the asks there are."""
    rows: list[HistoryRow] = []
    for number, word in enumerate(spelt, start=start):
        promised, colon, letters = word.rpartition(":")
        size = int(promised) if colon else None
        rows += week(letters, promised=size, number=number, client=client, minutes=minutes)
    return rows


def sunday(number: int) -> dt.date:
    """The Sunday that ends a week; week 0 is the first."""
    return FIRST_MONDAY + dt.timedelta(days=7 * number + 6)
