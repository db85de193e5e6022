"""Lives in memory, with a forecast by dice: many client-weeks a second, and the rules tried hard.

The odds are nothing that a client has earned, mostly high: so the rules of the promise alone keep the recommendation down. What
follows from them is the house's own doing.
"""

import random
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from types import SimpleNamespace
from typing import Any
from unittest import mock

from bot import learning
from core.adherence import advice
from core.adherence.forecast import Odds
from core.digest import picture
from core.usecases import recommend
from tests.bot.rounds.lives import Lives
from tests.bot.rounds.memory_store import in_memory
from tests.bot.rounds.short_ways import short_ways
from tests.playhouse import Play

SLOW_WORDS = frozenset({"/now"})  # a session is built: not what is looked at here


def by_dice(dice: random.Random) -> Any:
    """Odds of any size of promise, falling with the size."""

    def odds(_belief: object, _plan: object) -> Odds:
        first, step = dice.choice((0.99, 0.95, 0.9, 0.6)), dice.choice((0.0, 0.01, 0.05, 0.2))
        keep = {k: max(0.01, first - step * (k - 1)) for k in range(1, 8)}
        return Odds(
            keep=keep,
            expected={k: k * p for k, p in keep.items()},
            engaged=dice.choice((0.95, 0.4)),
            lighter=dice.choice((0.5, 0.95)),
        )

    return odds


async def at_once(work: Callable[..., Any], *given: object) -> Any:
    """Lives may be led without a loop: what the house does in a thread is done here."""
    return work(*given)


@contextmanager
def quickly(dice: random.Random) -> Iterator[None]:
    """Nothing is learnt and nothing drawn meanwhile, and the store may only be one in memory."""
    nothing_learnt = mock.patch.object(recommend, "fit", return_value=object())
    believed = mock.patch.object(
        advice, "believe", lambda _rows, learnt, day: SimpleNamespace(as_of=day, population=learnt)
    )
    with ExitStack() as stack:
        for each in (
            nothing_learnt,
            believed,
            mock.patch.object(advice, "odds", by_dice(dice)),
            mock.patch.object(learning, "to_thread", at_once),
            mock.patch.object(picture, "picture", return_value=b""),
            short_ways(),
        ):
            stack.enter_context(each)
        yield


async def live_quickly(
    seed: int, *, clients: int, weeks: int, without: Sequence[tuple[Any, str, Any]] = ()
) -> Lives:
    """`without`: what to put in the place of the house's own, as (where, name, what)."""
    with quickly(random.Random(seed + 1)), ExitStack() as stack:
        for place, name, instead in without:
            stack.enter_context(mock.patch.object(place, name, instead))
        lives = Lives(Play(in_memory()), random.Random(seed), silent_on=SLOW_WORDS)
        await lives.enter(clients)
        await lives.live(weeks)
    return lives
