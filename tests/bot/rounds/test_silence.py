"""Silence, pauses and coming back; and what a red flag keeps quiet."""

import datetime as dt

from core.people.model import SleepAsked
from core.terms import Outcome
from core.usecases import care, settle, silence
from core.usecases.schedule import reschedule
from core.week.model import Hand
from tests.bot.rounds.days import SUNDAY, WEEK, at, kinds, mara, outage, outcomes, promise_of, week_of
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to


async def test_two_silent_days_withdraw_the_week_and_tell_the_coach(play: Play) -> None:
    await play.agreed(await play.client(lately=3), 3)
    said = await play.until(at("12-03T12:30"))
    assert await outcomes(play) == ["Mon unanswered", "Wed unanswered", "Fri withdrawn"]
    assert (await promise_of(play)).agreed == 3  # the week keeps its number
    assert "Mara" in said_to([m for m in said if m.kind == "coach_note"], COACH_ID)


async def test_who_has_fallen_silent_since_the_prompt_is_not_asked_after(play: Play) -> None:
    """Prompted on Wednesday morning; the machine looks again on Thursday, when silence has begun at Wednesday's noon."""
    await play.agreed(await play.client(lately=3, usual_days=(1, 2, 3), usual_time=dt.time(11)), 3)
    await play.until(at("12-02T11:30"))
    said = await outage(play, at("12-03T07:00"))
    assert (await mara(play)).silent_since is not None
    assert [(m.kind, m.text) for m in said if m.chat_id == CLIENT_ID] == []


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


async def test_a_silent_week_whose_one_ask_has_ended_is_not_settled_anew(play: Play) -> None:
    await play.agreed(await play.client(lately=3), 3)
    await play.until(at("12-13T12:00"))
    await play.presses(CLIENT_ID, "Not this week")
    coming = WEEK.next()
    async with play.store.reading() as tx:
        promise, client = await promise_of(play, coming), await mara(play)
        assert not await settle.may_still_settle(tx, client, promise, play.at - dt.timedelta(days=3))


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
