import pytest

from core.digest.audit import audit_line, in_ten
from core.digest.facts import Audit


@pytest.mark.parametrize(
    ("odds", "words"),
    [
        (0.99, "nearly sure"),
        (0.95, "nearly sure"),
        (0.94, "9 in 10"),
        (0.8, "8 in 10"),
        (0.79, "7 in 10"),  # not enough where 8 in 10 are asked for
        (0.3, "3 in 10"),
        (0.06, "1 in 10"),
        (0.04, "hardly"),
    ],
)
def test_odds_are_told_in_tens(odds: float, words: str) -> None:
    assert in_ten(odds) == words


@pytest.mark.parametrize(
    ("audit", "ends"),
    [
        (Audit(0.8, 41, 52), "given about 8 in 10, 41 were kept: as often as forecast."),
        (Audit(0.8, 52, 52), "52 were kept: more often than forecast."),
        (Audit(0.8, 20, 52), "20 were kept: less often than forecast."),
    ],
)
def test_the_audit_says_whether_the_odds_came_true(audit: Audit, ends: str) -> None:
    line = audit_line(audit)
    assert line is not None
    assert line.endswith(ends)


def test_the_audit_says_nothing_of_a_few() -> None:
    assert audit_line(Audit(0.8, 0, 9)) is None
