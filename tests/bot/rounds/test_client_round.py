"""What the rounds do with a client's days: budget, silence, outages, pauses, the line of the date, both cases of a number."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from core.calendar.weeks import IsoWeek
from core.people.model import Client, SleepAsked
from core.people.records import PlannedTrip
from core.store import house
from core.store.engine import Store
from core.terms import Outcome
from core.usecases import care, settle, silence, travel
from core.usecases.schedule import reschedule
from core.week.count import of_promise
from core.week.model import Ask, Hand, Promise
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play, said_to

WEEK = IsoWeek(2026, 49)  # Monday 30 November
SUNDAY = dt.datetime(2026, 11, 29, 18, 5, tzinfo=dt.UTC)


def at(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(f"2026-{text}+00:00")


@pytest.fixture
async def play(sqlite_url: str, cipher: Any) -> Any:
    """A coach, and nothing else yet; the rules are the same on both engines."""
    from core.store.engine import open_store

    store: Store = open_store(sqlite_url, cipher)
    stage = Play(store)
    await stage.coach()
    yield stage
    await store.close()


async def mara(play: Play) -> Client:
    async with play.store.reading() as tx:
        found = await house.client_by_telegram(tx, CLIENT_ID)
    assert found is not None
    return found


async def week_of(play: Play, week: IsoWeek = WEEK) -> list[Ask]:
    async with play.store.reading() as tx:
        return await house.asks_of_week(tx, (await mara(play)).id, week)


async def outcomes(play: Play, week: IsoWeek = WEEK) -> list[str]:
    asks = await week_of(play, week)
    return [f"{a.day:%a} {'withdrawn' if a.withdrawn else a.outcome or 'open'}" for a in asks]


async def promise_of(play: Play, week: IsoWeek = WEEK) -> Promise:
    async with play.store.reading() as tx:
        found = await house.promise_for(tx, (await mara(play)).id, week)
    assert found is not None
    return found


def kinds(messages: list[Message], chat: int = CLIENT_ID) -> list[str]:
    return [m.kind for m in messages if m.chat_id == chat]


async def outage(play: Play, until: dt.datetime) -> list[Message]:
    """The machine stops, and looks again only then."""
    play.at = until
    return await play.until(until)


# --- outages ----------------------------------------------------------------------------------------------------------


async def test_after_three_hours_the_session_is_asked_after_once(play: Play) -> None:
    await play.agreed(await play.client(), 2)
    await play.until(at("11-30T06:00"))
    said = await outage(play, at("11-30T09:30"))
    assert kinds(said) == ["follow_up"]
    assert kinds(await play.until(at("11-30T20:00"))) == []


async def test_after_thirty_six_hours_a_day_that_was_never_asked_about_is_no_evidence(play: Play) -> None:
    await play.agreed(await play.client(), 2)
    await play.until(at("11-30T05:00"))
    said = await outage(play, at("12-01T17:00"))
    assert kinds(said) == []
    assert await outcomes(play) == ["Mon withdrawn", "Wed open"]


async def test_after_nine_days_there_is_no_backlog(play: Play) -> None:
    await play.agreed(await play.client(), 3)
    await play.until(at("11-30T05:00"))
    said = await outage(play, at("12-09T15:00"))
    assert len(kinds(said)) <= 1
    assert await outcomes(play) == ["Mon withdrawn", "Wed withdrawn", "Fri withdrawn"]


async def test_a_late_tick_at_night_waits_for_the_morning(play: Play) -> None:
    await play.agreed(await play.client(usual_time=dt.time(20, 30)), 1)
    await play.until(at("11-30T15:00"))
    assert kinds(await outage(play, at("11-30T21:05"))) == []
    said = await play.until(at("12-01T11:00"))
    assert kinds(said) == ["follow_up"]


# --- the promise ------------------------------------------------------------------------------------------------------


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


# --- lowering and re-planning -----------------------------------------------------------------------------------------


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


# --- silence, pause, return -------------------------------------------------------------------------------------------


async def test_two_silent_days_withdraw_the_week_and_tell_the_coach(play: Play) -> None:
    await play.agreed(await play.client(lately=3), 3)
    said = await play.until(at("12-03T12:30"))
    assert await outcomes(play) == ["Mon unanswered", "Wed unanswered", "Fri withdrawn"]
    assert (await promise_of(play)).agreed == 3  # the week keeps its number
    assert "Mara" in said_to([m for m in said if m.kind == "coach_note"], COACH_ID)


async def test_a_silent_week_asks_once_on_sunday_and_a_word_ends_it(play: Play) -> None:
    await play.agreed(await play.client(lately=3), 3)
    await play.until(at("12-06T23:00"))
    said = await play.until(at("12-13T12:00"))
    coming = WEEK.next()
    assert kinds(said) == ["weekly"]
    assert (await promise_of(play, coming)).agreed == 1
    assert [(a.day, a.weekly) for a in await week_of(play, coming)] == [(coming.sunday, True)]
    said = await play.says(CLIENT_ID, "hi")
    assert "back" in said_to(said, COACH_ID)
    assert (await mara(play)).silent_since is None


async def test_what_was_done_meanwhile_fills_what_can_be_corrected_else_is_an_extra(play: Play) -> None:
    await play.agreed(await play.client(lately=3), 3)
    await play.until(at("12-10T09:00"))  # Thursday of the week after: the week before is closed
    await play.says(CLIENT_ID, "hello")
    await play.presses(CLIENT_ID, "I did train meanwhile")
    await play.says(CLIENT_ID, "Friday and Wednesday")
    friday = [a for a in await week_of(play) if a.day == dt.date(2026, 12, 4) and not a.withdrawn]
    assert [(a.extra, a.outcome) for a in friday] == [(True, Outcome.EXTRA)]
    wednesday = [a for a in await week_of(play, WEEK.next()) if a.took_place]
    assert [(a.day, a.extra) for a in wednesday] == [(dt.date(2026, 12, 9), False)]  # it fills the weekly ask


async def test_a_pause_asks_nothing_not_even_about_the_night(play: Play) -> None:
    client = await play.client(sleep_asked=SleepAsked.DAILY)
    await play.agreed(client, 2)
    await play.until(at("11-29T12:00"))
    async with play.store.begin() as tx:
        await silence.pause(tx, await mara(play), dt.date(2026, 12, 8), play.at)
        await reschedule(tx, client.id, play.at)
    await play.news()
    assert kinds(await play.until(at("12-08T23:00"))) == []
    assert await outcomes(play) == ["Mon withdrawn", "Wed withdrawn"]
    said = await play.until(at("12-09T09:00"))
    assert "how did you sleep" in said_to(said, CLIENT_ID)  # it rides on the first prompt after


# --- budget, sleep, illness -------------------------------------------------------------------------------------------


async def test_an_ask_that_has_no_room_is_withdrawn(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 2)
    await play.change(client.id, daily_limit=0)
    assert kinds(await play.until(at("12-01T12:00"))) == []
    assert (await outcomes(play))[0] == "Mon withdrawn"


async def test_sleep_rides_on_the_prompt_and_is_not_asked_again(play: Play) -> None:
    await play.agreed(await play.client(sleep_asked=SleepAsked.DAILY), 1)
    said = await play.until(at("11-30T07:30"))
    assert "sleep" in said[-1].text
    await play.presses(CLIENT_ID, "Done")
    assert "sleep" not in kinds(await play.until(at("11-30T20:00")))
    assert "sleep" in kinds(await play.until(at("12-01T10:00")))


async def test_who_is_ill_and_says_nothing_is_excused(play: Play) -> None:
    await play.agreed(await play.client(), 2)
    await play.until(at("11-30T07:30"))
    await play.says(CLIENT_ID, "I've got a fever, in bed")
    await play.until(at("12-03T12:30"))
    assert await outcomes(play) == ["Mon excused", "Wed excused"]
    await play.says(CLIENT_ID, "did 30 minutes today")
    assert (await mara(play)).unwell_since is None


# --- zones ------------------------------------------------------------------------------------------------------------


async def test_a_trip_told_late_moves_what_was_not_sent_and_doubles_nothing(play: Play) -> None:
    client = await play.client(usual_time=dt.time(18))
    await play.agreed(client, 2)
    await play.until(at("11-30T17:45"))  # prompted in Lisbon
    trip = PlannedTrip(
        id=0,
        client_id=client.id,
        place="Honolulu",
        zone="Pacific/Honolulu",
        first=dt.date(2026, 11, 30),
        last=dt.date(2026, 12, 5),
    )
    async with play.store.begin() as tx:
        await travel.plan_trip(tx, client, trip, play.at)
        await reschedule(tx, client.id, play.at)
    said = await play.until(at("12-03T12:00"))
    assert [m.key for m in said if m.kind == "prompt"] == [f"ask:{(await week_of(play))[1].id}:0:prompt"]


async def test_the_first_prompt_after_a_flight_across_the_world_has_a_line_more_and_only_that_one(
    play: Play,
) -> None:
    client = await play.client(lately=4, usual_days=(1, 3, 4, 6), usual_time=dt.time(9))
    await play.agreed(client, 4)
    trip = PlannedTrip(
        id=0,
        client_id=client.id,
        place="Singapore",
        zone="Asia/Singapore",
        first=dt.date(2026, 12, 2),
        last=dt.date(2026, 12, 20),
    )
    async with play.store.begin() as tx:
        await travel.plan_trip(tx, client, trip, play.at)
        await reschedule(tx, client.id, play.at)
    prompts = []
    for hour in range(24 * 9):
        said = await play.until(at("11-29T00:00") + dt.timedelta(hours=hour))
        prompts += [m.text for m in said if m.kind == "prompt"]
        if said and any(m.kind == "prompt" for m in said):
            await play.presses(CLIENT_ID, "Done")
    assert ["rule of thumb" in text for text in prompts[:4]] == [False, True, False, False]
    assert "Singapore is 8 hours ahead of where you came from" in prompts[1]
    assert "doctor" in prompts[1]


async def test_who_trains_at_six_hears_on_the_evening_before_once(play: Play) -> None:
    await play.agreed(await play.client(usual_time=dt.time(6)), 1)
    said = await play.until(at("11-29T20:00"))
    assert kinds(said)[-1:] == ["prompt"]
    assert "tomorrow" in said[-1].text.lower()
    assert "prompt" not in kinds(await play.until(at("11-30T12:00")))


async def test_a_reply_to_a_prompt_of_three_weeks_ago_is_no_session_of_today(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 1)
    old = (await week_of(play))[0]
    play.at = at("12-23T12:00")
    async with play.store.begin() as tx:
        from core.usecases.answer import Effect, write_outcome

        written = await write_outcome(tx, client, Outcome.DONE, at=play.at, ask_id=old.id)
    assert written.effect is Effect.TOO_LATE
    assert (await week_of(play))[0].outcome is not Outcome.DONE


async def test_an_extra_session_on_a_day_that_is_done_is_counted(play: Play) -> None:
    await play.agreed(await play.client(), 1)
    await play.until(at("11-30T07:30"))
    await play.presses(CLIENT_ID, "Done")
    await play.presses(CLIENT_ID, "Show me")
    await play.presses(CLIENT_ID, "Done")
    assert sorted(str(a.outcome) for a in await week_of(play)) == ["done", "extra"]


# --- the plan, and what is said twice ---------------------------------------------------------------------------------


async def test_the_hour_that_was_chosen_for_a_week_is_that_of_the_next(play: Play) -> None:
    client = await play.client(lately=2)
    await play.until(SUNDAY)
    async with play.store.begin() as tx:
        await settle.settle(tx, client, await promise_of(play), 2, hand=Hand.COACH, at=play.at)
        await reschedule(tx, client.id, play.at)
    await play.until(at("11-29T19:00"))
    said = await play.says(
        CLIENT_ID, "Tue Thu at 18:30"
    )  # the weekly message was the last word: days are expected
    assert "Agreed: 2 sessions, Tue and Thu at 18:30" in said_to(said, CLIENT_ID)
    for day in ("12-01T20:00", "12-03T20:00"):
        await play.until(at(day))
        await play.says(CLIENT_ID, "done")
    said = await play.until(at("12-07T08:00"))
    assert "Tue" in said_to(said, CLIENT_ID)
    assert "at 18:30" in said_to(said, CLIENT_ID)


async def test_a_promise_that_shrinks_keeps_the_days_that_are_used_most(play: Play) -> None:
    """Four weeks of Wednesday and Friday, one with a Monday as well: of two promised, it is Wednesday and Friday."""
    client = await play.client(first_week=WEEK.plus(-4))
    async with play.store.begin() as tx:
        for back in range(4, 0, -1):
            week = WEEK.plus(-back)
            number = 3 if back == 1 else 2
            await house.promises.add(
                tx,
                Promise(
                    id=0, client_id=client.id, week=week, settled=number, agreed=number, agreed_by=Hand.CLIENT
                ),
            )
            for weekday in (1, 3, 5)[3 - number :]:
                day = week.monday + dt.timedelta(days=weekday - 1)
                done = Ask(id=0, client_id=client.id, week=week, day=day, at=dt.time(7), minutes=45)
                await house.asks.add(tx, replace(done, outcome=Outcome.DONE))
        gone = Ask(
            id=0,
            client_id=client.id,
            week=WEEK.previous(),
            day=WEEK.previous().sunday,
            at=dt.time(7),
            minutes=45,
        )
        await house.asks.add(
            tx, replace(gone, withdrawn=True)
        )  # a day that was taken back was no day of theirs
        await settle.settle(tx, client, await promise_of(play), 2, hand=Hand.COACH, at=play.at)
    assert await outcomes(play) == ["Wed open", "Fri open"]


async def test_a_night_that_was_asked_about_on_a_prompt_is_not_asked_about_again_when_that_moves(
    play: Play,
) -> None:
    await play.agreed(await play.client(sleep_asked=SleepAsked.DAILY), 1)
    said = await play.until(at("11-30T07:10"))
    assert "how did you sleep" in said[-1].text
    await play.presses(CLIENT_ID, "Another day")
    await play.presses(CLIENT_ID, "Thu")
    assert "sleep" not in kinds(await play.until(at("11-30T20:00")))


async def test_who_does_not_answer_is_not_asked_about_every_night(play: Play) -> None:
    await play.agreed(await play.client(sleep_asked=SleepAsked.DAILY, usual_days=(6,)), 1)
    assert kinds(await play.until(at("11-29T23:00"))) == []  # before the first week nothing is asked
    assert kinds(await play.until(at("12-03T23:00"))) == ["sleep"]
    await play.says(CLIENT_ID, "7")
    assert kinds(await play.until(at("12-04T23:00"))) == ["sleep"]


async def test_where_the_night_was_asked_about_an_answer_about_the_session_is_read_all_the_same(
    play: Play,
) -> None:
    await play.agreed(await play.client(sleep_asked=SleepAsked.DAILY, usual_time=dt.time(18)), 1)
    said = await play.until(at("11-30T12:00"))
    assert "hours did you sleep" in said[-1].text
    said = await play.says(CLIENT_ID, "can't make it today, late rehearsal")
    assert "not this time" in said_to(said, CLIENT_ID)
    assert await outcomes(play) == ["Mon missed"]


# --- red flags --------------------------------------------------------------------------------------------------------


async def test_under_a_red_flag_no_week_is_told_and_once_it_is_cleared_it_is(play: Play) -> None:
    client = await play.client()
    await play.until(SUNDAY)
    async with play.store.begin() as tx:
        await care.raise_red_flag(tx, client, "chest pain on the stairs", sure=True, at=play.at)
        await settle.settle(tx, client, await promise_of(play), 2, hand=Hand.COACH, at=play.at)
        await reschedule(tx, client.id, play.at)
    assert kinds(await play.until(at("11-29T20:30"))) == []
    async with play.store.begin() as tx:
        await care.clear_red_flags(tx, client, "seen by a doctor, all well", play.at)
        await reschedule(tx, client.id, play.at)
    assert kinds(await play.until(at("11-29T20:45"))) == ["weekly"]


async def test_under_a_red_flag_the_weekly_message_of_a_silent_week_asks_for_nothing(play: Play) -> None:
    await play.agreed(await play.client(lately=3), 3)
    await play.until(at("12-07T09:00"))  # silent since Wednesday: the week has its one ask on Sunday
    async with play.store.begin() as tx:
        await care.raise_red_flag(tx, await mara(play), "fainted at work", sure=True, at=play.at)
    assert kinds(await play.until(at("12-13T20:00"))) == []
    assert await outcomes(play, WEEK.next()) == ["Sun excused"]


# --- the last promise changes between laying out and agreeing ---------------------------------------------------------


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
        moved = replace(
            first, missed_once=True, day=dt.date(2026, 12, 4), revision=1
        )  # missed, and moved to Friday
        await house.asks.save(tx, moved)
        assert not await settle.may_still_settle(tx, client, promise, SUNDAY)


async def test_a_prompt_that_quiet_hours_held_back_past_its_hour_asks_what_became_of_it(play: Play) -> None:
    client = await play.client(usual_time=dt.time(6, 30))
    await play.agreed(client, 1)
    await play.until(at("11-29T17:00"))
    [said] = [
        m for m in await outage(play, at("11-30T07:00")) if m.kind == "prompt"
    ]  # none the evening before
    assert said.text.startswith("<b>06:30</b>: 45 minutes, dumbbells. Done already, or still to come?")


@pytest.mark.parametrize("away", [True, False])
async def test_the_weekly_message_speaks_of_another_clock_only_where_there_is_one(
    play: Play, *, away: bool
) -> None:
    await play.client()
    if away:
        await play.says(CLIENT_ID, "in Bergen 30 Nov - 7 Dec")
    said = await play.until(at("11-29T20:45"))
    [weekly] = [m for m in said if m.kind == "weekly"]
    assert ("by the clock where you are then" in weekly.text) is away


async def test_who_told_a_few_nights_needs_no_example_of_how(play: Play) -> None:
    client = await play.client()
    await play.agreed(client, 1)
    for day in (26, 27, 28):
        play.at = dt.datetime(2026, 11, day, 9, tzinfo=dt.UTC)
        await play.says(CLIENT_ID, "slept 7")
    [said] = [m for m in await play.until(at("11-30T07:00")) if m.kind == "prompt"]
    assert said.text.endswith("And how did you sleep?")
