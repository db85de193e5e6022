"""Waking a loop that waits: whoever puts a row there rings."""

import asyncio


class Bell:
    """Rings that come while nobody waits are not lost; many count as one."""

    def __init__(self) -> None:
        self._rung = asyncio.Event()

    def ring(self) -> None:
        self._rung.set()

    async def wait(self, at_most_s: float) -> None:
        """Until it rings, or that long."""
        try:
            async with asyncio.timeout(max(at_most_s, 0)):
                await self._rung.wait()
        except TimeoutError:
            return
        self._rung.clear()
