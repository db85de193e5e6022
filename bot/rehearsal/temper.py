"""How somebody is, and what they make of a session: the law by which invented people live.

It is the rehearsal's own. The forecast knows nothing of it and must find out from what people say.
"""

import enum
import math
import random
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Temper:
    """Chances lie between 0 and 1. ``will``, ``strain`` and ``away`` are log odds and are added up."""

    will: float  # that the one session of a promise of one takes place, at home
    strain: float = 0.25  # what each further session of the promise takes off
    away: float = 0.5  # what being on the road takes off
    answers: float = 0.93  # that a prompt is answered at all
    words: float = 0.3  # that an answer is written rather than tapped
    slow: float = 15.0  # median minutes until an answer
    takes_days: float = 0.75  # that the weekly message is answered
    drifts: float = 0.005  # that a week begins a silence
    returns: float = 0.35  # that a silent week ends it
    colds: float = 0.03  # that a week brings one
    extras: float = 0.08  # that a week brings a session nobody asked for
    wonders: float = 0.05  # that a week brings a question
    wanders: float = 0.04  # that a week brings a trip that is told in words
    pauses: float = 0.006  # that a week brings a pause
    stops: float = 0.0  # that somebody says stop, and comes back some days later
    blocks: float = 0.0  # that somebody blocks the bot for some days
    hurts: float = 0.03  # that something hurts
    # That a week brings a sign of danger; a figure of speech is as likely four times over.
    alarms: float = 0.003
    muddles: float = 0.04  # that an answer is given twice, or two that contradict each other


class Ending(enum.StrEnum):
    """What becomes of one session, before anybody says a word about it."""

    DONE = "done"
    SHORT = "short"
    MISSED = "missed"
    MOVED = "moved"


SHORT_SHARE, MOVED_SHARE = 0.12, 0.35


def chance_of_training(temper: Temper, *, promised: int, away: bool) -> float:
    """The probability that one session takes place."""
    log_odds = temper.will - temper.strain * (max(promised, 1) - 1) - temper.away * away
    return 1 / (1 + math.exp(-log_odds))


def ending_of(temper: Temper, chance: random.Random, *, promised: int, away: bool) -> Ending:
    if chance.random() < chance_of_training(temper, promised=promised, away=away):
        return Ending.SHORT if chance.random() < SHORT_SHARE else Ending.DONE
    return Ending.MOVED if chance.random() < MOVED_SHARE else Ending.MISSED


def minutes_until_answer(temper: Temper, chance: random.Random, *, away: bool) -> float:
    """How long a message lies about: mostly minutes, at times a flight."""
    if chance.random() < (0.12 if away else 0.03):
        return chance.uniform(240, 1100)
    return min(chance.lognormvariate(math.log(temper.slow), 0.9), 600.0)
