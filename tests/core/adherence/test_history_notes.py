"""What is odd about a history is said, of few by name and of many in number."""

import datetime as dt

from core.adherence.history import by_client
from core.adherence.history_notes import notes
from tests.core.adherence.rows import sunday, weeks

TODAY = sunday(3)


def test_nothing_is_said_of_a_usual_history() -> None:
    assert notes(by_client(weeks("ddd", "dme")), sunday(1), TODAY) == []


def test_outcomes_of_days_to_come_are_named_up_to_the_last_day_known() -> None:
    cohort = by_client(weeks("d", "d", "d", "d", "d", "d"))
    assert notes(cohort, sunday(3), TODAY) == []
    (note,) = notes(cohort, sunday(5), TODAY)
    assert note.startswith(
        f"Note: 2 outcomes are of a day after today, {TODAY}: Noor, rigger 2026-03-30, Noor"
    )


def test_of_many_only_some_are_named() -> None:
    rows = [row for at in range(8) for row in weeks("ee", client=f"rigger {at}")]
    (note,) = notes(by_client(rows), sunday(0), TODAY)
    assert note.endswith("rigger 0, rigger 1, rigger 2, rigger 3, rigger 4 and 3 more.")


def test_who_has_been_asked_for_years_is_named() -> None:
    old = weeks("d", *[""] * 300, "d")
    (note,) = notes(by_client(old), sunday(301), TODAY + dt.timedelta(weeks=300))
    assert "only the last 260 are used: Noor, rigger" in note


def test_a_day_before_everything_is_said_to_be_so() -> None:
    (note,) = notes(by_client(weeks("d")), sunday(-1), TODAY)
    assert "no outcome is known up to" in note
