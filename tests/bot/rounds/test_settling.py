"""The promise of a week: settled, agreed or assumed, in both cases, lowered and planned anew."""

import datetime as dt
from dataclasses import replace

import pytest

from core.people.model import Client
from core.store import house
from core.store import house_tables as t
from core.terms import Outcome
from core.usecases import settle
from core.usecases.schedule import reschedule
from core.week.count import of_promise
from core.week.model import Ask, Hand, Promise
from tests.bot.rounds.days import SUNDAY, WEEK, at, kinds, outcomes, promise_of, week_of
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to


async def test_nobody_settled_and_nobody_agreed(play: Play) -> None:
    await play.client(lately=2)
    said = await play.until(at("11-30T06:30"))
    settled = await promise_of(play)
    assert (settled.settled, settled.settled_by) == (settled.recommended, Hand.ASSUMED)
    assert settled.agreed is None
    assert "weekly" in kinds(said)
    said = await play.until(at("11-30T12:00"))
    assert (await promise_of(play)).agreed_by is Hand.ASSUMED
    assert "prompt" in kinds(said)


async def test_a_rest_week_is_told_and_asks_nothing(play: Play) -> None:
    client = await play.client()
    await play.until(SUNDAY)
    async with play.store.begin() as tx:
        await settle.settle(tx, client, await promise_of(play), 0, hand=Hand.COACH, at=play.at)
        await reschedule(tx, client.id, play.at)
    said = await play.until(at("12-06T12:00"))
    assert "rest week" in said_to(said, CLIENT_ID)
    assert set(kinds(said)) == {"weekly"}


async def _two_cases(play: Play, hand: Hand) -> Client:
    """Sunday evening: 3 if Sunday is done, else 2; the promise of the running week is 2."""
    client = await play.client(usual_days=(5, 7), first_week=WEEK.previous(), usual_time=dt.time(17))
    async with play.store.begin() as tx:
        running = await house.promises.add(
            tx,
            Promise(
                id=0, client_id=client.id, week=WEEK.previous(), settled=2, agreed=2, agreed_by=Hand.CLIENT
            ),
        )
        friday, sunday = (
            Ask(id=0, client_id=client.id, week=running.week, day=day, at=dt.time(17), minutes=45)
            for day in (running.week.days()[4], running.week.sunday)
        )
        await house.asks.add(tx, replace(friday, outcome=Outcome.DONE))
        await house.asks.add(tx, replace(sunday, prompted=0, prompted_at=SUNDAY - dt.timedelta(hours=2)))
        coming = replace(await promise_of(play), recommended=2, recommended_if_done=3)
        await house.promises.save(tx, coming)
        await settle.settle(tx, client, coming, 2, hand=hand, at=SUNDAY, both_cases=hand is not Hand.CLIENT)
        await reschedule(tx, client.id, SUNDAY)
    play.at = SUNDAY
    return client


@pytest.mark.parametrize(
    ("hand", "words", "number"),
    [
        (Hand.COACH, "done", 3),
        (Hand.COACH, "can't today", 2),
        (Hand.ASSUMED, "done", 2),  # nobody but the coach raises
        (Hand.CLIENT, "done", 2),  # a plain number hangs on nothing
    ],
)
async def test_both_cases_are_settled_at_once_and_sundays_ask_decides(
    play: Play, hand: Hand, words: str, number: int
) -> None:
    await _two_cases(play, hand)
    await play.says(CLIENT_ID, words)
    await play.until(SUNDAY + dt.timedelta(minutes=30))
    coming = await promise_of(play)
    assert (coming.settled, coming.both_cases) == (number, False)
    assert len([a for a in of_promise(await week_of(play)) if a.is_open]) == number


@pytest.mark.parametrize(
    ("until", "words", "number", "lowered", "left"),
    [
        ("11-30T08:00", ["done"], 2, True, ["Mon done", "Wed open", "Fri withdrawn"]),
        ("11-30T08:00", ["can't today"], 3, False, ["Mon missed", "Wed open", "Fri open"]),
        ("12-02T08:00", [], 3, False, ["Mon unanswered", "Wed open", "Fri open"]),
    ],
)
async def test_a_week_is_lowered_only_before_its_first_miss(
    play: Play, until: str, words: list[str], number: int, lowered: bool, left: list[str]
) -> None:
    await play.agreed(await play.client(lately=3), 3)
    await play.until(at(until))
    for said in words:
        await play.says(CLIENT_ID, said)
    await play.says(CLIENT_ID, "/plan")
    await play.presses(CLIENT_ID, "Fewer this week")
    await play.presses(CLIENT_ID, "2")
    promise = await promise_of(play)
    assert (promise.agreed, promise.lowered) == (number, lowered)
    assert await outcomes(play) == left


