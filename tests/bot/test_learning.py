"""A first promise is reckoned by everybody's weeks: that takes seconds, and nobody waits for it but the coach who confirms."""

from collections.abc import AsyncIterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest

from bot.fetcher import Fetcher
from core.adherence import forecast
from core.adherence.forecast import Population
from core.store import house
from core.store.engine import Store
from core.usecases import recommend
from tests.bot.queues import Queues, message, queues_on
from tests.playhouse import CLIENT_ID, COACH_ID, Play

CONFIRM = "Confirm, begin on Monday"


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    return stage


@pytest.fixture
async def queues(play: Play) -> AsyncIterator[Queues]:
    """The queues in front of the house itself."""
    async with queues_on(play.store) as found:
        found.dispatcher._handle = play.house.handle
        found.dispatcher._fetcher = Fetcher(play.store, found.api, play.house.wants)
        yield found


async def handled(queues: Queues, update: dict[str, Any]) -> None:
    await queues.receiver.take([update])
    while await queues.dispatcher.handle_next() or queues.dispatcher._fetches:
        await queues.dispatcher.finish()


async def confirms(play: Play, queues: Queues, update_id: int) -> None:
    newest = [m for m in await play.waiting(COACH_ID) if CONFIRM in m.buttons][-1]
    who = message(1, chat=COACH_ID)["message"]
    pressed = {"id": "1", "from": who["from"], "message": who, "data": newest.buttons[CONFIRM]}
    await handled(queues, {"update_id": update_id, "callback_query": pressed})


async def promises(store: Store) -> int:
    async with store.reading() as tx:
        return len(await house.promises.list(tx))


@pytest.fixture
def open_meanwhile(store: Store, monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many transactions were open each time that something was learnt."""
    found = list[int]()

    def look(cohort: Mapping[str, Sequence[Any]], today: Any) -> Population:
        found.append(store.engine.sync_engine.pool.checkedout())  # type: ignore[attr-defined]
        return forecast.fit(cohort, today)

    monkeypatch.setattr(recommend, "fit", look)
    return found


async def test_nothing_is_open_in_the_database_while_a_first_promise_is_reckoned(
    play: Play, queues: Queues, open_meanwhile: list[int]
) -> None:
    await play.enrol(CLIENT_ID, await play.invitation(COACH_ID, "Mara"))
    await confirms(play, queues, 900)
    assert await promises(play.store) == 1
    assert open_meanwhile == [0]


async def test_nor_where_a_note_goes_with_the_confirmation(
    play: Play, queues: Queues, open_meanwhile: list[int]
) -> None:
    await play.enrol(CLIENT_ID, await play.invitation(COACH_ID, "Mara"))
    await _needs_a_doctor(play)
    await confirms(play, queues, 900)
    assert await promises(play.store) == 0
    await handled(queues, message(901, "Dr Sousa agreed on Tuesday", chat=COACH_ID))
    assert await promises(play.store) == 1
    assert set(open_meanwhile) == {0}


async def test_what_is_written_otherwise_is_answered_without_learning_anything(
    play: Play, queues: Queues, open_meanwhile: list[int]
) -> None:
    await play.client()
    open_meanwhile.clear()
    await handled(queues, message(900, "hello", chat=CLIENT_ID))
    await handled(queues, message(901, "/clients", chat=COACH_ID))
    assert await queues.inbox_states() == ["handled", "handled"]
    assert open_meanwhile == []


async def _needs_a_doctor(play: Play) -> None:
    async with play.store.begin() as tx:
        [answers] = await house.screenings.list(tx)
        await house.screenings.save(
            tx, replace(answers, answers={**answers.answers, "verdict": "doctor first"})
        )
