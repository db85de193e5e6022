"""``keptword lay-out-year``: blocks laid backwards from what is coming up."""

import argparse
import datetime as dt
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.programme.year.plan import YearPlan

HELP = "lay out training blocks so that the right one ends at each event"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("events", metavar="EVENTS.csv", type=Path, help="name,from,to,kind,importance,wants")
    parser.add_argument(
        "--from", dest="start", required=True, metavar="D", help="the first Monday, such as 2027-01-04"
    )
    parser.add_argument("--weeks", required=True, metavar="N", help="1 to 104")
    parser.add_argument("--picture", type=Path, metavar="FILE.png", help="also draw the year")
    parser.add_argument("--format", choices=["text", "json"], default="text")


def run(args: argparse.Namespace) -> int:
    from core.errors import Refused
    from core.programme.year.coming_up import read_coming_up
    from core.programme.year.plan import lay_out_year
    from core.programme.year.words import year_words

    start, weeks = _span(args.start, args.weeks)
    content = _content(args.events)
    try:
        events = read_coming_up(content, start, weeks)
    except Refused as fault:
        named = (f"{args.events}, {line}" if line.startswith("line ") else line for line in fault.lines)
        raise Refused(*named) from None
    plan = lay_out_year(events, start, weeks)
    if args.picture is not None:
        _draw(plan, args.picture)
    if args.format == "json":
        json.dump(plan.to_json(), sys.stdout, ensure_ascii=False, indent=2)
        sys.stdout.write("\n")
    else:
        sys.stdout.write(year_words(plan) + "\n")
    return 0


def _span(start: str, weeks: str) -> tuple[dt.date, int]:
    """The first Monday and the number of weeks; both faults are told at once."""
    from core.errors import Refused

    faults = []
    first = dt.date.min
    try:
        first = dt.date.fromisoformat(start)
    except ValueError:
        faults.append(f"--from is a date such as 2027-01-04, not '{start}'.")
    if not weeks.isdecimal():
        faults.append(f"--weeks is a whole number, not '{weeks}'.")
    if faults:
        raise Refused(*faults)
    return first, int(weeks)


def _content(path: Path) -> bytes:
    from core.errors import Fault, Refused
    from core.programme.year.coming_up import LARGEST, too_large

    try:
        size = path.stat().st_size
        if size > LARGEST:
            raise Refused(too_large(size))
        return path.read_bytes()
    except OSError as error:
        raise Fault(f"{path} cannot be read: {(error.strerror or 'unknown reason').lower()}.") from error


def _draw(plan: "YearPlan", path: Path) -> None:
    from core.errors import Fault
    from core.programme.year.picture import year_picture

    try:
        path.write_bytes(year_picture(plan))
    except OSError as error:
        raise Fault(f"{path} cannot be written: {(error.strerror or 'unknown reason').lower()}.") from error
