"""Whether past forecasts came true, in a sentence under the digest."""

from core.adherence.scoring import wilson
from core.digest.facts import Audit

_ENOUGH = 10  # promises, under which nothing is said


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
    return f"Of {audit.given} promises given about {in_ten(audit.said)}, {audit.kept} were kept: {fits}."


def in_ten(odds: float) -> str:
    """Odds as people say them: '8 in 10'; at the ends 'nearly sure' and 'hardly'."""
    tenths = round(odds * 10)
    return "nearly sure" if odds >= 0.95 else "hardly" if odds < 0.05 else f"{max(1, tenths)} in 10"
