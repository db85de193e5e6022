"""A programme as a spreadsheet: a row an exercise. Read whole, or refused whole with every bad cell named."""

import dataclasses
import datetime as dt
import re
from collections.abc import Callable, Iterable, Sequence

from rapidfuzz import fuzz, process, utils

from core.errors import Refused
from core.programme.movements import Library
from core.programme.session import Session
from core.programme.sheets.cells import Sheet, Value, cell_name, read_sheets, write_csv, write_xlsx
from core.terms import Block

COLUMNS = (
    "block",
    "week",
    "session",
    "exercise",
    "sets",
    "repetitions",
    "unit",
    "rir",
    "rest_s",
    "kg",
    "note",
)
UNITS = ("repetitions", "repetitions a side", "seconds", "seconds a side", "metres", "metres a side")
SHEET = "Programme"
LONGEST_NOTE = 500
MOST_EXERCISES = 2_000  # of one programme
_NEAR_ENOUGH = 70  # of 100, below which a suggestion would only confuse
_RANGE = re.compile(r"(\d{1,3})(?:\s*(?:-|–|to)\s*(\d{1,3}))?")


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammeRow:
    """One exercise of one session of one week of a block (weeks and sessions from 1)."""

    block: Block
    week: int
    session: int
    exercise: str
    sets: int
    low: int
    high: int
    unit: str = UNITS[0]
    rir: int | None = None
    rest_s: int | None = None
    kg: float | None = None
    note: str = ""


def rows_of(session: Session, week: int, number: int) -> list[ProgrammeRow]:
    """The exercises of a built session as rows."""
    return [
        ProgrammeRow(
            block=session.block,
            week=week,
            session=number,
            exercise=each.name,
            sets=each.sets,
            low=each.low,
            high=each.high,
            unit=each.unit,
            rir=each.rir,
            rest_s=each.rest_s,
            kg=each.kg,
            note=f"in turns with {each.alternates_with}" if each.alternates_with else "",
        )
        for each in session.exercises
    ]


def programme_xlsx(rows: Iterable[ProgrammeRow]) -> bytes:
    return write_xlsx([Sheet(SHEET, tuple(_table(rows)))])


def programme_csv(rows: Iterable[ProgrammeRow]) -> bytes:
    return write_csv(_table(rows))


def _table(rows: Iterable[ProgrammeRow]) -> list[tuple[Value, ...]]:
    """Repetitions are written '8 to 12': spreadsheet programs make a date of '8-12'."""
    return [COLUMNS, *(_cells(row) for row in rows)]


def _cells(row: ProgrammeRow) -> tuple[Value, ...]:
    many = str(row.low) if row.low == row.high else f"{row.low} to {row.high}"
    known = {**{name: getattr(row, name) for name in COLUMNS if name != "repetitions"}, "repetitions": many}
    known["block"], known["note"] = str(row.block), row.note or None
    return tuple(known[name] for name in COLUMNS)


def read_programme(content: bytes, name: str, library: Library) -> tuple[ProgrammeRow, ...]:
    """The rows of all sheets of a file. ``Refused`` has a line for every bad cell: sheet, row, column, and what to do."""
    return programme_from(read_sheets(content, name), name, library)


def programme_from(sheets: Sequence[Sheet], name: str, library: Library) -> tuple[ProgrammeRow, ...]:
    """Like :func:`read_programme`, from sheets that were read."""
    faults: list[str] = []
    rows = [row for sheet in sheets for row in _sheet_rows(sheet, library, faults)]
    if len(rows) > MOST_EXERCISES:
        faults.append(f"{name} has {len(rows)} exercises; up to {MOST_EXERCISES} can be taken in: split it.")
    if not rows and not faults:
        faults.append(f"{name} has no exercises. The columns are {', '.join(COLUMNS)}; a row is an exercise.")
    if faults:
        raise Refused(*faults)
    return tuple(rows)


def _sheet_rows(sheet: Sheet, library: Library, faults: list[str]) -> list[ProgrammeRow]:
    filled = [
        (number, row) for number, row in enumerate(sheet.rows) if any(value is not None for value in row)
    ]
    if not filled:
        return []
    (at, header), *rest = filled
    places = _places(sheet.name, at, header, faults)
    if not places:
        return []
    read = [_Row(sheet.name, number, row, places, faults).read(library) for number, row in rest]
    return [row for row in read if row is not None]


def _places(sheet: str, at: int, header: Sequence[Value], faults: list[str]) -> dict[str, int]:
    """Where each column stands; empty where one is missing, unknown or there twice."""
    names = [str(value or "").strip().casefold() for value in header]
    wrong = [
        f"{cell_name(sheet, at, place)}: there is no column '{name}'; the columns are {', '.join(COLUMNS)}."
        for place, name in enumerate(names)
        if name and (name not in COLUMNS or names.index(name) != place)
    ]
    missing = [name for name in COLUMNS[:6] if name not in names]
    if missing:
        wrong.append(
            f"sheet {sheet}, row {at + 1}: the column{'s' * (len(missing) > 1)} {', '.join(missing)} must be there."
        )
    faults += wrong
    return {} if wrong else {name: place for place, name in enumerate(names) if name}


