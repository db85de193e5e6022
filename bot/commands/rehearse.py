"""``keptword rehearse``: the whole system on this machine alone, on a clock that can be moved."""

import argparse
import asyncio
import contextlib
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from core.errors import Fault, Refused

HELP = "try everything on this machine alone: an invented group, two phones on a page, and a clock that you can move"
PORT = 8808
MOST_WEEKS = 520


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--port", type=a_port, default=PORT, help=f"of the page (default {PORT}; 0 takes any free one)"
    )
    parser.add_argument("--keep", action="store_true", help="go on next time where this one ended")
    parser.add_argument("--headless", action="store_true", help="nobody before a page: play at full speed")
    parser.add_argument("--weeks", type=a_number_of_weeks, metavar="N", help="to play, with --headless")
    parser.add_argument(
        "--seed", type=int, default=1, metavar="S", help="the same seed plays the same weeks (default 1)"
    )
    parser.add_argument("--out", type=Path, metavar="DIR", help="where --headless writes what was said")


def a_port(text: str) -> int:
    if not text.isdecimal() or int(text) >= 2**16:
        raise argparse.ArgumentTypeError(f"{text} is not a port from 0 to 65535")
    return int(text)


def a_number_of_weeks(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= MOST_WEEKS:
        raise argparse.ArgumentTypeError(f"{text} is not a number of weeks from 1 to {MOST_WEEKS}")
    return int(text)


def run(args: argparse.Namespace) -> int:
    if args.headless:
        return _headless(args)
    import tempfile

    import platformdirs

    with contextlib.suppress(KeyboardInterrupt):  # the way to end it
        if args.keep:
            folder = Path(platformdirs.user_data_dir("keptword", appauthor=False)) / "rehearsal"
            tell(f"This rehearsal is kept in {folder}, and goes on there next time.")
            asyncio.run(_on_the_page(folder, args.port))
            return 0
        with tempfile.TemporaryDirectory(prefix="keptword-rehearsal-") as temporary:
            asyncio.run(_on_the_page(Path(temporary), args.port))
    return 0


def _headless(args: argparse.Namespace) -> int:
    from bot.rehearsal import headless

    if args.weeks is None or args.out is None:
        raise Refused(
            "--headless needs --weeks N and --out DIR, as in: keptword rehearse --headless --weeks 4 --out week"
        )
    with _written_to(args.out):  # before weeks are played for nothing
        args.out.mkdir(parents=True, exist_ok=True)
    started = time.monotonic()
    played = asyncio.run(headless.play(args.weeks, args.seed, tell))
    with _written_to(args.out):
        summary = headless.write(played, args.out, weeks=args.weeks, seed=args.seed)
    took = time.monotonic() - started
    for name, number in summary.items():
        tell(f"{name.replace('_', ' ')}: {number}")
    tell(f"{played.client_weeks} client-weeks in {took:.1f} s. Written to {args.out}.")
    return 0


@contextlib.contextmanager
def _written_to(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise Fault(
            f"{folder} cannot be written ({error.strerror}): name another folder with --out."
        ) from None


async def _on_the_page(folder: Path, port: int) -> None:
    from bot.rehearsal.setting import on_the_page

    async with on_the_page(folder=folder, port=port, tell=tell) as (_, url):
        print(f"\nOpen {url} in a browser. Stop with Ctrl-C.", flush=True)
        await asyncio.Event().wait()


def tell(line: str) -> None:
    print(line, file=sys.stderr, flush=True)
