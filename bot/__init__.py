"""The outside: Telegram, the metronome, HTTP, the command line. Knows the domain."""

import os
import zoneinfo

# The zones of the tzdata package, whose version is pinned, rather than those of a machine that may be a year behind.
zoneinfo.reset_tzpath(to=[])

# python-telegram-bot decides while it is imported whether retry_after is a number or a timedelta.
os.environ["PTB_TIMEDELTA"] = "1"  # noqa: TID251 - a switch of a library, not a setting of ours
