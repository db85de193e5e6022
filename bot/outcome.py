"""What an exception from a send means. The only place that knows Telegram's errors and their phrases."""

import datetime as dt
import re
from dataclasses import dataclass
from typing import TypeAlias

import httpx
from telegram.error import (
    BadRequest,
    ChatMigrated,
    Forbidden,
    InvalidToken,
    NetworkError,
    RetryAfter,
    TelegramError,
)


@dataclass(frozen=True, slots=True)
class Sent:
    """The server took it (or an edit changed nothing: as good as sent)."""

    message_id: int | None


@dataclass(frozen=True, slots=True)
class NotSent:
    """Certainly not: it never left, for a reason that has nothing to do with this message."""

    why: str


@dataclass(frozen=True, slots=True)
class Refused:
    """Certainly not: the server asks us to wait."""

    retry_after: dt.timedelta


@dataclass(frozen=True, slots=True)
class Unreachable:
    """Blocked, gone, or never there."""

    why: str


@dataclass(frozen=True, slots=True)
class Moved:
    """The chat has another id now."""

    to: int


@dataclass(frozen=True, slots=True)
class Unparsed:
    """The markup of this text is broken; as plain text it may go."""


@dataclass(frozen=True, slots=True)
class Rejected:
    """The server will never take this message."""

    why: str


@dataclass(frozen=True, slots=True)
class Misconfigured:
    """The token or the address is wrong: no message would be taken."""

    why: str


@dataclass(frozen=True, slots=True)
class Uncertain:
    """It may have arrived."""

    why: str


Outcome: TypeAlias = (
    Sent | NotSent | Refused | Unreachable | Moved | Unparsed | Rejected | Misconfigured | Uncertain
)

# Raised before a byte of the request was written.
_NEVER_LEFT = (
    httpx.PoolTimeout,
    httpx.ConnectTimeout,
    httpx.ConnectError,
    httpx.UnsupportedProtocol,
    httpx.InvalidURL,
)

_GONE = re.compile(
    r"chat not found|user is deactivated|bot was (blocked|kicked)|chat_id is empty|peer_id_invalid",
    re.IGNORECASE,
)
_UNCHANGED = re.compile(r"message is not modified", re.IGNORECASE)
_UNPARSED = re.compile(r"can't parse (message text|caption|entities)|can't parse entities", re.IGNORECASE)
_TOO_MANY = re.compile(r"too many requests", re.IGNORECASE)
_QUOTED = re.compile(r'"[^"]*"?')
_TOO_LARGE = re.compile(r"request entity too large|\(413\)", re.IGNORECASE)

# When the server says 'too many' without saying how long.
UNSAID_RETRY_AFTER = dt.timedelta(seconds=5)


def outcome_of(error: Exception) -> Outcome:
    """The order matters: BadRequest and TimedOut are NetworkErrors too."""
    match error:
        case RetryAfter():
            return Refused(_as_timedelta(error.retry_after))
        case Forbidden():
            return Unreachable(_discreet(error.message))
        case ChatMigrated():
            return Moved(error.new_chat_id)
        case InvalidToken():
            return Misconfigured("the server does not know this token")
        case BadRequest():
            return _of_bad_request(error.message)
        case NetworkError():
            return _of_network_error(error)
        case TelegramError():  # a 200 whose body is not JSON, among others
            return Uncertain(type(error).__name__)
        case _:
            return Uncertain(f"unexpected {type(error).__name__}")


def _of_bad_request(message: str) -> Outcome:
    if _UNCHANGED.search(message):
        return Sent(None)
    if _UNPARSED.search(message):
        return Unparsed()
    if _GONE.search(message):
        return Unreachable(_discreet(message))
    return Rejected(_discreet(message))


def _discreet(message: str) -> str:
    """What the server said, without what it quotes: that may be a person's words."""
    return _QUOTED.sub('"..."', message)


def _of_network_error(error: NetworkError) -> Outcome:
    cause = error.__cause__
    if isinstance(cause, _NEVER_LEFT):
        return NotSent(type(cause).__name__)
    if _TOO_MANY.search(error.message):
        return Refused(UNSAID_RETRY_AFTER)
    if _TOO_LARGE.search(error.message):
        return Rejected("the message is too large")
    return Uncertain(type(cause).__name__ if cause is not None else type(error).__name__)


def _as_timedelta(value: dt.timedelta | int) -> dt.timedelta:
    return value if isinstance(value, dt.timedelta) else dt.timedelta(seconds=value)
