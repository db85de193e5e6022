"""What must hold of a transcript, counted from its lines alone: each a list of those that break the rule.

Nothing here asks the house what it meant to do.
"""

import datetime as dt
import json
import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from core.calendar.quiet import QuietHours
from core.calendar.weeks import IsoWeek

UNASKED = frozenset({"prompt", "follow_up", "weekly", "sleep", "offer"})
TO_TRAIN = frozenset({"prompt", "follow_up"})
DAILY, WEEKLY = 2, 12
QUIET_DAYS = 2
NOON = dt.time(12)
ONE_DAY = dt.timedelta(days=1)
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_PAUSED = re.compile(r"Paused up to and including \w{3} (\d+) (\w{3})")


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One line of a transcript. ``local`` is the wall time of whoever owns the phone, aware."""

    local: dt.datetime
    chat: str
    author: str  # bot | client | coach
    kind: str
    key: str
    text: str

    @property
    def is_unasked(self) -> bool:
        """Whether it went to a client without their asking."""
        return self.author == "bot" and self.kind in UNASKED


def read_transcript(path: Path) -> list[Said]:
    return [said_from(json.loads(line)) for line in path.read_text(encoding="utf-8").splitlines()]


def said_from(line: Mapping[str, str]) -> Said:
    return Said(
        local=dt.datetime.fromisoformat(line["local"]),
        chat=line["chat"],
        author=line["from"],
        kind=line["kind"],
        key=line["key"],
        text=line["text"],
    )


def duplicates(lines: Iterable[Said]) -> list[Said]:
    """What went out unasked under a key that had been used."""
    seen: set[tuple[str, str]] = set()
    again = []
    for said in lines:
        if not said.is_unasked:
            continue
        if (said.chat, said.key) in seen:
            again.append(said)
        seen.add((said.chat, said.key))
    return again


def in_quiet_hours(lines: Iterable[Said], quiet: Mapping[str, QuietHours]) -> list[Said]:
    """What went out unasked while its receiver had quiet hours. ``quiet``: by chat, the usual ones where none are given."""
    return [
        said
        for said in lines
        if said.is_unasked and quiet.get(said.chat, QuietHours()).holds_at(said.local.time())
    ]


def without_a_key(lines: Iterable[Said]) -> list[Said]:
    """Messages of the bot that its outbox does not answer for."""
    return [s for s in lines if s.author == "bot" and not s.key and s.kind not in {"notice", "delete"}]


def over_budget(lines: Iterable[Said]) -> list[Said]:
    """More than two unasked on a local day, or twelve in an ISO week."""
    days: Counter[tuple[str, dt.date]] = Counter()
    weeks: Counter[tuple[str, IsoWeek]] = Counter()
    beyond = []
    for said in lines:
        if not said.is_unasked:
            continue
        day = said.local.date()
        days[said.chat, day] += 1
        weeks[said.chat, IsoWeek.of(day)] += 1
        if days[said.chat, day] > DAILY or weeks[said.chat, IsoWeek.of(day)] > WEEKLY:
            beyond.append(said)
    return beyond


def after_silence(lines: Iterable[Said]) -> list[Said]:
    """What asked more than once a week after two asked days had closed without a word."""
    return [said for talk in _by_chat(lines).values() for said in _after_silence(talk)]


def _after_silence(talk: Sequence[Said]) -> Iterator[Said]:
    asked: list[dt.datetime] = []  # the first prompt of each local day since the last word
    for said in talk:
        if said.author == "client":
            asked = []
        elif said.kind in {"prompt", "follow_up", "sleep"}:
            if len(asked) >= QUIET_DAYS and said.local > _closed(asked[QUIET_DAYS - 1]):
                yield said
            if said.kind == "prompt" and (not asked or said.local.date() > asked[-1].date()):
                asked.append(said.local)


def _closed(prompted: dt.datetime) -> dt.datetime:
    """The latest moment at which the day of that prompt can have closed: it may have come the evening before."""
    return dt.datetime.combine(prompted.date() + 2 * ONE_DAY, NOON, prompted.tzinfo) + ONE_DAY / 2


def while_paused(lines: Iterable[Said]) -> list[Said]:
    """What went out unasked although the client had been told that nothing would."""
    return [said for talk in _by_chat(lines).values() for said in _while_paused(talk)]


def _while_paused(talk: Sequence[Said]) -> Iterator[Said]:
    until: dt.date | None = None
    for said in talk:
        if said.author == "bot" and said.text.startswith("I have stopped"):
            until = dt.date.max
        elif said.author == "bot" and (paused := _PAUSED.match(said.text)):
            until = _coming(said.local.date(), int(paused[1]), paused[2])
        elif said.author == "bot" and said.text.startswith("You are back on"):
            until = None
        elif said.is_unasked and until is not None and said.local.date() <= until:
            yield said


def _coming(after: dt.date, day: int, month: str) -> dt.date:
    found = dt.date(after.year, MONTHS.index(month) + 1, day)
    return found if found >= after else found.replace(year=after.year + 1)


def despite_a_red_flag(lines: Iterable[Said]) -> list[Said]:
    """What asked to train before a sign of danger was cleared."""
    return [said for talk in _by_chat(lines).values() for said in _despite(talk)]


def _despite(talk: Sequence[Said]) -> Iterator[Said]:
    flagged = False
    for said in talk:
        if said.author == "bot" and said.kind == "safety":
            flagged = True
        elif said.author == "bot" and said.text.startswith(("Your coach has cleared", "Good, then nothing")):
            flagged = False
        elif flagged and said.author == "bot" and said.kind in TO_TRAIN:
            yield said


def _by_chat(lines: Iterable[Said]) -> dict[str, list[Said]]:
    talks: defaultdict[str, list[Said]] = defaultdict(list)
    for said in lines:
        if said.author != "coach":
            talks[said.chat].append(said)
    return talks


# --- what was said and what is kept ---------------------------------------------------------------------------------------

OUTCOME_OF = {
    "Done": "done",
    "A short one": "short",
    "Can't today": "missed",
    "Can't tomorrow": "missed",
    "Not this time": "missed",
}
NO_MATTER = re.compile(r"[0-9]|Show the session|One by one|Next|Not this week|That fits")
CORRECTED_WITHIN = dt.timedelta(days=12)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """One ask as the house keeps it."""

    number: int
    chat: str
    outcome: str | None


def otherwise_kept(lines: Iterable[Said], asks: Iterable[Kept]) -> list[str]:
    """Asks whose last tap says one thing and the house another, though nothing was said since that could explain it."""
    talks = _by_chat(lines)
    return [fault for ask in asks for fault in _faults(ask, talks.get(ask.chat, []))]


def _faults(ask: Kept, talk: Sequence[Said]) -> Iterator[str]:
    about = f"ask:{ask.number}:"
    places = [n for n, said in enumerate(talk) if said.key.startswith(about) and _is_answer(said)]
    if not places:
        return
    last = talk[places[-1]]
    since = [
        said
        for said in talk[places[-1] + 1 :]
        if said.author == "client"
        and said.local - last.local < CORRECTED_WITHIN
        and not NO_MATTER.match(said.text)
    ]
    said_outcome = OUTCOME_OF[last.text]
    if not since and ask.outcome != said_outcome:
        yield f"{ask.chat}, ask {ask.number}: '{last.text}' was tapped on {last.local:%a %d %b %H:%M}, kept as {ask.outcome}"


def _is_answer(said: Said) -> bool:
    return said.author == "client" and said.kind == "press" and said.text in OUTCOME_OF


COUNTED: Mapping[str, Callable[[Sequence[Said]], Sequence[Said]]] = {
    "duplicates": duplicates,
    "without_a_key": without_a_key,
    "over_budget": over_budget,
    "after_silence": after_silence,
    "while_paused": while_paused,
    "despite_a_red_flag": despite_a_red_flag,
}


def broken(lines: Sequence[Said], quiet: Mapping[str, QuietHours]) -> dict[str, list[Said]]:
    """Every rule with the lines that break it."""
    return {"quiet_violations": in_quiet_hours(lines, quiet)} | {
        name: list(rule(lines)) for name, rule in COUNTED.items()
    }
