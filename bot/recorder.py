"""What became of a message, written down: one transaction, in which the house is told too."""

import datetime as dt
import logging
import random
from dataclasses import replace
from typing import Protocol

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.backoff import backoff
from bot.clock import Clock
from bot.outcome import (
    Misconfigured,
    Moved,
    NotSent,
    Outcome,
    Refused,
    Rejected,
    Sent,
    Uncertain,
    Unparsed,
    Unreachable,
)
from bot.plain_text import as_plain
from core.store import claims
from core.store.engine import Store
from core.store.lanes import POLICIES, State
from core.store.outbox import Queued
from core.store.pace import EVERYTHING, Pace

log = logging.getLogger(__name__)

# How often one message may be sent without our learning what became of it: about half an hour.
MAX_UNCERTAIN = 12
SEVERAL_REFUSED = dt.timedelta(seconds=10)  # two chats refused within: then it is not the chats
WRONG_TOKEN_PAUSE = dt.timedelta(seconds=30)


class Hooks(Protocol):
    """What the house has to say about a message, and wants to know of it. Both run inside the sender's transactions."""

    async def still_true(self, tx: AsyncConnection, row: Queued) -> bool:
        """Asked at the last moment: whether it should still be sent."""
        ...

    async def ended(self, tx: AsyncConnection, row: Queued, state: State) -> None:
        """Told once: sent, expired (stale, or no longer true), dead, uncertain or unreachable."""
        ...


class Recorder:
    """Counts what ended how, for the metrics."""

    def __init__(
        self, store: Store, hooks: Hooks, *, clock: Clock, machine: Clock, chance: random.Random, pace: Pace
    ) -> None:
        self._store = store
        self._hooks = hooks
        self._clock = clock
        self._machine = machine
        self._chance = chance
        self._pace = pace
        self._outages = 0
        self.ended = dict.fromkeys(State, 0)
        self.refused = 0

    async def record(self, row: Queued, outcome: Outcome) -> None:
        machine_now = self._machine.now()
        async with self._store.begin() as tx:
            free_at = self._pace.chat_free_at(row.chat_id, machine_now)
            await claims.set_budgets(tx, {row.chat_id: free_at})
            await self._settle(tx, row, outcome, machine_now)
        if not isinstance(outcome, NotSent | Misconfigured):
            self._outages = 0

    async def _settle(
        self, tx: AsyncConnection, row: Queued, outcome: Outcome, machine_now: dt.datetime
    ) -> None:
        match outcome:
            case Sent(message_id=message_id):
                await self.end(tx, row, State.SENT, message_id=message_id)
            case NotSent(why):
                await self._wait_out(tx, row, why, machine_now)
            case Misconfigured(why):
                await self._wait_for_the_operator(tx, row, why, machine_now)
            case Refused(retry_after):
                await self._slow_down(tx, row, retry_after, machine_now)
            case Unreachable(why):
                await self.end(tx, row, State.UNREACHABLE, error=why)
            case Moved(to):
                await claims.put_back(tx, row, attempts=row.attempts - 1)
                await claims.readdress(tx, row.chat_id, to)
            case Unparsed():
                await self._as_plain_text(tx, row)
            case Rejected(why):
                await self.end(tx, row, State.DEAD, error=why)
            case Uncertain(why):
                await self._doubt(tx, row, why, machine_now)

    async def _wait_out(self, tx: AsyncConnection, row: Queued, why: str, machine_now: dt.datetime) -> None:
        """No connection: nothing else would get through either."""
        self._outages += 1
        wait = backoff(self._outages, self._chance, longest=dt.timedelta(seconds=30))
        log.warning(
            "message %s was not sent (%s); everything waits %.0f s", row.id, why, wait.total_seconds()
        )
        await claims.put_back(tx, row, attempts=row.attempts - 1, error=why)
        await claims.set_budgets(tx, {EVERYTHING: machine_now + wait})

    async def _wait_for_the_operator(
        self, tx: AsyncConnection, row: Queued, why: str, machine_now: dt.datetime
    ) -> None:
        log.error("message %s was not sent: %s; run 'keptword doctor'", row.id, why)
        await claims.put_back(tx, row, attempts=row.attempts - 1, error=why)
        await claims.set_budgets(tx, {EVERYTHING: machine_now + WRONG_TOKEN_PAUSE})

    async def _slow_down(
        self, tx: AsyncConnection, row: Queued, retry_after: dt.timedelta, machine_now: dt.datetime
    ) -> None:
        """A stored deadline on the chat; on everything once several chats are refused. It survives a restart."""
        self.refused += 1
        log.warning("the server asks to wait %.0f s", retry_after.total_seconds())
        until = machine_now + retry_after + dt.timedelta(seconds=self._chance.uniform(0.05, 0.25))
        await claims.put_back(tx, row, attempts=row.attempts - 1, error="asked to wait")
        await claims.set_budgets(tx, {row.chat_id: until}, refused_at=machine_now)
        if await claims.refused_chats(tx, machine_now - SEVERAL_REFUSED) >= 2:
            await claims.set_budgets(tx, {EVERYTHING: until})

    async def _as_plain_text(self, tx: AsyncConnection, row: Queued) -> None:
        plain = as_plain(row.payload)
        if plain == row.payload:
            await self.end(tx, row, State.DEAD, error="the server cannot parse it")
            return
        log.error("message %s (%s) has broken markup and is sent as plain text", row.id, row.kind)
        await claims.put_back(tx, row, payload=plain, error="broken markup")

    async def _doubt(self, tx: AsyncConnection, row: Queued, why: str, machine_now: dt.datetime) -> None:
        if not POLICIES[row.kind].resend_if_uncertain or row.attempts >= MAX_UNCERTAIN:
            await self.end(tx, row, State.UNCERTAIN, error=why)
            return
        wait = backoff(row.attempts, self._chance)
        await claims.put_back(tx, row, try_after=machine_now + wait, error=why)

    async def end(
        self,
        tx: AsyncConnection,
        row: Queued,
        state: State,
        *,
        message_id: int | None = None,
        error: str | None = None,
    ) -> None:
        if not await claims.end(tx, row, state, at=self._clock.now(), message_id=message_id, error=error):
            log.warning("message %s was taken over by another sender before it was recorded", row.id)
            return
        self.ended[state] += 1
        if state not in {State.SENT, State.EXPIRED}:
            log.warning("message %s (%s) is %s: %s", row.id, row.kind, state, error)
        try:
            async with tx.begin_nested():
                await self._hooks.ended(
                    tx, replace(row, state=state, message_id=message_id, error=error), state
                )
        except Exception:  # that it went out must be recorded all the same
            log.exception("message %s (%s) is %s, but the house failed over it", row.id, row.kind, state)
