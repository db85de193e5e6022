"""``keptword forecast``: the model on a spreadsheet."""

import argparse
import datetime as dt
import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from bot.clock import Clock, SystemClock
from core.how_many import how_many

if TYPE_CHECKING:
    from core.adherence.advice import Advice

HELP = "the odds of keeping one to seven sessions next week, and what to promise, from a history in CSV"
LOWEST, HIGHEST = 0.5, 0.99
YEARS = range(1600, 3000)  # as in a history
PROGRESS_EVERY = 100  # clients


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("history", type=Path, metavar="HISTORY.csv")
    parser.add_argument(
        "--as-of",
        type=a_day,
        metavar="D",
        help="the last day known, like 2026-03-01 (default: the last with an outcome)",
    )
    parser.add_argument(
        "--confidence", type=a_confidence, default=0.8, help="how sure a promise must be (default 0.8)"
    )
    parser.add_argument("--format", choices=["table", "json"], default="table")


def a_day(text: str) -> dt.date:
    try:
        day = dt.date.fromisoformat(text)
    except ValueError:
        day = dt.date.min
    if day.year not in YEARS:
        raise argparse.ArgumentTypeError(
            f"{text} is not a date like 2026-03-01 in the years {YEARS[0]} to {YEARS[-1]}"
        )
    return day


def a_confidence(text: str) -> float:
    try:
        confidence = float(text)
    except ValueError:
        confidence = 0.0
    if not LOWEST <= confidence <= HIGHEST:
        raise argparse.ArgumentTypeError(f"{text} is not a number from {LOWEST} to {HIGHEST}")
    return confidence


def run(args: argparse.Namespace) -> int:
    from core.adherence.advice import advise_all
    from core.adherence.history import by_client, last_known_day, read_history
    from core.adherence.history_notes import notes
    from core.adherence.promise import Settings

    rows = read_history(args.history)
    as_of = args.as_of or last_known_day(rows)
    cohort = by_client(rows)
    tell(f"{how_many(len(cohort), 'client')}, {how_many(len(rows), 'row')}, known up to {as_of}")
    for note in notes(cohort, as_of, latest_today(SystemClock())):
        tell(note)
    settings = dict.fromkeys(cohort, Settings(confidence=args.confidence))
    advice = list(with_progress(advise_all(cohort, as_of, settings), len(cohort)))
    print(as_json(as_of, advice) if args.format == "json" else as_table(as_of, advice))
    return 0


def as_json(as_of: dt.date, advice: Sequence["Advice"]) -> str:
    clients = [client_as_json(one) for one in advice]
    return json.dumps(
        {"as_of": as_of.isoformat(), "clients": clients}, ensure_ascii=False, indent=1, allow_nan=False
    )


def client_as_json(advice: "Advice") -> dict[str, object]:
    """One client as the contract of the command has it; probabilities to six places, never 0 or 1."""
    recommendation = advice.recommendation
    return {
        "client": advice.client,
        "engaged": round(advice.odds.engaged, 6),
        "next_week": {
            "keep": {str(k): round(p, 6) for k, p in advice.odds.keep.items()},
            "expected": {str(k): round(e, 6) for k, e in advice.odds.expected.items()},
        },
        "recommend": recommendation.sessions,
        "recommend_minutes": recommendation.minutes,
        "previous": recommendation.previous,
        "never_tried": recommendation.never_tried,
        "why": advice.why,
    }


def as_table(as_of: dt.date, advice: Sequence["Advice"]) -> str:
    width = max(len("client"), *(len(one.client) for one in advice))
    sizes = "".join(f"{k:>5}" for k in range(1, 8))
    lines = [
        f"Known up to {as_of}. Chances in % of keeping 1 to 7 sessions in the week after; 'here': of not having fallen silent.",
        f"{'client':<{width}}  here {sizes}  last  promise  why",
    ]
    return "\n".join(lines + [_line(one, width) for one in advice])


def _line(advice: "Advice", width: int) -> str:
    recommendation = advice.recommendation
    sizes = "".join(f"{percent(p):>5}" for p in advice.odds.keep.values())
    last = "-" if recommendation.previous is None else str(recommendation.previous)
    promise = f"{recommendation.sessions} x {recommendation.minutes}'"
    return f"{advice.client:<{width}}  {percent(advice.odds.engaged):>4} {sizes}  {last:>4}  {promise:>7}  {advice.why}"


def percent(probability: float) -> int:
    """Whole percent, never 0 or 100."""
    return min(max(round(100 * probability), 1), 99)


def with_progress(advice: Iterable["Advice"], clients: int) -> Iterator["Advice"]:
    for count, one in enumerate(advice, start=1):
        if count % PROGRESS_EVERY == 0:
            tell(f"{count} of {clients} clients")
        yield one


def latest_today(clock: Clock) -> dt.date:
    """The last date that it is anywhere on earth; nothing of a later day has happened yet."""
    return (clock.now() + dt.timedelta(hours=14)).date()


def tell(line: str) -> None:
    print(line, file=sys.stderr)
