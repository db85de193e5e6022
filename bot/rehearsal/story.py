"""What happened, in one sentence."""

import zoneinfo
from collections import Counter
from collections.abc import Sequence

from bot.rehearsal.record import Entry

LONGEST = 60
ASKED = {
    "prompt": "{} is asked about a session",
    "follow_up": "{} is asked how it went",
    "weekly": "{} hears about the week",
    "sleep": "{} is asked about the night",
    "offer": "{} is offered one more",
    "digest": "the digest comes to {}",
    "settle": "{} has weeks to settle",
    "safety": "{} gets a message about safety",
    "coach_note": "{} hears of a client",
    "session": "{} gets a session",
}
COUNTED = {
    "prompt": ("prompt", "prompts"),
    "follow_up": ("follow-up", "follow-ups"),
    "weekly": ("weekly message", "weekly messages"),
    "digest": ("digest", "digests"),
    "safety": ("message about safety", "messages about safety"),
}


def one_moment(entries: Sequence[Entry]) -> str:
    """Tell of the first thing that is worth telling, with the hour on that person's wall."""
    told = next((e for e in entries if _sentence(e)), None)
    if told is None:
        return "Nothing is waiting to happen."
    city = told.zone.rpartition("/")[2].replace("_", " ")
    others = len({e.chat for e in entries} - {told.chat})
    more = f" ({others} more at that moment)" if others else ""
    return (
        f"{told.local.astimezone(zoneinfo.ZoneInfo(told.zone)):%a %H:%M} in {city}: {_sentence(told)}.{more}"
    )


def _sentence(entry: Entry) -> str:
    first = entry.chat.split()[0]
    if entry.author == "bot":
        return ASKED.get(entry.kind, "").format(first)
    if entry.what == "press":
        return f"{first} taps '{entry.text}'"
    return f"{first} writes '{_short(entry.text)}'" if entry.text else f"{first} sends a {entry.what}"


def _is_first(entry: Entry) -> bool:
    """A digest is several messages: the first stands for all."""
    return entry.kind != "digest" or entry.key.endswith(":text:0")


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else f"{line[:LONGEST]}…"


def a_while(entries: Sequence[Entry], span: str) -> str:
    """Count what went to and fro in a longer time."""
    asked = Counter(e.kind for e in entries if e.author == "bot" and e.kind in COUNTED and _is_first(e))
    said = sum(e.author == "client" for e in entries)
    parts = [f"{n} {COUNTED[kind][n > 1]}" for kind in COUNTED if (n := asked[kind])]
    if said:
        parts.append(f"{said} answers and messages from clients" if said > 1 else "1 message from a client")
    return f"{span}: {', '.join(parts)}." if asked or said else f"{span}: nothing happened."
