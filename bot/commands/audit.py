"""``keptword audit``: how good past forecasts would have been."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

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

    rows = read_history(args.history)
    cohort, as_of = by_client(rows), last_known_day(rows)
    judged = []
    for week in judge(cohort, as_of):
        judged += week
        if week:
            tell(f"week of {week[0].monday}: {len(week)} client-weeks")
    audit = score(judged)
    if args.picture:
        save_picture(audit, args.picture)
    print(as_json(audit) if args.format == "json" else as_table(audit))
    return 0


def save_picture(audit: "Audit", path: Path) -> None:
    from core.adherence.audit_picture import draw

    try:
        path.write_bytes(draw(audit.issued, audit.weeks))
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
        lines += ["", f"{'method':<20} log loss   Brier"]
        lines += [f"{name:<20} {s.log_loss:8.4f}  {s.brier:6.4f}" for name, s in audit.methods.items()]
        lines += [
            "",
            decomposed(audit.parts),
            f"We said {100 * audit.optimism:.1f} points more than was kept.",
        ]
    return "\n".join(lines)


def decomposed(parts: "BrierParts") -> str:
    reliability, resolution = f"reliability {parts.reliability:.4f}", f"resolution {parts.resolution:.4f}"
    return f"Our Brier score: {reliability} - {resolution} + uncertainty {parts.uncertainty:.4f}"


def tell(line: str) -> None:
    print(line, file=sys.stderr)
