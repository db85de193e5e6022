"""Digits that are none: '²' and '①' count as digits in Unicode and are no numbers."""

import pytest

from core.store.engine import Store
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

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


@pytest.mark.parametrize("sign", ["\0", "\ud83d"], ids=["nothing at all", "half a picture"])
async def test_what_no_database_takes_is_left_out_of_what_was_said(store: Store, sign: str) -> None:
    """JSON can carry both; Telegram does not send them, but a proxy in between may."""
    play = Play(store)
    await play.coach()
    await play.client()
    assert said_to(await play.says(CLIENT_ID, f"my knee {sign}hurts"), CLIENT_ID)
    invited = await play.says(COACH_ID, f"/invite Do{sign}v")
    assert "Dov" in said_to(invited, COACH_ID)
