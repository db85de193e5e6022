"""One sign of a red flag: its words, what makes them doubtful, and what makes them nothing."""

import re
from dataclasses import dataclass

from core.replies.meaning import Urgency

EXERTION = (
    r"(?:intervals?|sprints?|sprinting|hills?|finisher|burpees?|rower|rowing|run|runs|running|race|"
    r"bike|squats?|deadlifts?|lunges?|circuits?|climb|sled|amrap|cardio|set|sets|round|rounds|session|"
    r"workout|training|conditioning|push ups|pull ups|swim|5 km|10 km|treadmill|ride|cycl\w+|spin|"
    r"skipping|rope)"
)
REST = (
    r"(?:rest|resting|sitting|sat|lying|laying|bed|sleep|asleep|reading|nothing|no reason|night|desk|"
    r"sofa|couch|standing still|without reason|watching tv|all day|all morning|doing nothing|woke|"
    r"just here)"
)
EASY = (
    r"(?:stairs?|walk|walking|walked|flight of|steps|shoes?|shopping|shower|dressed|dishes|bus|gangway|"
    r"companionway|suitcase|bag|bags|mild|easy|slow|small|little effort|talking|eating|standing up|"
    r"getting up|stand up|get up)"
)
HARD_WORK = rf"^(?!.*\b(?:{REST}|{EASY})\b).*\b{EXERTION}\b"
"""Exertion is named, and neither rest nor a mild effort."""


@dataclass(frozen=True, slots=True)
class Sign:
    """Words that are a red flag, and what around them makes them doubtful ('ask'), or nothing at all.

    The words of a sign that is ``spread`` may stand in neighbouring clauses.
    """

    words: re.Pattern[str]
    ask_if: re.Pattern[str] | None = None
    nothing_if: re.Pattern[str] | None = None
    level: Urgency = Urgency.ALARM
    spread: bool = False


def sign(
    words: str,
    *,
    ask_if: str = "",
    nothing_if: str = "",
    level: Urgency = Urgency.ALARM,
    spread: bool = False,
) -> Sign:
    return Sign(re.compile(rf"\b(?:{words})"), _hint(ask_if), _hint(nothing_if), level, spread)


def _hint(words: str) -> re.Pattern[str] | None:
    if not words:
        return None
    return re.compile(words if words.startswith("^") else rf"\b(?:{words})\b")
