"""The command ``keptword``: parses, dispatches, and turns every fault into one clear line on standard error."""

import argparse
import sys
from collections.abc import Sequence


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; exit codes: 0 done, 1 it failed, 2 wrong usage."""
    parser = argparse.ArgumentParser(
        prog="keptword", description="Ask, count, forecast, and don't overpromise."
    )
    parser.add_argument("--version", action="version", version="keptword 0.1.0")
    parser.parse_args(argv)
    parser.print_help(sys.stderr)
    return 2
