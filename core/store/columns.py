"""Types of columns: instants that are always aware and in UTC, and words that are sealed on their way to the disk.

A sealed type is declared at import time, when no key is known. The key reaches it through the dialect, which is SQLAlchemy's
own object of one engine: whoever opens an engine binds a cipher to its dialect (`bind_cipher`), so that two engines in one
process may use two keys and nothing is global.
"""

import datetime as dt
import json
from collections.abc import Mapping, Sequence
from typing import TypeAlias, cast

from sqlalchemy import DateTime, Dialect, Text
from sqlalchemy.types import TypeDecorator
from typing_extensions import override

from core.errors import Fault
from core.store.cipher import Cipher

Json: TypeAlias = "bool | int | float | str | Sequence[Json] | Mapping[str, Json] | None"

_ATTRIBUTE = "keptword_cipher"


def bind_cipher(dialect: Dialect, cipher: Cipher) -> None:
    """Let the sealed columns of this dialect's engine seal and open with ``cipher``."""
    setattr(dialect, _ATTRIBUTE, cipher)


def _cipher_of(dialect: Dialect) -> Cipher:
    cipher = getattr(dialect, _ATTRIBUTE, None)
    if not isinstance(cipher, Cipher):
        raise Fault(
            "A sealed column was used on an engine that has no data key: open the store with open_store."
        )
    return cipher


class UTCDateTime(TypeDecorator[dt.datetime]):
    """An instant. SQLite would drop the offset and asyncpg would guess the machine's zone: so naive values are rejected."""

    impl = DateTime(timezone=True)
    cache_ok = True

    @override
    def process_bind_param(self, value: dt.datetime | None, dialect: Dialect) -> dt.datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise TypeError("an instant must say its zone")
        return value.astimezone(dt.UTC)

    @override
    def process_result_value(self, value: dt.datetime | None, dialect: Dialect) -> dt.datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=dt.UTC) if value.tzinfo is None else value.astimezone(dt.UTC)


class SealedText(TypeDecorator[str]):
    """Words that nobody reads without the key. They can be stored and fetched, not searched."""

    impl = Text
    cache_ok = True

    @override
    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        return None if value is None else _cipher_of(dialect).seal(value)

    @override
    def process_result_value(self, value: str | None, dialect: Dialect) -> str | None:
        return None if value is None else _cipher_of(dialect).open(value)


class SealedJson(TypeDecorator[Json]):
    """A JSON value, sealed whole. Python's None is SQL's NULL."""

    impl = Text
    cache_ok = True

    @override
    def process_bind_param(self, value: Json, dialect: Dialect) -> str | None:
        return None if value is None else _cipher_of(dialect).seal(json.dumps(value, separators=(",", ":")))

    @override
    def process_result_value(self, value: str | None, dialect: Dialect) -> Json:
        return None if value is None else cast("Json", json.loads(_cipher_of(dialect).open(value)))
