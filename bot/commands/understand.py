"""``keptword understand``: what a client's words would be taken to mean, one text or a file of many."""

import argparse
import datetime as dt
import json
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from core.errors import Refused

if TYPE_CHECKING:
    from core.replies import Asked

HELP = "say what a client's words would be taken to mean"

YEARS = range(1971, 2200)  # in which places have zones and people trips
_LINE_EXAMPLE = '{"id": "1", "asked": "sleep", "text": "about 7", "now": "2026-11-25T12:00:00+00:00", "zone": "Europe/Oslo"}'


def configure(parser: argparse.ArgumentParser) -> None:
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("text", nargs="?", metavar="TEXT", help="what the client wrote")
    what.add_argument(
        "--file", type=Path, metavar="F.jsonl", help='lines {"id", "asked", "text", "now"?, "zone"?}'
    )
    parser.add_argument(
        "--asked",
        choices=("session", "sleep", "effort", "days", "nothing"),
        default="nothing",
        help="what was asked last (default: nothing)",
    )
    parser.add_argument(
        "--now", metavar="T", help="the instant at which the words are read, ISO 8601 (default: this moment)"
    )
    parser.add_argument("--zone", default="UTC", metavar="Z", help="the client's IANA zone (default: UTC)")
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="how to print it (default: text)"
    )


def run(args: argparse.Namespace) -> int:
    now, zone = _instant(args.now, args.zone), _zone(args.zone)
    if args.file is not None:
        for line in _file(args.file, args.asked, now, zone):
            _say(json.dumps(line, ensure_ascii=False))
        return 0
    means = _means(args.text, args.asked, now, zone)
    _say(json.dumps(means, ensure_ascii=False) if args.format == "json" else "\n".join(_in_words(means)))
    return 0


def _means(text: str, asked: "str | Asked", now: dt.datetime, zone: str) -> dict[str, Any]:
    from core.replies import Asked, understand

    return understand(text, asked=Asked(asked), now=now, zone=zone).to_json()


def _in_words(means: dict[str, Any]) -> Iterable[str]:
    """One line a fact."""
    for key, value in means.items():
        if value is True:
            yield key
        elif isinstance(value, list):
            yield f"{key}: {', '.join(map(str, value))}"
        elif isinstance(value, dict):
            yield f"{key}: " + ", ".join(f"{name} {_open(part)}" for name, part in value.items())
        else:
            yield f"{key}: {value}"


def _open(value: object) -> str:
    return "open" if value is None else str(value)


def _file(path: Path, asked: str, now: dt.datetime, zone: str) -> list[dict[str, Any]]:
    """The meanings of all lines, or a refusal that names every bad one."""
    try:
        lines = path.read_text(encoding="utf-8-sig").splitlines()
    except OSError as error:
        why = (error.strerror or "unknown reason").lower()
        raise Refused(f"{path} cannot be read: {why}. Give a file of JSON lines in UTF-8.") from None
    except UnicodeDecodeError as error:
        raise Refused(
            f"{path} is not UTF-8 text (byte {error.start}). Give a file of JSON lines in UTF-8."
        ) from None
    if not any(line.strip() for line in lines):
        raise Refused(f"{path} is empty. Write one object a line, such as {_LINE_EXAMPLE}")
    asked_of, faults = [], []
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        try:
            asked_of.append(_one_line(line, asked, now, zone))
        except Refused as fault:
            faults += [f"{path}, line {number}: {reason}" for reason in fault.lines]
    if faults:
        raise Refused(*faults)
    return [{"id": key, "means": _means(text, said, at, where)} for key, text, said, at, where in asked_of]


def _one_line(line: str, asked: str, now: dt.datetime, zone: str) -> tuple[Any, str, str, dt.datetime, str]:
    try:
        row = json.loads(line)
    except ValueError:
        raise Refused(f"this is no JSON. Write one object a line, such as {_LINE_EXAMPLE}") from None
    if not isinstance(row, dict) or not isinstance(row.get("text"), str) or "id" not in row:
        raise Refused(f"'id' and a 'text' are needed. Write it as {_LINE_EXAMPLE}")
    said = row.get("asked") or asked
    if said not in {"session", "sleep", "effort", "days", "nothing"}:
        raise Refused(f"'asked' is {said!r}. Use session, sleep, effort, days or nothing.")
    where = _zone(row.get("zone") or zone)
    at = _instant(row["now"], where) if row.get("now") else now
    return row["id"], row["text"], said, at, where


def _zone(name: object) -> str:
    try:
        ZoneInfo(str(name))
    except (ValueError, OSError, KeyError):
        raise Refused(f"There is no zone {name!r}. Use an IANA name, such as Europe/Oslo.") from None
    return str(name)


def _instant(text: object, zone: object) -> dt.datetime:
    """An instant as written; without an offset it is local time in the zone."""
    if text is None:
        from bot.clock import SystemClock

        return SystemClock().now()
    try:
        at = dt.datetime.fromisoformat(str(text))
    except ValueError:
        raise Refused(
            f"The instant {text!r} cannot be read. Write it as 2026-11-25T12:00:00+00:00."
        ) from None
    if at.year not in YEARS:
        raise Refused(f"The instant {text!r} lies in no year from {YEARS[0]} to {YEARS[-1]}.")
    return at if at.tzinfo else at.replace(tzinfo=ZoneInfo(_zone(zone)))


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
