"""What the metronome calls: one person over whom it stumbles keeps nobody else waiting."""

import datetime as dt
import logging

import pytest
from sqlalchemy import text, update
from sqlalchemy.exc import OperationalError

import bot.house
from bot.dispatcher import MAX_ATTEMPTS
from bot.house import AGAIN_AFTER, APOLOGY
from bot.rounds import coach_round
from core.calendar.weeks import IsoWeek
from core.store import house
from core.store import house_tables as t
from core.store.engine import Store
from core.usecases.schedule import REPEAT_ALARM_AFTER
from tests.bot.queues import HOUR, message, queues_on
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

pytestmark = pytest.mark.stumbles

MONDAY_MORNING = dt.datetime(2026, 11, 30, 7, tzinfo=dt.UTC)
SUNDAY_EVENING = dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC)
NOWHERE = "Nowhere/At_All"  # a zone that fresh data may take away


async def _in_no_zone(play: Play, client_id: int) -> None:
    await play.change(client_id, zone=NOWHERE)


async def test_a_client_who_cannot_be_dealt_with_keeps_no_other_waiting(
    store: Store, caplog: pytest.LogCaptureFixture
) -> None:
    play = Play(store)
    await play.coach()
    mara = await play.client()
    dov = await play.client(user=CLIENT_ID + 1, name="Dov")
    for client in (mara, dov):
        await play.agreed(client, 3)
    await _in_no_zone(play, mara.id)
    play.at = MONDAY_MORNING
    with caplog.at_level(logging.ERROR, "bot.house"):
        await play.house.tick(store, play.at)
    assert "Still good?" in said_to(await play.news(), CLIENT_ID + 1)
    assert f"client {mara.id}" in caplog.text
    async with store.reading() as tx:
        assert (await house.clients.get(tx, mara.id)).next_due_at == MONDAY_MORNING + AGAIN_AFTER


async def test_a_client_who_cannot_be_dealt_with_is_dealt_with_once_mended(store: Store) -> None:
    play = Play(store)
    await play.coach()
    mara = await play.client()
    await play.agreed(mara, 3)
    await _in_no_zone(play, mara.id)
    play.at = MONDAY_MORNING
    await play.house.tick(store, play.at)
    await play.change(mara.id, zone="Europe/Lisbon")
    assert "Done already, or still to come?" in said_to(
        await play.until(MONDAY_MORNING + AGAIN_AFTER), CLIENT_ID
    )


async def test_a_coach_who_cannot_be_dealt_with_keeps_no_other_waiting(store: Store) -> None:
    play = Play(store)
    lost = await play.coach()
    await play.coach(user=COACH_ID + 1, name="Tomas Reis")
    await play.client(coach=COACH_ID + 1)
    async with store.begin() as tx:
        await tx.execute(update(t.coach).where(t.coach.c.id == lost.id).values(zone=NOWHERE))
    await play.until(SUNDAY_EVENING)
    assert [m for m in await play.waiting(COACH_ID + 1) if m.key.startswith("digest:")]


MARA = 1  # the number of the first client


async def _mara_and_dov(store: Store) -> Play:
    play = Play(store)
    await play.coach()
    await play.client()
    await play.client(user=CLIENT_ID + 1, name="Dov")
    return play


async def _spoilt(play: Play, client_id: int, **values: str) -> None:
    """Written past the house, as a hand in the database does."""
    async with play.store.begin() as tx:
        for name, value in values.items():
            await tx.execute(text(f"UPDATE client SET {name} = '{value}' WHERE id = {client_id}"))  # noqa: S608


BROKEN = pytest.mark.parametrize(
    ("broken", "why"),
    [
        ({"zone": NOWHERE}, "the time zone 'Nowhere/At_All' is not known"),
        ({"room": "attic"}, "something stored makes no sense (ValueError)"),
        ({"goal": "spoilt"}, "it was sealed with another data key"),
    ],
    ids=["a zone", "a word", "a seal"],
)


@BROKEN
async def test_a_client_who_cannot_be_read_is_named_in_the_digest_and_the_others_are_told_of(
    store: Store, broken: dict[str, str], why: str
) -> None:
    play = await _mara_and_dov(store)
    await _spoilt(play, MARA, **broken)
    said = said_to(await play.until(SUNDAY_EVENING), COACH_ID)
    assert f"<b>Mara</b> cannot be read: {why}." in said
    assert "<b>Dov</b>: " in said
    async with store.reading() as tx:
        coach = await house.coach_by_telegram(tx, COACH_ID)
    assert coach is not None
    assert coach.last_digest == IsoWeek(2026, 48)


@BROKEN
async def test_a_coach_can_look_at_the_others_beside_a_client_who_cannot_be_read(
    store: Store, broken: dict[str, str], why: str
) -> None:
    play = await _mara_and_dov(store)
    await _spoilt(play, MARA, **broken)
    for command in ("/clients", "/digest"):
        said = said_to(await play.says(COACH_ID, command), COACH_ID)
        assert f"cannot be read: {why}" in said
        assert "Dov" in said


