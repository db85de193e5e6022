"""A counter that rises with every change, and a way to wait for the next."""

import asyncio


class Changes:
    """Lives in one event loop. ``close`` lets everybody who waits go at once."""

    def __init__(self) -> None:
        self.revision = 0
        self.closed = False
        self._next = asyncio.Event()

    def mark(self) -> int:
        """Something changed: wake those who wait, and return the new revision."""
        self.revision += 1
        self._wake()
        return self.revision

    async def after(self, seen: int, *, seconds: float) -> int:
        """Wait until there is something newer than ``seen``, at most so long; the revision reached."""
        if self.revision <= seen and not self.closed:
            waiting = self._next
            try:
                async with asyncio.timeout(seconds):
                    await waiting.wait()
            except TimeoutError:
                pass
        return self.revision

    def close(self) -> None:
        self.closed = True
        self._wake()

    def _wake(self) -> None:
        self._next.set()
        self._next = asyncio.Event()
