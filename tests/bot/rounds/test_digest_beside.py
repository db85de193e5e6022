"""The digest is made beside the conversations: nobody waits for it."""

import asyncio
import datetime as dt
import threading
from collections.abc import Mapping, Sequence

import pytest

from core.adherence.forecast import Population, fit
from core.adherence.history import HistoryRow
from core.store.engine import Store
from core.usecases import recommend
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

SUNDAY_EVENING = dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC)


async def test_who_writes_while_the_forecast_is_reckoned_is_answered_at_once(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    play = Play(store)
    await play.coach()
    await play.client()
    loop, begun, answered = asyncio.get_running_loop(), asyncio.Event(), threading.Event()

    def slowly(cohort: Mapping[str, Sequence[HistoryRow]], today: dt.date) -> Population:
        loop.call_soon_threadsafe(begun.set)
        assert answered.wait(20), "nobody could be answered meanwhile"
        return fit(cohort, today)

    monkeypatch.setattr(recommend, "fit", slowly)
    play.at = SUNDAY_EVENING
    ticking = asyncio.create_task(play.house.tick(store, play.at))
    await begun.wait()
    assert said_to(await play.says(CLIENT_ID, "/week"), CLIENT_ID)
    answered.set()
    await ticking
    assert [m for m in await play.waiting(COACH_ID) if m.key.startswith("digest:")]
