"""How fast we may send: pure arithmetic over one instant a chat, and one for everything together.

A budget is the instant at which it is free again (the generic cell rate algorithm of ITU-T I.371, with that
instant as its whole state). The published figures are 30 messages a second in all, one a second to a chat and 20 a minute to
a group.

* In all we go at 29 a second: thirty intervals then last 1.034 s, and neither a late wake-up (made good up to ``slack``) nor
  some jitter on the way puts 31 messages into one second of a server that counts strictly. A process that has the budget to
  itself may make good for more (`ALONE`): it counts the starts of the last second too, which several could not.
* A chat is free one second after the server *answered* the last message, so that no delay on the way can bring two
  closer together than that. There is no burst: a server that enforces one a second would refuse it.
"""

import datetime as dt
from dataclasses import dataclass

EVERYTHING = 0  # the chat id under which the budget of everything together is kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """:param slack: how late a slot may be taken without the next one being later for it."""

    every: dt.timedelta = dt.timedelta(seconds=1) / 29
    slack: dt.timedelta = dt.timedelta(milliseconds=15)
    chat_every: dt.timedelta = dt.timedelta(seconds=1)
    group_every: dt.timedelta = dt.timedelta(seconds=3)

    def chat_free_at(self, chat_id: int, answered_at: dt.datetime) -> dt.datetime:
        """When this chat may be written to again; groups have negative ids."""
        return answered_at + (self.chat_every if chat_id > 0 else self.group_every)

    def opens_at(self, free_at: dt.datetime) -> dt.datetime:
        """The first instant at which the next message of all may start."""
        return free_at - self.slack

    def after_taking(self, free_at: dt.datetime, now: dt.datetime) -> dt.datetime:
        """The budget of everything once a message has started ``now``."""
        return max(free_at, now) + self.every


ALONE = Pace(slack=dt.timedelta(milliseconds=300))