@BROKEN
async def test_a_coach_settles_and_writes_to_the_others_beside_a_client_who_cannot_be_read(
    store: Store, broken: dict[str, str], why: str, caplog: pytest.LogCaptureFixture
) -> None:
    play = await _mara_and_dov(store)
    await play.client(user=CLIENT_ID + 2, name="Edda")
    await play.until(SUNDAY_EVENING)
    await _spoilt(play, MARA, **broken)
    assert "2 weeks settled" in said_to(await play.presses(COACH_ID, "Accept all 3"), COACH_ID)
    assert why in said_to(await play.says(COACH_ID, "/digest"), COACH_ID)
    [said] = await play.says(COACH_ID, "/write")
    assert {"Dov", "Edda"} <= set(said.buttons)
    told = {each.getMessage() for each in caplog.records if each.name == "core.store.unread"}
    assert [each.split(" ", maxsplit=2)[2] for each in told] == ["cannot be read, and is left out"]


@BROKEN
@pytest.mark.parametrize("words", ["chest pain right now", "done, 40 minutes"])
async def test_a_sign_of_danger_is_heeded_also_where_nothing_else_can_be_done_with_it(
    store: Store, broken: dict[str, str], why: str, words: str
) -> None:
    play = await _mara_and_dov(store)
    await _spoilt(play, MARA, **broken)
    async with queues_on(store) as queues:
        queues.dispatcher._handle, queues.dispatcher._apologise = play.house.handle, play.house.apologise
        await queues.receiver.take([message(900, words, chat=CLIENT_ID)])
        for _ in range(MAX_ATTEMPTS + 1):
            await queues.handle_all()
            queues.machine.advance(HOUR)
        assert await queues.inbox_states() == ["dead"]
    said = await play.news()
    if "pain" not in words:
        assert (said_to(said, CLIENT_ID), said_to(said, COACH_ID)) == (APOLOGY, "")
        return
    assert "Please stop training now" in said_to(said, CLIENT_ID)
    assert f"<blockquote>{words}</blockquote>" in said_to(said, COACH_ID)
    await play.presses(COACH_ID, "I have seen this")
    assert why in said_to(await play.says(COACH_ID, "/clients"), COACH_ID)


async def test_a_red_flag_is_told_again_also_of_a_client_whose_zone_is_not_known(store: Store) -> None:
    play = Play(store)
    await play.coach()
    mara = await play.client()
    await play.says(CLIENT_ID, "chest pain right now")
    await _in_no_zone(play, mara.id)
    said = said_to(await play.until(play.at + REPEAT_ALARM_AFTER), COACH_ID)
    assert "<b>RED FLAG</b> (told 2 times): Mara, Lisbon.\n" in said


async def test_a_red_flag_that_cannot_be_told_again_holds_up_no_digest(store: Store) -> None:
    play = await _mara_and_dov(store)
    play.at = SUNDAY_EVENING - dt.timedelta(minutes=5)
    await play.says(CLIENT_ID, "chest pain right now")
    await _spoilt(play, MARA, room="attic")
    play.at = SUNDAY_EVENING + REPEAT_ALARM_AFTER
    await play.house.tick(store, play.at)
    said = said_to(await play.news(), COACH_ID)
    assert "<b>Mara</b> cannot be read" in said
    assert "<b>Dov</b>: " in said
    await play.house.tick(store, play.at)
    assert said_to(await play.news(), COACH_ID) == ""


async def test_a_database_that_is_away_makes_nobody_unreadable(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    play = Play(store)
    await play.coach()
    await play.client()
    play.at = SUNDAY_EVENING

    async def away(*_: object, **__: object) -> None:
        raise ConnectionRefusedError

    with monkeypatch.context() as patched:
        patched.setattr(coach_round, "_gather_one", away)
        with pytest.raises(ConnectionRefusedError):
            await play.house.tick(store, play.at)
    await play.house.tick(store, play.at)
    assert "<b>Mara</b>" in said_to(await play.news(), COACH_ID)


async def test_the_night_plans_everybody_but_who_cannot_be_planned(store: Store) -> None:
    play = Play(store)
    await play.coach()
    mara = await play.client()
    dov = await play.client(user=CLIENT_ID + 1, name="Dov")
    await _in_no_zone(play, mara.id)
    await play.change(dov.id, next_due_at=None)
    await play.house.nightly(store, play.at)
    async with store.reading() as tx:
        assert (await house.clients.get(tx, dov.id)).next_due_at is not None


async def test_where_the_database_fails_nobody_is_put_off(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two workers may run into each other: the next tick, seconds later, deals with it."""
    play = Play(store)
    await play.coach()
    mara = await play.client()
    await play.agreed(mara, 3)
    play.at = MONDAY_MORNING

    async def runs_into_another(*_: object) -> int:
        raise OperationalError("UPDATE", {}, Exception("deadlock detected"))

    with monkeypatch.context() as patched:
        patched.setattr(bot.house, "tick_client", runs_into_another)
        with pytest.raises(OperationalError):
            await play.house.tick(store, play.at)
    await play.house.tick(store, play.at)
    assert "Still good?" in said_to(await play.news(), CLIENT_ID)
