"""Whether past forecasts came true, in a sentence under the digest."""

import math

from core.adherence.scoring import wilson
from core.digest.facts import Audit

_ENOUGH = 10  # promises, under which nothing is said
ROUNDING = 1e-9  # 0.3 * 10 is a little less than 3


def audit_line(audit: Audit) -> str | None:
    """What became of the promises given at about the same odds, or None while there are too few to tell."""
    if audit.given < _ENOUGH:
        return None
    low, high = wilson(audit.kept, audit.given)
    fits = "as often as forecast"
    if audit.said < low:
        fits = "more often than forecast"
    elif audit.said > high:
        fits = "less often than forecast"
    return (
        f"Of {audit.given} promises given about {about_in_ten(audit.said)}, {audit.kept} were kept: {fits}."
    )


def in_ten(odds: float) -> str:
    """Odds as people say them: '8 in 10'; at the ends 'nearly sure' and 'hardly'.

    Never more than they are: 79 % is 7 in 10, for beside a confidence of 80 % it is not enough.
    """
    return _in_ten(odds, math.floor(odds * 10 + ROUNDING))


def about_in_ten(odds: float) -> str:
    """The nearest tenth, for an average of many."""
    return _in_ten(odds, round(odds * 10))


def _in_ten(odds: float, tenths: int) -> str:
    return "nearly sure" if odds >= 0.95 else "hardly" if odds < 0.05 else f"{max(1, tenths)} in 10"
