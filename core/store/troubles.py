"""What goes wrong between us and a database, as whoever operates it is told: what it is, and what to do."""

import socket
import sqlite3

from sqlalchemy.exc import DataError, DBAPIError, IntegrityError, ProgrammingError

# Words of SQLite's own, and what they mean.
_OF_SQLITE = {
    "locked": "The database is locked: another process is writing to it for longer than we wait. Try again; if that stays, "
    "see which process has the file open.",
    "not a database": "The database file is damaged, or is none: put the latest backup in its place with 'keptword restore FILE'.",
    "malformed": "The database file is damaged: put the latest backup in its place with 'keptword restore FILE'.",
    "readonly": "The database file cannot be written: give it, and its folder, to the user who runs Keptword.",
    "unable to open": "The database file cannot be opened: give it, and its folder, to the user who runs Keptword.",
    "full": "The disk is full: nothing more is stored. Make room, then start Keptword again.",
    "disk i/o": "The disk fails under the database: copy its folder to another one, then look at the disk.",
}
# Errors of asyncpg by their names, since it is not needed for SQLite.
_OF_POSTGRESQL = {
    "InvalidPasswordError": "The database does not take the password in KEPTWORD_DATABASE_URL.",
    "InvalidAuthorizationSpecificationError": "The database does not know the user in KEPTWORD_DATABASE_URL.",
    "InvalidCatalogNameError": "There is no database of that name on the server: create it, or mend KEPTWORD_DATABASE_URL.",
    "InsufficientPrivilegeError": "The user in KEPTWORD_DATABASE_URL may not do that: make it the owner of the database.",
    "CannotConnectNowError": "The database server is starting or stopping: try again in a moment.",
    "TooManyConnectionsError": "The database server has no connection left: raise max_connections, or stop a worker.",
}
_NO_ANSWER = "The database server does not answer: is it running, and is KEPTWORD_DATABASE_URL right?"
_UNREACHABLE = (ConnectionError, socket.gaierror, TimeoutError)


# What was asked of the database was wrong: asking again would not mend it.
_OURS = (IntegrityError, DataError, ProgrammingError)


def will_pass(error: BaseException) -> bool:
    """Whether it is the database's own trouble (locked, away, a deadlock): the same may go well a little later."""
    return what_to_do(error) is not None and not isinstance(error, _OURS)


def what_to_do(error: BaseException) -> str | None:
    """A sentence for an error that a database, or the way to it, has raised; None for any other."""
    cause = error.orig if isinstance(error, DBAPIError) and error.orig is not None else error
    for each in (cause, cause.__cause__):
        name = type(each).__name__
        if name in _OF_POSTGRESQL:
            return _OF_POSTGRESQL[name]
    if isinstance(cause, _UNREACHABLE):
        return _NO_ANSWER
    if not isinstance(error, DBAPIError | sqlite3.Error):
        return None
    said = str(cause).lower()
    known = next((meaning for words, meaning in _OF_SQLITE.items() if words in said), None)
    return known or f"The database failed ({type(cause).__name__}). 'keptword doctor' looks at it."
