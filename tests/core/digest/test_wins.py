import datetime as dt

import pytest

from core.adherence.weeks import Week
from core.digest.wins import wins

FIRST = dt.date(2026, 9, 7)


def weeks(*counts: tuple[int, int, int]) -> list[Week]:
    """Weeks of (done, missed, extra)."""
    return [
        Week(
            monday=FIRST + dt.timedelta(weeks=n),
            promised=done + missed,
            done=done,
            missed=missed,
            extra=extra,
        )
        for n, (done, missed, extra) in enumerate(counts)
    ]


@pytest.mark.parametrize(
    ("past", "named"),
    [
        ([], ()),
        ([(3, 0, 0)], ()),
        ([(3, 0, 0)] * 3, ("3 promises kept in a row",)),
        ([(3, 0, 0)] * 5, ()),
        ([(3, 0, 0)] * 2 + [(0, 0, 0)] + [(3, 0, 0)], ("3 promises kept in a row",)),
        ([(3, 0, 0), (1, 2, 0), (3, 0, 0)], ("kept again after a week that was not",)),
        ([(3, 0, 0), (3, 0, 0), (2, 1, 0), (4, 1, 0)], ("4 sessions, the most in a week so far",)),
        ([(2, 0, 0), (2, 0, 1)], ("the first extra",)),
        ([(2, 0, 1), (2, 0, 1)], ()),
        ([(3, 0, 0)] * 3 + [(0, 0, 0)], ()),
        ([(2, 1, 0), (1, 2, 0)], ()),
    ],
)
def test_what_went_well_is_named(past: list[tuple[int, int, int]], named: tuple[str, ...]) -> None:
    assert wins(weeks(*past)) == named
