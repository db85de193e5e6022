"""The machine stops for hours or days: nobody gets a backlog, and nothing that was never asked is evidence."""

import datetime as dt

from tests.bot.rounds.days import at, kinds, outage, outcomes
from tests.playhouse import Play


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
