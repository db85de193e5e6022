"""The command ``keptword``: parses, dispatches, and turns every fault into clear lines on standard error."""

import argparse
import importlib
import logging
import pkgutil
import sys
from collections.abc import Iterator, Sequence
from importlib.metadata import PackageNotFoundError, version
from typing import Protocol, cast

import bot.commands
from core.errors import Fault

log = logging.getLogger(__name__)

DONE, FAILED, WRONG_USAGE = 0, 1, 2


class Command(Protocol):
    """What a module of ``bot.commands`` offers."""

    HELP: str

    def configure(self, parser: argparse.ArgumentParser) -> None: ...

    def run(self, args: argparse.Namespace) -> int: ...


def commands() -> Iterator[tuple[str, Command]]:
    """Every command by the name that is typed, in alphabetical order."""
    for module in pkgutil.iter_modules(bot.commands.__path__):
        loaded = importlib.import_module(f"bot.commands.{module.name}")
        yield module.name.replace("_", "-"), cast("Command", loaded)


def make_parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="keptword",
        description="Asks, keeps count, forecasts which promise would be kept, and never recommends more.",
        epilog="'keptword COMMAND --help' says more about a command.",
    )
    parser.add_argument("--version", action="version", version=f"keptword {_version()}")
    chosen = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for name, command in commands():
        sub = chosen.add_parser(name, help=command.HELP, description=command.HELP)
        command.configure(sub)
        sub.set_defaults(run=command.run)
    return parser


def _version() -> str:
    try:
        return version("keptword")
    except PackageNotFoundError:
        return "(run from a folder, not installed)"


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; exit codes: 0 done, 1 it failed, 2 wrong usage. No traceback reaches a person."""
    args = make_parser().parse_args(argv)
    try:
        return int(args.run(args))
    except Fault as fault:
        for line in fault.lines:
            print(line, file=sys.stderr)  # noqa: T201 - standard error is where faults are told
        return FAILED
    except KeyboardInterrupt:
        return FAILED
    except BrokenPipeError:
        sys.stderr.close()
        return FAILED
    except Exception as error:  # the last line of defence: one sentence; the rest in the log
        log.debug("a command failed", exc_info=True)
        print(_said_of(error), file=sys.stderr)  # noqa: T201
        return FAILED


def _said_of(error: Exception) -> str:
    """One sentence: what to do about the database, if it was that; else what to report."""
    from bot.log import redacted
    from core.store.troubles import what_to_do

    first: BaseException = error
    while isinstance(first, BaseExceptionGroup):  # of several loops that ended together
        first = first.exceptions[0]
    return what_to_do(first) or redacted(
        f"Something went wrong inside Keptword ({type(first).__name__}: {first}). "
        "Please report it with the command you ran."
    )
