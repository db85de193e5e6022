"""What a spreadsheet is, by the names of its columns."""

import enum
from collections.abc import Sequence

from core.adherence.history import COLUMNS as OF_HISTORY
from core.programme.sheets.cells import Sheet
from core.programme.sheets.programme import COLUMNS as OF_PROGRAMME
from core.programme.year.coming_up import COLUMNS as OF_YEAR

_FEWEST = 3  # columns that must be named before we believe it


class SheetKind(enum.StrEnum):
    PROGRAMME = "programme"
    HISTORY = "history"
    YEAR = "year"


_COLUMNS = {
    SheetKind.PROGRAMME: frozenset(OF_PROGRAMME),
    SheetKind.HISTORY: frozenset(OF_HISTORY),
    SheetKind.YEAR: frozenset(OF_YEAR),
}


def kind_of(sheets: Sequence[Sheet]) -> SheetKind | None:
    """The kind most of whose columns its first filled row names; None where that is none of them."""
    header = next((row for sheet in sheets for row in sheet.rows if row), ())
    named = {str(value).strip().casefold() for value in header if value is not None}
    known = {kind: len(named & columns) for kind, columns in _COLUMNS.items()}
    best = max(known, key=lambda kind: known[kind])
    return best if known[best] >= _FEWEST else None
