"""What is done before a message is handled, outside of its transaction: a file is fetched, a population is learnt.

The house says what it wants (:data:`Wish`); it is done beside the queue; the message is handled with what came of it
(:data:`Granted`).
"""

import datetime as dt
from dataclasses import dataclass
from typing import TypeAlias

from bot.chats.files import Brought, Wanted
from core.adherence.forecast import Population


@dataclass(frozen=True, slots=True)
class ToLearn:
    """What a first promise is reckoned by: everybody's weeks up to a day."""

    today: dt.date


Wish: TypeAlias = Wanted | ToLearn
Granted: TypeAlias = Brought | Population
