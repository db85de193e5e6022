"""The parts of the local server in one place."""

from dataclasses import dataclass

from bot.clock import Clock, SystemClock
from bot.rehearsal.botapi.limits import Limits
from bot.rehearsal.botapi.trouble import Trouble
from bot.rehearsal.botapi.webhook import Webhook
from bot.rehearsal.botapi.world import World


@dataclass(frozen=True, slots=True)
class BotApi:
    world: World
    limits: Limits
    trouble: Trouble
    webhook: Webhook

    async def close(self) -> None:
        """Let go of everybody who waits."""
        await self.webhook.remove()
        self.world.changes.close()
        self.world.updates.wake()


def make_api(clock: Clock, *, limits: Limits | None = None, world: World | None = None) -> BotApi:
    """A server whose messages are dated by this clock.

    Limits are those of real seconds unless others are given: a clock that stands still would never let a second pass.
    """
    world = world or World(clock)
    return BotApi(world, limits or Limits(SystemClock()), Trouble(), Webhook(world.updates, clock))
