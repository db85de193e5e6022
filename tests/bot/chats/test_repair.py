"""A missed session's patterns move into the next one, and the client sees why."""

import datetime as dt

from bot.chats.buttons import Button, button
from core.people.model import Client
from core.store import house
from core.terms import Block, Outcome, Pattern
from core.usecases import answer
from core.usecases.carrying import carried_by
from core.week.model import Ask
from tests.playhouse import CLIENT_ID, Play, said_to

MONDAY, WEDNESDAY = (dt.datetime(2026, 11, 30, 20, tzinfo=dt.UTC), dt.datetime(2026, 12, 2, 6, tzinfo=dt.UTC))


async def week_of_two(play: Play) -> tuple[Client, list[Ask]]:
    client = await play.client()
    await play.agreed(client, 2)
    async with play.store.reading() as tx:
        asks = await house.asks_of(tx, client.id)
    return client, asks


async def test_what_was_missed_is_in_the_next_and_the_client_reads_why(play: Play) -> None:
    client, asks = await week_of_two(play)
    async with play.store.begin() as tx:
        await answer.write_outcome(tx, client, Outcome.MISSED, at=MONDAY, ask_id=asks[0].id)
    play.at = WEDNESDAY
    async with play.store.reading() as tx:
        carried = await carried_by(tx, client, Block.HYPERTROPHY, at=play.at, ask=asks[1])
    assert set(carried.patterns) == set(Pattern)
    data = play.house.desk.signer.data(_show(asks[1].id), CLIENT_ID)
    shown = said_to(await play.presses(CLIENT_ID, "", data=data), CLIENT_ID)
    assert "moved here from the session that was missed" in shown.splitlines()[0]


async def test_after_a_done_one_nothing_moves(play: Play) -> None:
    client, asks = await week_of_two(play)
    async with play.store.begin() as tx:
        first = await carried_by(tx, client, Block.HYPERTROPHY, at=MONDAY, ask=asks[0])
        await answer.write_outcome(tx, client, Outcome.DONE, at=MONDAY, ask_id=asks[0].id)
    async with play.store.reading() as tx:
        second = await carried_by(tx, client, Block.HYPERTROPHY, at=WEDNESDAY, ask=asks[1])
    assert second.why == ""
    assert {*first.patterns, *second.patterns} == set(Pattern)
    assert first.patterns[0] not in second.patterns


def _show(ask_id: int) -> Button:
    return button("Show the session", "show", ask_id)
