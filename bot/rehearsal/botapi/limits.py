"""How many messages may go out: overall, to one chat, to one group.

The figures are those of Telegram's Bots FAQ (30 a second, one a second to a chat, 20 a minute to a group); it tolerates short
bursts to one chat, which is read here as three in any three seconds.
"""

import datetime as dt
import math
from collections import defaultdict, deque
from dataclasses import dataclass

from bot.clock import Clock
from bot.rehearsal.botapi.errors import too_many_requests


@dataclass(frozen=True, slots=True)
class Rate:
    """At most ``count`` in any window of ``seconds``."""

    count: int
    seconds: float


OVERALL = Rate(30, 1)
TO_A_CHAT = Rate(3, 3)
TO_A_GROUP = Rate(20, 60)


class Limits:
    """Admits a message, or refuses with the seconds to wait. The clock may be another than that of the messages' dates.

    What is refused does not count. ``on`` may be switched at any time.
    """

    def __init__(
        self,
        clock: Clock,
        *,
        on: bool = True,
        overall: Rate = OVERALL,
        chat: Rate = TO_A_CHAT,
        group: Rate = TO_A_GROUP,
    ) -> None:
        self.on = on
        self.refused = 0
        self._clock = clock
        self._overall, self._chat, self._group = overall, chat, group
        self._all: deque[dt.datetime] = deque()
        self._by_chat: defaultdict[int, deque[dt.datetime]] = defaultdict(deque)

    def admit(self, chat: int) -> None:
        """Count one message to this chat; raises 429 where it would be one too many."""
        if not self.on:
            return
        now = self._clock.now()
        rate = self._group if chat < 0 else self._chat
        wait = max(_wait(self._all, self._overall, now), _wait(self._by_chat[chat], rate, now))
        if wait > 0:
            self.refused += 1
            raise too_many_requests(max(1, math.ceil(wait)))
        self._all.append(now)
        self._by_chat[chat].append(now)


def _wait(sent: deque[dt.datetime], rate: Rate, now: dt.datetime) -> float:
    """Seconds until one more fits into the window; forgets what has left it."""
    window = dt.timedelta(seconds=rate.seconds)
    while sent and sent[0] <= now - window:
        sent.popleft()
    if len(sent) < rate.count:
        return 0.0
    return (sent[0] + window - now).total_seconds()
