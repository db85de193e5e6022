"""The days that a reply names as those of sessions that are over: 'Tuesday done', 'did Mon and Wed, missed Friday'."""

import datetime as dt
import re
from collections.abc import Callable

from core.replies.meaning import Said

_ENDED = frozenset({Said.DONE, Said.SHORT, Said.MISSED})
_NAME = r"(?:yesterday|mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday)?|thu(?:rs?(?:day)?)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?)"
_DAY = re.compile(rf"\b({_NAME})(?:['’]s|s)?\b", re.IGNORECASE)
_AND = r"\s*(?:,|&|\+|\band\b)\s*(?:also |then )?"
_TODAY_AS_WELL = re.compile(rf"\b{_NAME}{_AND}(today)\b|\b(today){_AND}{_NAME}\b", re.IGNORECASE)
_TODAY = re.compile(r"\btoday\b", re.IGNORECASE)
_VERB_LIKE = re.compile(
    r"\b(?:i|we|he|she|just|then|and) sat\b|\bthe sun\b|\bsun (?:was|is)\b", re.IGNORECASE
)
_PIECE = re.compile(r"[,;.!]|\bbut\b|\band (?=(?:i )?(?:missed|skipped|did|done|short|not)\b)", re.IGNORECASE)
_NOTHING_ELSE = re.compile(r"\W*(?:(?:and|both|too|also|on|as|well|the|one|ones|session|sessions)\b\W*)*")
_DID = re.compile(r"\W*(?:i )?(?:did|trained|done)\b(?P<rest>.*)", re.IGNORECASE | re.DOTALL)
_NOT_OVER = re.compile(
    r"\b(?:next|will|going to|gonna|tomorrow|instead|move|moved|can|cannot|can['’]?t|could|until|till|since|by|before|from|for)\b",
    re.IGNORECASE,
)

Read = Callable[[str], Said | None]


def session_days(text: str, today: dt.date, read: Read) -> list[tuple[dt.date, Said]]:
    """List the days up to today that the words name, each with how its session ended, in the order of the days.

    `read` says what a piece of the text means as an answer. Days that stand alone belong to the piece before them, or after.
    """
    found: dict[dt.date, Said] = {}
    waiting: list[dt.date] = []
    ended: Said | None = None
    for piece in _PIECE.split(_VERB_LIKE.sub(" ", text)):
        days = [] if _NOT_OVER.search(piece) else _days_in(piece, today)
        if not _NOTHING_ELSE.fullmatch(_TODAY.sub(" ", _DAY.sub(" ", piece))):
            said = _said(piece, read)
            ended = said if said in _ENDED else None
            if ended is not None:
                found.update(dict.fromkeys(waiting, ended))
            waiting = []
        if ended is None:
            waiting += days
        else:
            found.update(dict.fromkeys(days, ended))
    return sorted(found.items()) if _DAY.search(text) else []  # of today alone the answer speaks anyway


def _days_in(piece: str, today: dt.date) -> list[dt.date]:
    """The days of a piece; today where it stands alone, or beside another: in 'did Monday's today' it is only when."""
    named = [_latest(name, today) for name in _DAY.findall(piece)]
    counts = _TODAY_AS_WELL.search(piece) if named else _TODAY.search(piece)
    return [*named, today] if counts else named


def _said(piece: str, read: Read) -> Said | None:
    """What a piece says became of its sessions: 'did Monday' and no more is done."""
    did = _DID.fullmatch(_TODAY.sub(" ", _DAY.sub(" ", piece))) if _DAY.search(piece) else None
    return Said.DONE if did and _NOTHING_ELSE.fullmatch(did["rest"]) and "?" not in piece else read(piece)


def _latest(name: str, today: dt.date) -> dt.date:
    """The last such day up to today."""
    if name.casefold() == "yesterday":
        return today - dt.timedelta(days=1)
    wanted = ("mon", "tue", "wed", "thu", "fri", "sat", "sun").index(name[:3].casefold())
    return today - dt.timedelta(days=(today.weekday() - wanted) % 7)
