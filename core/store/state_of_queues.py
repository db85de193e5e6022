"""How the queues stand: for the metrics, and for the operator."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.ext.asyncio import AsyncConnection

from core.store.inbox import DEAD, WAITING
from core.store.lanes import Lane, State
from core.store.queue_tables import inbox, outbox

LATELY = dt.timedelta(days=7)
TO_LOOK_AT = (State.DEAD, State.UNCERTAIN, State.UNREACHABLE)


@dataclass(frozen=True, slots=True, kw_only=True)
class StateOfQueues:
    """What waits, and what somebody may want to look at.

    :param set_aside: updates that could not be handled, in the last seven days.
    :param due: messages that wait and are due, by lane.
    :param ended: messages of the last seven days that somebody may want to look at, by state.
    """

    to_handle: int
    oldest_to_handle: dt.datetime | None
    set_aside: int
    due: Mapping[Lane, int]
    ended: Mapping[State, int]


async def state_of_queues(tx: AsyncConnection, *, at: dt.datetime) -> StateOfQueues:
    waiting = select(func.count(), func.min(inbox.c.received_at)).where(inbox.c.state == WAITING)
    to_handle, oldest = (await tx.execute(waiting)).one()
    dead = select(func.count()).where(inbox.c.handled_at > at - LATELY, inbox.c.state == DEAD)
    due = (
        select(outbox.c.lane, func.count())
        .where(outbox.c.state == State.WAITING.value, outbox.c.not_before <= at)
        .group_by(outbox.c.lane)
    )
    ended = (
        select(outbox.c.state, func.count())
        .where(outbox.c.ended_at > at - LATELY, outbox.c.state.in_([state.value for state in TO_LOOK_AT]))
        .group_by(outbox.c.state)
    )
    return StateOfQueues(
        to_handle=to_handle,
        oldest_to_handle=oldest,
        set_aside=(await tx.execute(dead)).scalar_one(),
        due=dict.fromkeys(Lane, 0) | {Lane(lane): count for lane, count in (await tx.execute(due)).all()},
        ended=dict.fromkeys(TO_LOOK_AT, 0)
        | {State(state): count for state, count in (await tx.execute(ended)).all()},
    )