async def test_the_client_picks_which_session_goes(play: Play) -> None:
    await play.agreed(await play.client(lately=4, usual_days=(1, 3, 5, 6)), 4)
    await play.until(at("11-30T08:00"))
    await play.says(CLIENT_ID, "done")
    await play.says(CLIENT_ID, "/plan")
    await play.presses(CLIENT_ID, "Fewer this week")
    said = await play.presses(CLIENT_ID, "2")
    assert await outcomes(play) == ["Mon done", "Wed open", "Fri withdrawn", "Sat withdrawn"]
    assert [list(m.buttons) for m in said if m.buttons and m.chat_id == CLIENT_ID] == [["Wed instead"]]
    await play.presses(CLIENT_ID, "Wed instead")
    assert await outcomes(play) == ["Mon done", "Wed withdrawn", "Fri open", "Sat withdrawn"]
    assert (await promise_of(play)).agreed == 2
    said = await play.until(at("12-04T07:00"))
    assert [m.key.split(":")[0] for m in said if m.kind == "prompt"] == ["ask"]  # Friday alone, and once
    await play.presses(CLIENT_ID, "Can't today")
    said = await play.presses(CLIENT_ID, "Fri instead")
    assert "had its day" in said_to(said, CLIENT_ID)  # after a miss nothing is exchanged any more


async def test_a_number_that_cannot_go_lower_says_so(play: Play) -> None:
    await play.agreed(await play.client(lately=2), 2)
    await play.until(at("11-30T08:00"))
    await play.says(CLIENT_ID, "/plan")
    for day in ("11-30T08:00", "12-02T08:00"):
        await play.until(at(day))
        await play.says(CLIENT_ID, "done")
    await play.presses(CLIENT_ID, "Fewer this week")  # of before there was nothing left to let go
    said = await play.presses(CLIENT_ID, "1")
    assert "stays at 2" in said_to(said, CLIENT_ID)
    assert ((await promise_of(play)).agreed, (await promise_of(play)).lowered) == (2, False)


async def test_a_week_never_goes_below_what_was_done(play: Play) -> None:
    client = await play.client(lately=3)
    await play.agreed(client, 3)
    await play.until(at("12-02T08:00"))
    async with play.store.begin() as tx:
        for ask in (await house.asks_of_week(tx, client.id, WEEK))[:2]:
            await house.asks.save(tx, replace(ask, outcome=Outcome.DONE))
        lowered = await settle.lower(tx, await promise_of(play), 1, at=play.at)
    assert lowered.agreed == 2
    assert await outcomes(play) == ["Mon done", "Wed done", "Fri withdrawn"]


async def test_what_is_assumed_agreed_is_what_is_asked(play: Play) -> None:
    """On Sunday the last week says nothing yet; by Monday noon it has counted, with one: three is two above it, so one stands."""
    client = await play.client(first_week=WEEK.previous())
    async with play.store.begin() as tx:
        before = await house.promises.add(
            tx,
            Promise(
                id=0, client_id=client.id, week=WEEK.previous(), settled=1, agreed=1, agreed_by=Hand.CLIENT
            ),
        )
        open_ask = await house.asks.add(
            tx,
            Ask(
                id=0,
                client_id=client.id,
                week=before.week,
                day=before.week.sunday,
                at=dt.time(17),
                minutes=45,
            ),
        )
        await settle.settle(tx, client, await promise_of(play), 3, hand=Hand.COACH, at=SUNDAY)
    assert len(await week_of(play)) == 3
    async with play.store.begin() as tx:
        await house.asks.save(tx, replace(open_ask, outcome=Outcome.UNANSWERED, prompted_at=SUNDAY))
        await settle.assume_agreed(tx, client, await promise_of(play), at("11-30T06:30"))
    assert (await promise_of(play)).agreed == 1
    assert [o for o in await outcomes(play) if "open" in o] == ["Mon open"]


async def test_after_a_miss_the_coach_changes_no_number_either(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 2)
    async with play.store.begin() as tx:
        promise = await promise_of(play)
        assert await settle.may_still_settle(tx, client, promise, SUNDAY)
        first = (await house.asks_of_week(tx, client.id, WEEK))[0]
        # Missed, and moved to Friday.
        moved = replace(first, missed_once=True, day=dt.date(2026, 12, 4), revision=1)
        await house.asks.save(tx, moved)
        assert not await settle.may_still_settle(tx, client, promise, SUNDAY)


async def test_a_smaller_promise_after_a_kept_week_says_why_in_the_digest_and_when_asked_again(
    play: Play,
) -> None:
    client = await play.client(first_week=WEEK.previous())
    kept = Promise(id=0, client_id=client.id, week=WEEK.previous(), settled=3, agreed=3)
    async with play.store.begin() as tx:
        await house.promises.remove(tx, t.promise.c.client_id == client.id)
        await house.promises.add(tx, kept)
        for day in (23, 25, 27):
            done = Ask(
                id=0,
                client_id=client.id,
                week=kept.week,
                day=dt.date(2026, 11, day),
                at=dt.time(7),
                minutes=45,
                outcome=Outcome.DONE,
            )
            await house.asks.add(tx, done)
        smaller = Promise(
            id=0,
            client_id=client.id,
            week=WEEK,
            recommended=2,
            recommended_minutes=45,
            issued_at=play.at,
            odds={"2": 0.85, "3": 0.62},
            expected={"2": 1.8, "3": 2.4},
        )
        await house.promises.add(tx, smaller)
    reason = "3 again would be kept in 62 of 100 such weeks, and you ask for 80"
    assert reason in said_to(await play.until(SUNDAY), COACH_ID)
    assert reason in said_to(await play.says(COACH_ID, "/digest"), COACH_ID)
