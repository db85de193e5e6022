"""People whose rows cannot be read: a zone that the data no longer knows, a word that no list holds, text sealed with another key.

Nobody else is kept waiting by them. Of whom that is so, and why, is said in words that fit a sentence.
"""

import logging
from contextlib import AbstractContextManager

from sqlalchemy.exc import DBAPIError
from typing_extensions import override

from core.calendar.zones import UnknownZone
from core.store.cipher import LostKey
from core.store.troubles import will_pass

log = logging.getLogger(__name__)


def reason(error: Exception) -> str:
    """What is wrong with somebody's rows, by what reading them raised; the database's own trouble is raised again."""
    if isinstance(error, DBAPIError) or will_pass(error):
        raise error
    match error:
        case UnknownZone():
            return f"the time zone '{error.name}' is not known"
        case LostKey():
            return "it was sealed with another data key"
        case _:
            return f"something stored makes no sense ({type(error).__name__})"


class left_out(AbstractContextManager[None]):  # noqa: N801 - read as the words that it stands for
    """Around what is done for one of many: ``who`` cannot be read is left out of it, and the log says so."""

    def __init__(self, who: str) -> None:
        self._who = who

    @override
    def __exit__(self, kind: object, error: BaseException | None, trace: object) -> bool:
        if not isinstance(error, Exception):
            return False
        reason(error)
        log.warning("%s cannot be read, and is left out", self._who, exc_info=error)
        return True
