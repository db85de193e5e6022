"""People whose rows cannot be read: a zone that the data no longer knows, a word that no list holds, text sealed with another key.

Nobody else is kept waiting by them. Of whom that is so, and why, is said in words that fit a sentence.
"""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError

from core.calendar.zones import UnknownZone
from core.store.cipher import LostKey
from core.store.troubles import will_pass


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


@contextmanager
def left_out() -> Iterator[None]:
    """Around what is done for one of many: who cannot be read is left out of it."""
    try:
        yield
    except Exception as error:  # noqa: BLE001 - whatever it is, the others go on
        reason(error)
