"""A crowd whose forecasts are timed and audited."""

import datetime as dt
from collections.abc import Mapping, Sequence

import numpy as np

from core.adherence.history import HistoryRow, by_client
from core.terms import Outcome

People = Mapping[str, Sequence[HistoryRow]]

FIRST_MONDAY = dt.date(2026, 3, 2)


def crowd(clients: int, weeks: int, seed: int = 11) -> People:
    """People with levels, bad weeks, trips and now and then silence; promises go one up when kept, one down when not."""
    rng = np.random.default_rng(seed)
    rows: list[HistoryRow] = []
    for client in range(clients):
        level, promised, silent = rng.normal(1.2, 1.0), int(rng.integers(1, 6)), False
        for week in range(weeks):
            silent = silent or rng.random() < 0.01
            luck, away = rng.normal(0, 0.6), bool(rng.random() < 0.2)
            chance = 0.0 if silent else 1 / (1 + np.exp(-(level + luck - 0.5 * away)))
            done = rng.random(promised) < chance
            told = 0.05 if silent else 0.7
            rows += [
                HistoryRow(
                    client=f"client {client}",
                    date=FIRST_MONDAY + dt.timedelta(days=7 * week + int(day)),
                    promised=promised,
                    outcome=_outcome(bool(came), told=bool(rng.random() < told)),
                    minutes=45,
                    away=away,
                )
                for day, came in zip(sorted(rng.choice(7, promised, replace=False)), done, strict=True)
            ]
            promised = min(promised + 1, 7) if done.all() else max(promised - 1, 1)
    return by_client(rows)


def _outcome(done: bool, *, told: bool) -> Outcome:
    return Outcome.DONE if done else Outcome.MISSED if told else Outcome.UNANSWERED
