"""Waking a loop that waits: whoever puts a row there rings."""

import asyncio
import contextlib


class Bell:
    """Rings that come while nobody waits are not lost; many count as one."""

    def __init__(self) -> None:
        self._rung = asyncio.Event()

    def ring(self) -> None:
        self._rung.set()

    async def wait(self, at_most_s: float) -> None:
        """Until it rings, or that long."""
        await wait_at_most(self._rung, at_most_s)
        self._rung.clear()


async def wait_at_most(event: asyncio.Event, at_most_s: float) -> None:
    """Until it is set, or that long."""
    with contextlib.suppress(TimeoutError):
        async with asyncio.timeout(max(at_most_s, 0)):
            await event.wait()
