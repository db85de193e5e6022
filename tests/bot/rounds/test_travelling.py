"""Trips, flights and early hours: prompted where the client is, once."""

import datetime as dt
from typing import Any

from core.people.model import Client
from core.people.records import PlannedTrip
from core.terms import Outcome
from core.usecases import travel
from core.usecases.schedule import reschedule
from tests.bot.rounds.days import WEEK, at, kinds, promise_of, week_of
from tests.playhouse import CLIENT_ID, COACH_ID, Message, Play, said_to


async def _travels(
    play: Play, client: Client, zone: str, first: dt.date, last: dt.date, *, in_reach: bool = True
) -> None:
    place = zone.partition("/")[2]
    async with play.store.begin() as tx:
        trip = PlannedTrip(
            id=0, client_id=client.id, place=place, zone=zone, first=first, last=last, in_reach=in_reach
        )
        await travel.plan_trip(tx, client, trip, play.at)
        await reschedule(tx, client.id, play.at)


async def test_a_trip_told_late_moves_what_was_not_sent_and_doubles_nothing(play: Play) -> None:
    client = await play.client(usual_time=dt.time(18))
    await play.agreed(client, 2)
    await play.until(at("11-30T17:45"))  # prompted in Lisbon
    await _travels(play, client, "Pacific/Honolulu", dt.date(2026, 11, 30), dt.date(2026, 12, 5))
    said = await play.until(at("12-03T12:00"))
    assert [m.key for m in said if m.kind == "prompt"] == [f"ask:{(await week_of(play))[1].id}:0:prompt"]


async def test_the_first_prompt_after_a_flight_across_the_world_has_a_line_more_and_only_that_one(
    play: Play,
) -> None:
    client = await play.client(lately=4, usual_days=(1, 3, 4, 6), usual_time=dt.time(9))
    await play.agreed(client, 4)
    await _travels(play, client, "Asia/Singapore", dt.date(2026, 12, 2), dt.date(2026, 12, 20))
    prompts = []
    for hour in range(24 * 9):
        said = await play.until(at("11-29T00:00") + dt.timedelta(hours=hour))
        prompts += [m.text for m in said if m.kind == "prompt"]
        if said and any(m.kind == "prompt" for m in said):
            await play.presses(CLIENT_ID, "Done")
    assert ["rule of thumb" in text for text in prompts[:4]] == [False, True, False, False]
    assert "The clocks in Singapore stand 8 hours ahead of those where you came from" in prompts[1]
    assert "doctor" in prompts[1]


async def test_a_week_mostly_at_sea_is_recommended_no_more_than_its_days_in_reach(play: Play) -> None:
    """Kept three weeks at two; the next one has one day in reach: one, and the digest says why and tries no three."""
    client = await play.client(lately=2)
    said: list[Message] = []
    for week in (WEEK, WEEK.plus(1), WEEK.plus(2)):
        await play.agreed(client, 2)
        for day in (week.monday, week.monday + dt.timedelta(days=2)):
            await play.until(dt.datetime.combine(day, dt.time(9), dt.UTC))
            await play.says(CLIENT_ID, "done")
        if week == WEEK.plus(2):
            sails = week.next().monday + dt.timedelta(days=1)
            await _travels(
                play, client, "Europe/Lisbon", sails, sails + dt.timedelta(days=11), in_reach=False
            )
        said = await play.until(dt.datetime.combine(week.sunday, dt.time(18, 30), dt.UTC))
    promise = await promise_of(play, WEEK.plus(3))
    assert (promise.recommended, promise.recommended_if_done) == (1, None)
    assert promise.why.endswith("only 1 day of that week in reach")
    assert "in reach" in said_to(said, COACH_ID)
    assert "could be tried" not in said_to(said, COACH_ID)


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


async def test_an_hour_that_the_clock_skips_is_not_named(play: Play) -> None:
    play.at = dt.datetime(2027, 3, 3, 12, tzinfo=dt.UTC)
    night: dict[str, Any] = {"usual_time": dt.time(2, 30), "quiet_from": dt.time(4), "quiet_to": dt.time(10)}
    client = await play.client(zone="America/New_York", usual_days=(6, 7), **night)
    await play.agreed(client, 2)
    said = await play.until(dt.datetime(2027, 3, 14, 7, 30, tzinfo=dt.UTC))
    hours = [m.text.partition("</b>")[0] for m in said if m.kind == "prompt"]
    assert hours == ["<b>02:30", "<b>03:30"]  # on 14 March 2027 clocks there go from 02:00 to 03:00
