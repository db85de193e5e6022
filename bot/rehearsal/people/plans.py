"""What somebody means to do with their phone, and when. Plans are data, so that a rehearsal can be kept."""

import datetime as dt
import enum
import heapq
import zoneinfo
from dataclasses import dataclass, field

WAKES, GOES_TO_BED = dt.time(6, 40), dt.time(22, 50)


class Deed(enum.StrEnum):
    TAP = "tap"  # the button of this label on that message
    SAY = "say"
    REPLY = "reply"  # to that message
    START = "start"  # open an invitation
    WEEK = "week"  # a new week begins: think of what it will bring
    DRIFT = "drift"  # fall silent
    RETURN = "return"
    BLOCK = "block"  # the bot
    UNBLOCK = "unblock"


@dataclass(frozen=True, order=True, slots=True)
class Plan:
    """At ``at`` whoever owns the phone ``chat`` does this; plans of one instant are done in the order of their making."""

    at: dt.datetime
    made: int
    chat: int = field(compare=False)
    deed: Deed = field(compare=False)
    words: str = field(compare=False, default="")
    message: int = field(compare=False, default=0)


@dataclass(slots=True)
class Agenda:
    """Everybody's plans, the next one first."""

    _heap: list[Plan] = field(default_factory=list)
    _made: int = 0

    def add(self, at: dt.datetime, chat: int, deed: Deed, words: str = "", message: int = 0) -> None:
        self._made += 1
        heapq.heappush(self._heap, Plan(at, self._made, chat, deed, words, message))

    def next_at(self) -> dt.datetime | None:
        return self._heap[0].at if self._heap else None

    def due(self, at: dt.datetime) -> list[Plan]:
        """Take out all that is due by now."""
        taken = []
        while self._heap and self._heap[0].at <= at:
            taken.append(heapq.heappop(self._heap))
        return taken


def when_awake(at: dt.datetime, zone: str) -> dt.datetime:
    """The same instant, or the next morning where it falls into the night."""
    local = at.astimezone(zoneinfo.ZoneInfo(zone))
    if WAKES <= local.time() < GOES_TO_BED:
        return at
    day = local.date() + dt.timedelta(days=local.time() >= GOES_TO_BED)
    past = dt.timedelta(minutes=local.minute % 45)
    morning = dt.datetime.combine(day, WAKES, zoneinfo.ZoneInfo(zone)) + past
    return max(at, morning.astimezone(dt.UTC))
