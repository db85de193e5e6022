"""Lengths of time in plain words, in minutes."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

_N = r"\d{1,3}(?:\.\d{1,2})?"
_TO = r"(?:-|to|or|and)"
_ADJECTIVE = r"(?:good|solid|hard|easy|full|whole|long|decent|tough|quick|sweaty|intense|proper)"
DURATION = re.compile(
    rf"""(?<![\d.:/])(?:
      (?P<times>[2-4])\ ?x\ ?(?P<each>\d{{2}})\ min\b
    | (?P<h>\d{{1,2}})h(?P<m>\d\d)\b
    | (?P<lo>{_N})\ (?:(?:min|hour)\ (?!and\ ))?{_TO}\ (?P<hi>{_N})\ (?P<range_unit>min|hour)\b
    | (?P<n>{_N})\ (?:{_ADJECTIVE}\ )?(?P<unit>min|hour)\b(?:\ and\ (?:a\ )?(?P<more>half|quarter)\b)?
    | (?P<part>half|a\ quarter\ of|quarter\ of|3\ quarters\ of)\ (?:an?\ )?hour\b
    | (?:an?|1)\ hour\ and\ (?P<over>[1-5]?[05])(?:\ min)?\b
    | (?P<an>an?|1|the(?=\ (?:full|whole|entire)\ hour)|(?<!\S)(?=hour\ and\ a))\ ?(?:full\ |whole\ |entire\ |good\ |solid\ )?hour\b(?:\ and\ (?:a\ )?(?P<an_more>half|quarter)\b)?
    | (?P<couple>a\ couple\ of|a\ couple)\ hour\b
    )""",
    re.VERBOSE,
)
_PART_MINUTES = {
    "half": 30.0,
    "a quarter of": 15.0,
    "quarter of": 15.0,
    "3 quarters of": 45.0,
    "quarter": 15.0,
}
_MINUTES = {"min": 1.0, "hour": 60.0}


@dataclass(frozen=True, slots=True)
class Length:
    """A length in minutes and where it stands in the text."""

    minutes: float
    start: int
    end: int


def lengths(text: str) -> Iterator[Length]:
    for found in DURATION.finditer(text):
        start = found.start("hi") if _is_no_range(found) else found.start()
        yield Length(_minutes(found), start, found.end())


def _is_no_range(found: re.Match[str]) -> bool:
    """'Effort 7 - 40 min' is a seven and forty minutes."""
    return bool(found["lo"]) and not float(found["lo"]) < float(found["hi"]) <= 3 * float(found["lo"])


def _minutes(found: re.Match[str]) -> float:
    if found["over"]:
        return 60.0 + int(found["over"])
    if found["times"]:
        return float(found["times"]) * float(found["each"])
    if found["h"]:
        return 60.0 * int(found["h"]) + int(found["m"])
    if found["lo"] and _is_no_range(found):
        return float(found["hi"]) * _MINUTES[found["range_unit"]]
    if found["lo"]:
        return (float(found["lo"]) + float(found["hi"])) / 2 * _MINUTES[found["range_unit"]]
    if found["n"]:
        return float(found["n"]) * _MINUTES[found["unit"]] + _PART_MINUTES.get(found["more"] or "", 0.0)
    if found["part"]:
        return _PART_MINUTES[found["part"]]
    return 120.0 if found["couple"] else 60.0 + _PART_MINUTES.get(found["an_more"] or "", 0.0)
