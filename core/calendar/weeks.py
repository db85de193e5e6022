"""ISO weeks: Monday to Sunday, numbered as ISO 8601 numbers them."""

import datetime as dt
import re
from dataclasses import dataclass
from typing import Self

from typing_extensions import override

from core.errors import Refused

_WRITTEN = re.compile(r"(\d{4})-W(\d{2})")


@dataclass(frozen=True, order=True, slots=True)
class IsoWeek:
    """A week of the ISO calendar. Its year is the one that its Thursday lies in."""

    year: int
    week: int

    def __post_init__(self) -> None:
        dt.date.fromisocalendar(self.year, self.week, 1)  # refuses a week that the year has not

    @classmethod
    def of(cls, day: dt.date) -> Self:
        """The week that a date lies in."""
        year, week, _ = day.isocalendar()
        return cls(year, week)

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read '2026-W48'; anything else is refused."""
        written = _WRITTEN.fullmatch(text.strip())
        try:
            if written:
                return cls(int(written[1]), int(written[2]))
        except ValueError:
            pass
        raise Refused(f"'{text}' is not an ISO week: write a year and a week that it has, such as 2026-W48.")

    @property
    def monday(self) -> dt.date:
        return dt.date.fromisocalendar(self.year, self.week, 1)

    @property
    def sunday(self) -> dt.date:
        return dt.date.fromisocalendar(self.year, self.week, 7)

    def days(self) -> tuple[dt.date, ...]:
        """Monday to Sunday."""
        return tuple(self.monday + dt.timedelta(days=n) for n in range(7))

    def next(self) -> Self:
        return self.plus(1)

    def previous(self) -> Self:
        return self.plus(-1)

    def plus(self, weeks: int) -> Self:
        """The week so many weeks later; earlier, if negative."""
        return self.of(self.monday + dt.timedelta(weeks=weeks))

    def __contains__(self, day: dt.date) -> bool:
        return self.monday <= day <= self.sunday

    @override
    def __str__(self) -> str:
        return f"{self.year:04}-W{self.week:02}"
