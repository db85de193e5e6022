"""Every exception of a send, and what it means: the table of the sender's judgement."""

import datetime as dt

import httpx
import pytest
from telegram.error import (
    BadRequest,
    ChatMigrated,
    Conflict,
    Forbidden,
    InvalidToken,
    NetworkError,
    RetryAfter,
    TelegramError,
    TimedOut,
)

from bot.outcome import (
    Misconfigured,
    Moved,
    NotSent,
    Outcome,
    Refused,
    Rejected,
    Sent,
    Uncertain,
    Unparsed,
    Unreachable,
    outcome_of,
)


def caused(error: TelegramError, cause: Exception) -> TelegramError:
    error.__cause__ = cause
    return error


@pytest.mark.parametrize(
    ("error", "outcome"),
    [
        (caused(TimedOut(), httpx.PoolTimeout("")), NotSent("PoolTimeout")),
        (caused(TimedOut(), httpx.ConnectTimeout("")), NotSent("ConnectTimeout")),
        (caused(NetworkError("x"), httpx.ConnectError("")), NotSent("ConnectError")),
        (caused(TimedOut(), httpx.ReadTimeout("")), Uncertain("ReadTimeout")),
        (caused(TimedOut(), httpx.WriteTimeout("")), Uncertain("WriteTimeout")),
        (caused(NetworkError("x"), httpx.ReadError("")), Uncertain("ReadError")),
        (caused(NetworkError("x"), httpx.RemoteProtocolError("")), Uncertain("RemoteProtocolError")),
        (NetworkError("Bad Gateway"), Uncertain("NetworkError")),
        (TelegramError("Invalid server response"), Uncertain("TelegramError")),
        (ValueError("a slip"), Uncertain("unexpected ValueError")),
        (RetryAfter(dt.timedelta(seconds=3)), Refused(dt.timedelta(seconds=3))),
        (NetworkError("Too Many Requests"), Refused(dt.timedelta(seconds=5))),
        (NetworkError("Request Entity Too Large (413)"), Rejected("the message is too large")),
        (Forbidden("bot was blocked by the user"), Unreachable("Forbidden: bot was blocked by the user")),
        (BadRequest("Chat not found"), Unreachable("Chat not found")),
        (ChatMigrated(-100500), Moved(-100500)),
        (BadRequest("Message is not modified: ..."), Sent(None)),
        (BadRequest("Can't parse entities: unsupported"), Unparsed()),
        (BadRequest('Wrong "Tom\'s knee" here'), Rejected('Wrong "..." here')),
        (InvalidToken("x"), Misconfigured("the server does not know this token")),
        (Conflict("x"), Uncertain("Conflict")),
    ],
    ids=str,
)
def test_what_an_exception_means(error: Exception, outcome: Outcome) -> None:
    judged = outcome_of(error)
    if isinstance(outcome, Unreachable) and isinstance(judged, Unreachable):
        assert judged.why.endswith(outcome.why.removeprefix("Forbidden: "))
    else:
        assert judged == outcome
