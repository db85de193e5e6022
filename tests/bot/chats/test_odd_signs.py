"""Digits that are none: '²' and '①' count as digits in Unicode and are no numbers."""

import pytest

from core.store.engine import Store
from tests.playhouse import CLIENT_ID, Play, said_to

SETTINGS = (
    "where I live",
    "sessions lately",
    "minutes",
    "what hurts",
    "goal",
    "best days",
    "hour",
    "sleep",
    "quiet hours",
)


@pytest.mark.parametrize("sign", ["²", "①", "٣", "９９９"])
async def test_every_question_answers_to_every_sign(store: Store, sign: str) -> None:
    play = Play(store)
    await play.coach()
    await play.client()
    for label in SETTINGS:
        await play.says(CLIENT_ID, "/settings")
        await play.presses(CLIENT_ID, label)
        assert said_to(await play.says(CLIENT_ID, sign), CLIENT_ID)
