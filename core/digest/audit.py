"""Whether past forecasts came true, in a sentence under the digest."""

import math

from core.digest.facts import Audit

_Z = 1.959963984540054  # 95 %, two-sided
_ENOUGH = 10  # promises, under which nothing is said


def wilson(kept: int, given: int) -> tuple[float, float]:
    """The 95 % score interval of a share, ``kept`` of ``given`` (at least one): Wilson 1927, J Am Stat Assoc 22(158):209-212."""
    if not 0 <= kept <= given or given == 0:
        raise ValueError(f"{kept} of {given} is no share")
    share, z2 = kept / given, _Z * _Z
    middle = (share + z2 / (2 * given)) / (1 + z2 / given)
    half = _Z / (1 + z2 / given) * math.sqrt(share * (1 - share) / given + z2 / (4 * given * given))
    return max(0.0, middle - half), min(1.0, middle + half)


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
