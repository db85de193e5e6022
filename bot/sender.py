"""Outbox -> Telegram, in three steps: claim (a transaction), send (no transaction), record (a transaction)."""

import asyncio
import datetime as dt
import logging
import random
from dataclasses import dataclass, replace

from sqlalchemy.exc import DBAPIError
from sqlalchemy.ext.asyncio import AsyncConnection

from bot.backoff import backoff
from bot.bell import Bell
from bot.bot_api import LONGEST_CALL_S, BotApi, parameters_of
from bot.clock import Clock
from bot.outcome import NotSent, Outcome, Rejected, Sent, outcome_of
from bot.recorder import Hooks, Recorder
from bot.steady import Steady
from core.store import claims
from core.store.claims import Outlook
from core.store.engine import Store
from core.store.lanes import POLICIES, State
from core.store.outbox import Queued
from core.store.pace import EVERYTHING, Pace

log = logging.getLogger(__name__)

LEASE = dt.timedelta(seconds=LONGEST_CALL_S + 30)
TOO_LATE = dt.timedelta(seconds=20)  # after claiming: then rather not, the lease might run out under way
MAX_DEATHS = 5  # senders that may die over one message
IDLE_S = 1.0
TIDY_EVERY = dt.timedelta(seconds=0.5)
IN_FLIGHT = 32


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """Whether there was something to do; the message to send, if that was it; else when the next may go, where that is known."""

    worked: bool
    row: Queued | None = None
    opens_at: dt.datetime | None = None


class _Untold(Exception):  # noqa: N818 - it is caught a few lines further on
    """The house could not say whether a message is still true."""

    def __init__(self, row: Queued, error: Exception) -> None:
        super().__init__()
        self.row = row
        self.error = error