class _Row:
    """One row while it is read: every bad cell adds a line to the faults."""

    def __init__(
        self, sheet: str, number: int, row: Sequence[Value], places: dict[str, int], faults: list[str]
    ) -> None:
        self._sheet, self._number, self._row, self._places, self._faults = sheet, number, row, places, faults
        self._sound = True

    def read(self, library: Library) -> ProgrammeRow | None:
        low, high = self._range()
        known = {
            "block": self._word("block", [str(block) for block in Block]),
            "week": self._whole("week", 1, 104),
            "session": self._whole("session", 1, 14),
            "exercise": self._exercise(library),
            "sets": self._whole("sets", 1, 12),
            "unit": self._word("unit", UNITS, default=UNITS[0]),
            "rir": self._whole("rir", 0, 10, needed=False),
            "rest_s": self._whole("rest_s", 0, 900, needed=False),
            "kg": self._number_of("kg", 0, 600, needed=False),
            "note": self._note(),
        }
        if not self._sound:
            return None
        return ProgrammeRow(**{**known, "block": Block(str(known["block"]))}, low=low, high=high)  # type: ignore[arg-type]

    def _value(self, column: str) -> Value:
        place = self._places.get(column)
        return self._row[place] if place is not None and place < len(self._row) else None

    def _fault(self, column: str, said: str) -> None:
        self._sound = False
        where = cell_name(self._sheet, self._number, self._places.get(column, 0))
        self._faults.append(f"{where} ({column}): {said}")

    def _word(self, column: str, words: Sequence[str], default: str | None = None) -> str | None:
        value = self._value(column)
        if value is None and default is not None:
            return default
        word = str(value if value is not None else "").casefold()
        if word not in words:
            self._fault(column, f"{_shown(value)} is none of {', '.join(words)}.")
        return word

    def _whole(self, column: str, least: int, most: int, *, needed: bool = True) -> int | None:
        number = self._number_of(column, least, most, needed=needed, kind="a whole number")
        if number is not None and number != int(number):
            self._fault(column, f"{_shown(self._value(column))} is not a whole number.")
        return None if number is None else int(number)

    def _number_of(
        self, column: str, least: int, most: int, *, needed: bool, kind: str = "a number"
    ) -> float | None:
        value = self._value(column)
        if value is None and not needed:
            return None
        number = _as_number(value)
        if number is None or not least <= number <= most:
            self._fault(column, f"{_shown(value)} is not {kind} from {least} to {most}.")
            return None
        return number

    def _range(self) -> tuple[int, int]:
        value = self._value("repetitions")
        if isinstance(value, dt.date | dt.datetime):
            self._fault("repetitions", "your spreadsheet program has made a date of it; write '8 to 12'.")
            return 0, 0
        whole = value if isinstance(value, str) else _shortest(_as_number(value))
        found = _RANGE.fullmatch(whole.casefold().strip())
        low, high = (int(found[1]), int(found[2] or found[1])) if found else (0, 0)
        if not 1 <= low <= high:
            self._fault(
                "repetitions", f"{_shown(value)} is not a number such as 8 or a range such as '8 to 12'."
            )
        return low, high

    def _exercise(self, library: Library) -> str | None:
        value = self._value("exercise")
        known = library.by_name.get(str(value or "").casefold())
        if known is not None:
            return known.name
        self._fault("exercise", _unknown(str(value), library) if value is not None else "it is empty.")
        return None

    def _note(self) -> str:
        value = self._value("note")
        note = "" if value is None else str(value)
        if len(note) > LONGEST_NOTE:
            self._fault("note", f"it has {len(note)} characters; {LONGEST_NOTE} are the most.")
        return note


def _unknown(name: str, library: Library) -> str:
    nearest = nearest_exercise(name, library)
    hint = f"did you mean '{nearest}'?" if nearest else "add it as an exercise of your own first."
    return f"there is no exercise '{name[:80]}': {hint}"


def nearest_exercise(name: str, library: Library) -> str | None:
    """The name of the exercise that is spelled most like it, or None where none is near."""
    scorer: Callable[..., float] = fuzz.WRatio
    names = [each.name for each in library]
    found = process.extractOne(
        name, names, scorer=scorer, processor=utils.default_process, score_cutoff=_NEAR_ENOUGH
    )
    return str(found[0]) if found else None


def _as_number(value: Value) -> float | None:
    """A number as a cell holds it, or as somebody typed it, with a decimal comma too."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    try:
        number = float(value.replace(",", ".")) if isinstance(value, str) else float(value)
    except ValueError:
        return None
    return number if number == number and abs(number) != float("inf") else None  # noqa: PLR0124 - nan is not itself


def _shortest(number: float | None) -> str:
    return "" if number is None else f"{number:g}"


def _shown(value: Value) -> str:
    return "an empty cell" if value is None else f"'{str(value)[:40]}'"
