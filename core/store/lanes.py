"""What is sent, by kind: who goes first, when it is stale, and whether it is sent again when it may have arrived.

Said once, here, as data. Telegram's send has no idempotency key: a message cut off in the middle may have arrived. One that
asks for something is then not sent again (two prompts would be a fault, a missing one is only a gentle day); one that
somebody waits for, or that keeps somebody safe, is.
"""

import datetime as dt
import enum
from collections.abc import Mapping
from dataclasses import dataclass


class Lane(enum.IntEnum):
    """Whoever is in a lower lane goes first, always: a person never waits for a broadcast."""

    SAFETY = 0
    REPLY = 1
    PERSON = 2  # from one person to another, through us
    PROMPT = 3
    DIGEST = 4


class Kind(enum.StrEnum):
    REPLY = "reply"
    CONFIRMATION = "confirmation"
    PROMPT = "prompt"
    FOLLOW_UP = "follow_up"
    WEEKLY = "weekly"
    SLEEP = "sleep"
    DIGEST = "digest"
    SETTLE = "settle"
    SAFETY = "safety"
    COACH_NOTE = "coach_note"
    SESSION = "session"
    OFFER = "offer"
    EDIT = "edit"


@dataclass(frozen=True, slots=True)
class Policy:
    """:param expires_after: stale that long after it was due, unless the message says otherwise; None: never."""

    lane: Lane
    expires_after: dt.timedelta | None
    resend_if_uncertain: bool


_HOUR = dt.timedelta(hours=1)

POLICIES: Mapping[Kind, Policy] = {
    Kind.SAFETY: Policy(Lane.SAFETY, None, resend_if_uncertain=True),
    Kind.REPLY: Policy(Lane.REPLY, 24 * _HOUR, resend_if_uncertain=True),
    Kind.CONFIRMATION: Policy(Lane.REPLY, 24 * _HOUR, resend_if_uncertain=True),
    Kind.EDIT: Policy(Lane.REPLY, 24 * _HOUR, resend_if_uncertain=True),
    Kind.COACH_NOTE: Policy(Lane.PERSON, 7 * 24 * _HOUR, resend_if_uncertain=True),
    Kind.SESSION: Policy(Lane.PERSON, 24 * _HOUR, resend_if_uncertain=True),
    Kind.PROMPT: Policy(Lane.PROMPT, 6 * _HOUR, resend_if_uncertain=False),
    Kind.FOLLOW_UP: Policy(Lane.PROMPT, 6 * _HOUR, resend_if_uncertain=False),
    Kind.WEEKLY: Policy(Lane.PROMPT, 24 * _HOUR, resend_if_uncertain=False),
    Kind.SLEEP: Policy(Lane.PROMPT, 6 * _HOUR, resend_if_uncertain=False),
    Kind.OFFER: Policy(Lane.PROMPT, 12 * _HOUR, resend_if_uncertain=False),
    Kind.DIGEST: Policy(Lane.DIGEST, 48 * _HOUR, resend_if_uncertain=True),
    Kind.SETTLE: Policy(Lane.DIGEST, 48 * _HOUR, resend_if_uncertain=True),
}


class State(enum.StrEnum):
    """Where a message of the outbox stands.

    ::

        waiting --claim--> sending --> sent | uncertain | dead | unreachable
           |                  '--> waiting (certainly not sent; or uncertain, and of a kind that is sent again)
           '--> expired (stale, or no longer true)
    """

    WAITING = "waiting"
    SENDING = "sending"
    SENT = "sent"
    UNCERTAIN = "uncertain"
    EXPIRED = "expired"
    DEAD = "dead"
    UNREACHABLE = "unreachable"
