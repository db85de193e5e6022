import datetime as dt
from typing import Any

from sqlalchemy import insert, select, text

from core.store import housekeeping, leases
from core.store.engine import Store
from core.store.queue_tables import budget, inbox, outbox

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
DAY = dt.timedelta(days=1)


async def _fill(store: Store) -> None:
    def update(number: int, age_days: float, state: str = "handled") -> dict[str, Any]:
        at = None if state == "waiting" else NOON - age_days * DAY
        return {
            "epoch": "e", "update_id": number, "chat_id": 7, "body": {"text": "hip"}, "state": state,
            "received_at": NOON - age_days * DAY, "handled_at": at,
        }  # fmt: skip

    def said(key: str, age_days: float) -> dict[str, Any]:
        at = NOON - age_days * DAY
        return {
            "key": key, "chat_id": 7, "kind": "reply", "lane": 1, "method": "sendMessage", "payload": {"text": "hip"},
            "state": "sent", "not_before": at, "enqueued_at": at, "ended_at": at,
        }  # fmt: skip

    async with store.begin() as tx:
        await tx.execute(insert(inbox), [update(1, 6), update(2, 8), update(3, 31), update(4, 99, "waiting")])
        await tx.execute(insert(outbox), [said("new", 6), said("old", 8), said("ancient", 401)])
        await tx.execute(insert(budget), [{"chat_id": n, "free_at": NOON - n * DAY} for n in (0, 2)])


async def test_words_are_forgotten_after_a_week_and_marks_later(store: Store) -> None:
    await _fill(store)
    async with store.begin() as tx:
        assert await housekeeping.tidy(tx, at=NOON, machine_now=NOON) > 0
        assert await housekeeping.tidy(tx, at=NOON, machine_now=NOON) == 0
        updates = (await tx.execute(select(inbox.c.update_id, inbox.c.body).order_by(inbox.c.id))).all()
        messages = (await tx.execute(select(outbox.c.key, outbox.c.payload).order_by(outbox.c.id))).all()
        budgets = list((await tx.execute(select(budget.c.chat_id))).scalars())
    assert [tuple(row) for row in updates] == [(1, {"text": "hip"}), (2, None), (4, {"text": "hip"})]
    assert [tuple(row) for row in messages] == [("new", {"text": "hip"}), ("old", None)]
    assert budgets == [0]


async def test_a_blanked_body_is_really_gone(store: Store) -> None:
    await _fill(store)
    async with store.begin() as tx:
        await housekeeping.tidy(tx, at=NOON, machine_now=NOON)
        left = (await tx.execute(text("SELECT count(*) FROM inbox WHERE body IS NULL"))).scalar_one()
    assert left == 1


async def test_a_lease_is_one_holders_until_it_runs_out_or_is_given_back(store: Store) -> None:
    async def hold(holder: str, at: dt.datetime) -> bool:
        async with store.begin() as tx:
            return await leases.hold(tx, "receiver", holder, now=at, lasting=DAY)

    assert await hold("one", NOON)
    assert not await hold("two", NOON)
    assert await hold("one", NOON + DAY / 2)  # renewed
    assert not await hold("two", NOON + DAY)
    assert await hold("two", NOON + 1.5 * DAY)
    async with store.begin() as tx:
        await leases.release(tx, "receiver", "one", now=NOON + 1.5 * DAY)  # not theirs any more
    assert not await hold("one", NOON + 1.6 * DAY)
    async with store.begin() as tx:
        await leases.release_all(tx, now=NOON + 1.6 * DAY)
    assert await hold("one", NOON + 1.6 * DAY)
