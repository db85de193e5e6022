"""``keptword audit``: how good past forecasts would have been."""

import argparse
import json
from bisect import bisect
from pathlib import Path
from typing import TYPE_CHECKING

from bot.clock import SystemClock
from bot.commands.forecast import latest_today, tell
from core.errors import Fault

if TYPE_CHECKING:
    from core.adherence.audit import Audit
    from core.adherence.scoring import Bin, BrierParts

HELP = (
    "how good one-week-ahead forecasts would have been on the weeks of a history in CSV, beside simple rules"
)


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("history", type=Path, metavar="HISTORY.csv")
    parser.add_argument("--format", choices=["table", "json"], default="table")
    parser.add_argument(
        "--picture", type=Path, metavar="FILE.png", help="also draw what was said and what was kept"
    )


def run(args: argparse.Namespace) -> int:
    from core.adherence.audit import judge, score
    from core.adherence.history import by_client, last_known_day, read_history
    from core.adherence.history_notes import notes
    from core.how_many import how_many

    rows = read_history(args.history)
    cohort, as_of = by_client(rows), last_known_day(rows)
    for note in notes(cohort, as_of, latest_today(SystemClock())):
        tell(note)
    judged = []
    for week in judge(cohort, as_of):
        judged += week
        if week:
            tell(f"week of {week[0].monday}: {how_many(len(week), 'client-week')}")
    audit = score(judged)
    if args.picture:
        save_picture(audit, args.picture)
    print(as_json(audit) if args.format == "json" else as_table(audit))
    return 0


def save_picture(audit: "Audit", path: Path) -> None:
    from core.adherence.audit_picture import draw

    try:
        path.write_bytes(draw(audit.issued, audit.all_sizes, audit.weeks))
    except OSError as error:
        raise Fault(
            f"The picture cannot be written to {path} ({error.strerror}). Give a path in a folder that exists."
        ) from None


def as_json(audit: "Audit") -> str:
    told = {
        "weeks": audit.weeks,
        "methods": {
            name: {"log_loss": round(score.log_loss, 6), "brier": round(score.brier, 6)}
            for name, score in audit.methods.items()
        },
        "issued": [bin_as_json(one) for one in audit.issued],
        "all_sizes": [bin_as_json(one) for one in audit.all_sizes],
    }
    return json.dumps(told, ensure_ascii=False, indent=1, allow_nan=False)


def bin_as_json(one: "Bin") -> dict[str, float]:
    return {"said": round(one.said, 6), "kept": round(one.kept, 6), "n": one.n}


def as_table(audit: "Audit") -> str:
    from core.adherence.audit_words import in_words

    lines = in_words(audit)
    if audit.parts:
        lines += ["", *calibrations(audit), "", *scores(audit), "", decomposed(audit.parts)]
    return "\n".join(lines)


def calibrations(audit: "Audit") -> list[str]:
    """A line for each tenth of what was said: promises as agreed, and the first sessions of each, one to all."""
    from core.adherence.audit import TENTHS

    left, right = (
        {bisect(TENTHS[:-1], one.said) - 1: one for one in bins} for bins in (audit.issued, audit.all_sizes)
    )
    lines = ["what we said   promises as agreed             the first sessions of each, one to all"]
    for tenth in sorted({*left, *right}):
        said = f"{10 * tenth} to {10 * tenth + 10} %"
        lines.append(f"{said:<13}  {calibrated(left.get(tenth)):<30} {calibrated(right.get(tenth))}".rstrip())
    return lines


def calibrated(one: "Bin | None") -> str:
    """'78 % of 64 kept (66 to 87)': the share that came true, and what chance allows."""
    if one is None:
        return "-"
    return f"{100 * one.kept:.0f} % of {one.n} kept ({100 * one.low:.0f} to {100 * one.high:.0f})"


def scores(audit: "Audit") -> list[str]:
    """A line a method; at the right, what it said and what was kept where a promise would have been chosen by it."""
    sure = f"chosen at {round(100 * audit.confidence)} %"
    lines = [f"{'method':<20} log loss   Brier   {sure}: weeks  said  kept"]
    for name, score in audit.methods.items():
        own = audit.chosen[name]
        picked = f"{own.n:>20} {100 * own.said:4.0f} % {100 * own.kept:3.0f} %" if own else f"{0:>20}"
        lines.append(f"{name:<20} {score.log_loss:8.4f}  {score.brier:6.4f}   {picked}")
    return lines


def decomposed(parts: "BrierParts") -> str:
    reliability, resolution = f"reliability {parts.reliability:.4f}", f"resolution {parts.resolution:.4f}"
    return f"Our Brier score: {reliability} - {resolution} + uncertainty {parts.uncertainty:.4f}"