class Sender:
    """Claims and sends.

    :param clock: the house's time, by which messages are due and stale.
    :param machine: by which leases run out, back-offs end and budgets fill.
    """

    def __init__(
        self,
        store: Store,
        api: BotApi,
        hooks: Hooks,
        *,
        clock: Clock,
        machine: Clock,
        chance: random.Random,
        bell: Bell,
        pace: Pace | None = None,
    ) -> None:
        self._store = store
        self._api = api
        self._hooks = hooks
        self._pace = pace or Pace()
        self._recorder = Recorder(store, hooks, clock=clock, machine=machine, chance=chance, pace=self._pace)
        self._clock = clock
        self._machine = machine
        self._chance = chance
        self._bell = bell
        self._steady = Steady()
        self._tidied_at: tuple[dt.datetime, dt.datetime] | None = None  # by both clocks

    @property
    def recorder(self) -> Recorder:
        return self._recorder

    async def send_next(self) -> bool:
        """Do one thing: send a message, or end one that is stale or left behind. False where nothing can be done now."""
        claim = await self._claim()
        if claim.row is not None:
            await self._deliver(claim.row)
        return claim.worked

    async def outlook(self) -> Outlook:
        """When the next message could go: for whoever moves the clocks by hand, and to know how long to sleep."""
        now, machine_now = self._clock.now(), self._machine.now()
        async with self._store.begin() as tx:
            opens_at = self._pace.opens_at(await claims.hold_budget(tx))
            found = await claims.outlook(tx, now, machine_now)
        if found.ready_at is None:
            return found
        return replace(found, ready_at=max(found.ready_at, opens_at, self._steady.opens_at() or opens_at))

    async def forever(self, stopping: asyncio.Event) -> None:
        """Claim one after another, send side by side. What is under way when we stop is finished, not cut off."""
        under_way: set[asyncio.Task[None]] = set()
        try:
            while not stopping.is_set():
                claim = await self._claim()
                if claim.row is not None:
                    task = asyncio.create_task(self._deliver(claim.row))
                    under_way.add(task)
                    task.add_done_callback(under_way.discard)
                if len(under_way) >= IN_FLIGHT:
                    await asyncio.wait(under_way, return_when=asyncio.FIRST_COMPLETED)
                elif not claim.worked:
                    await self._rest(claim)
        finally:
            if under_way:
                await asyncio.wait(under_way, timeout=LONGEST_CALL_S)

    async def _rest(self, claim: Claim) -> None:
        """Until the budget of everything is free again, which nobody can hasten; or until something may have changed."""
        if claim.opens_at is not None:
            pause_s = (claim.opens_at - self._machine.now()).total_seconds()
            await asyncio.sleep(min(max(pause_s, 0.0), IDLE_S))
        else:
            await self._bell.wait(self._pause_s(await self.outlook()))

    def _pause_s(self, found: Outlook) -> float:
        pauses = [IDLE_S]
        if found.due_at is not None:
            pauses.append((found.due_at - self._clock.now()).total_seconds())
        if found.ready_at is not None:
            pauses.append((found.ready_at - self._machine.now()).total_seconds())
        return max(min(pauses), 0.01)

    async def _claim(self) -> Claim:
        """The next message to send, if one may go now."""
        try:
            return await self._try_to_claim()
        except _Untold as untold:
            await self._set_back(untold)
            return Claim(worked=True)

    async def _try_to_claim(self) -> Claim:
        now, machine_now = self._clock.now(), self._machine.now()
        async with self._store.begin() as tx:
            free_at = await claims.hold_budget(tx)
            if await self._tidy(tx, now, machine_now):
                return Claim(worked=True)
            opens_at = max(
                self._pace.opens_at(free_at), self._steady.opens_at() or free_at - self._pace.slack
            )
            if opens_at > machine_now:
                return Claim(worked=False, opens_at=opens_at)
            row = await claims.next_to_send(tx, now, machine_now)
            if row is None:
                return Claim(worked=False)
            if not await self._is_still_true(tx, row):
                await self._recorder.end(tx, row, State.EXPIRED, error="no longer true")
                return Claim(worked=True)
            return Claim(worked=True, row=await self._start(tx, row, free_at, machine_now))

    async def _start(
        self, tx: AsyncConnection, row: Queued, free_at: dt.datetime, machine_now: dt.datetime
    ) -> Queued | None:
        lease, until = f"{self._chance.getrandbits(64):016x}", machine_now + LEASE
        if not await claims.start(tx, row, lease=lease, lease_until=until):
            return None
        taken = {
            EVERYTHING: self._pace.after_taking(free_at, machine_now),
            row.chat_id: self._pace.chat_free_at(row.chat_id, machine_now),
        }
        await claims.set_budgets(tx, taken)
        self._steady.claim()
        return replace(row, state=State.SENDING, attempts=row.attempts + 1, lease=lease, lease_until=until)

    async def _tidy(self, tx: AsyncConnection, now: dt.datetime, machine_now: dt.datetime) -> int:
        """End what is stale, and what was left behind: not at every step of a broadcast, but whenever a clock has moved on."""
        since = self._tidied_at
        if since is not None and now - since[0] < TIDY_EVERY and machine_now - since[1] < TIDY_EVERY:
            return 0
        changed = await self._end_stale(tx, now) + await self._take_over(tx, machine_now)
        if not changed:
            self._tidied_at = now, machine_now
        return changed

    async def _end_stale(self, tx: AsyncConnection, now: dt.datetime) -> int:
        rows = await claims.stale(tx, now)
        for row in rows:
            await self._recorder.end(tx, row, State.EXPIRED, error="stale")
        return len(rows)

    async def _take_over(self, tx: AsyncConnection, machine_now: dt.datetime) -> int:
        """Messages whose sender died while they were under way: they may have gone out."""
        rows = await claims.orphans(tx, machine_now)
        for row in rows:
            if POLICIES[row.kind].resend_if_uncertain and row.attempts < MAX_DEATHS:
                await claims.put_back(tx, row, error="the sender died")
            else:
                await self._recorder.end(tx, row, State.UNCERTAIN, error="the sender died")
        return len(rows)

    async def _is_still_true(self, tx: AsyncConnection, row: Queued) -> bool:
        try:
            return await self._hooks.still_true(tx, row)
        except Exception as error:
            raise _Untold(row, error) from error

    async def _set_back(self, untold: "_Untold") -> None:
        """The house cannot say whether it should be sent: ask again later, a few times."""
        row, error, attempts = untold.row, untold.error, untold.row.attempts + 1
        log.warning("message %s (%s): the house could not say", row.id, row.kind, exc_info=error)
        async with self._store.begin() as tx:
            if attempts >= MAX_DEATHS:
                await self._recorder.end(tx, row, State.DEAD, error=type(error).__name__)
                return
            wait = backoff(attempts, self._chance)
            await claims.put_back(tx, row, attempts=attempts, try_after=self._machine.now() + wait)

    async def _deliver(self, row: Queued) -> None:
        outcome = await self._send(row)
        for pause_s in (0.2, 1.0, 3.0):
            try:
                await self._recorder.record(row, outcome)
            except DBAPIError as error:  # what is known of it must not be lost to a hiccup of the database
                log.warning("message %s could not be recorded yet (%s)", row.id, type(error).__name__)
                await asyncio.sleep(pause_s)
            else:
                break
        else:
            await self._recorder.record(row, outcome)
        self._bell.ring()

    async def _send(self, row: Queued) -> Outcome:
        self._steady.start(self._machine.now())
        if row.lease_until is None or self._machine.now() > row.lease_until - LEASE + TOO_LATE:
            return NotSent("claimed too long ago")
        try:
            parameters = parameters_of(row.chat_id, row.payload)
        except ValueError as error:
            return Rejected(str(error))
        try:
            result = await self._api.call(row.method, parameters)
        except Exception as error:  # noqa: BLE001 - judged by kind
            return outcome_of(error)
        return Sent(_message_id(result))


def _message_id(result: object) -> int | None:
    """Of a message, or of the first of an album; some methods return true."""
    if isinstance(result, list) and result:
        result = result[0]
    number = result.get("message_id") if isinstance(result, dict) else None
    return number if isinstance(number, int) else None
