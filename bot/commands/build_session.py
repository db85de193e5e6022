"""``keptword build-session``: a session, without any chat, as for a promise of one."""

import argparse
import json
import sys

HELP = "build a session for a block, the minutes and a room"


def configure(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--block", required=True, metavar="B", help="for example: strength, 'power endurance'"
    )
    parser.add_argument("--minutes", required=True, metavar="M", help="10 to 180")
    parser.add_argument(
        "--room", required=True, metavar="R", help="for example: none, dumbbells, 'hotel gym'"
    )
    parser.add_argument(
        "--level", default="intermediate", metavar="L", help="beginner, intermediate or advanced"
    )
    parser.add_argument(
        "--avoid", action="append", default=[], metavar="C", help="a place that hurts; may be given again"
    )
    parser.add_argument("--format", choices=["text", "json"], default="text")


def run(args: argparse.Namespace) -> int:
    from core.programme.asked import request_from_words
    from core.programme.build import build_session
    from core.programme.movements import our_library
    from core.programme.words import session_words

    asked = request_from_words(
        block=args.block, minutes=args.minutes, room=args.room, level=args.level, complaints=args.avoid
    )
    session = build_session(asked, our_library())
    if args.format == "json":
        json.dump(session.to_json(), sys.stdout, ensure_ascii=False, indent=2)
        sys.stdout.write("\n")
    else:
        sys.stdout.write(session_words(session) + "\n")
    return 0
