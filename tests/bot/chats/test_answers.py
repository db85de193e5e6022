"""A client answers: by button, in words, late, twice, corrected, taken back, moved."""

import datetime as dt

import pytest

from bot.chats.phrases.common import days_at
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.store import house
from core.store.engine import Store
from core.terms import Outcome
from core.week.count import of_promise
from core.week.model import Ask
from tests.playhouse import CLIENT_ID, COACH_ID, MONDAY, Message, Play, said_to

WEEK = IsoWeek(2026, 49)


@pytest.fixture
async def play(store: Store) -> Play:
    """Mara has agreed to two sessions, Monday and Wednesday at 07:00; it is Monday, and she has been prompted."""
    stage = Play(store)
    await stage.coach()
    await stage.mara_on_monday()
    return stage


async def mara(play: Play) -> Client:
    async with play.store.reading() as tx:
        found = await house.client_by_telegram(tx, CLIENT_ID)
    assert found is not None
    return found


async def asks(play: Play) -> list[Ask]:
    async with play.store.reading() as tx:
        return await house.asks_of_week(tx, (await mara(play)).id, WEEK)


async def outcomes(play: Play) -> list[str]:
    return [f"{a.day:%a} {a.outcome or 'open'}" for a in of_promise(await asks(play))]


async def test_one_tap_answers_the_day(play: Play) -> None:
    said = await play.presses(CLIENT_ID, "Done")
    assert "done. Noted." in said_to(said, CLIENT_ID)
    assert await outcomes(play) == ["Mon done", "Wed open"]


@pytest.mark.parametrize(
    ("words", "ended"), [("done", "done"), ("did half of it", "short"), ("can't today", "missed")]
)
async def test_plain_words_answer_the_day(play: Play, words: str, ended: str) -> None:
    await play.says(CLIENT_ID, words)
    assert (await outcomes(play))[0] == f"Mon {ended}"


async def test_the_same_answer_five_times_is_one_answer(play: Play) -> None:
    for _ in range(5):
        await play.says(CLIENT_ID, "done")
    assert await outcomes(play) == ["Mon done", "Wed open"]
    assert len(await asks(play)) == 2


async def test_the_later_of_two_contradicting_answers_holds(play: Play) -> None:
    await play.says(CLIENT_ID, "done")
    said = await play.presses(CLIENT_ID, "Can't today")
    assert "Corrected" in said_to(said, CLIENT_ID)
    assert (await outcomes(play))[0] == "Mon missed"


async def test_an_answer_is_taken_back(play: Play) -> None:
    await play.presses(CLIENT_ID, "Done")
    assert "Taken back" in said_to(await play.presses(CLIENT_ID, "Take it back"), CLIENT_ID)
    assert (await outcomes(play))[0] == "Mon open"


async def test_an_answer_can_be_corrected_until_the_following_wednesday(play: Play) -> None:
    await play.presses(CLIENT_ID, "Done")
    monday = (await asks(play))[0]
    play.at = dt.datetime(2026, 12, 9, 20, tzinfo=dt.UTC)
    await play.presses(CLIENT_ID, "Can't today")
    assert (await asks(play))[0].outcome is Outcome.MISSED
    play.at = dt.datetime(2026, 12, 10, 8, tzinfo=dt.UTC)
    said = await play.presses(CLIENT_ID, "Done")
    assert "could be changed until Wed 9 Dec" in said_to(said, CLIENT_ID)
    assert (await asks(play))[0].outcome is Outcome.MISSED
    assert (await asks(play))[0].id == monday.id


@pytest.mark.parametrize(("on", "taken_back"), [(9, True), (10, False)])
async def test_an_answer_is_taken_back_until_the_following_wednesday(
    play: Play, on: int, taken_back: bool
) -> None:
    await play.presses(CLIENT_ID, "Done")
    play.at = dt.datetime(2026, 12, on, 9, tzinfo=dt.UTC)
    said = await play.presses(CLIENT_ID, "Take it back")
    assert (await outcomes(play))[0] == ("Mon open" if taken_back else "Mon done")
    assert ("Taken back" if taken_back else "could be changed until Wed 9 Dec") in said_to(said, CLIENT_ID)


async def test_silence_until_noon_is_unanswered_not_missed(play: Play) -> None:
    await play.until(dt.datetime(2026, 12, 1, 11, 59, tzinfo=dt.UTC))
    assert (await outcomes(play))[0] == "Mon open"
    await play.until(dt.datetime(2026, 12, 1, 12, tzinfo=dt.UTC))
    assert (await outcomes(play))[0] == "Mon unanswered"


async def test_a_follow_up_comes_only_if_nothing_was_said(play: Play) -> None:
    await play.presses(CLIENT_ID, "Done")
    said = await play.until(MONDAY + dt.timedelta(hours=10))
    assert [m.kind for m in said] == []


async def test_a_follow_up_comes_if_nothing_was_said(play: Play) -> None:
    said = await play.until(MONDAY + dt.timedelta(hours=10))
    assert [m.kind for m in said] == ["follow_up"]
    assert list(said[0].buttons)[:3] == ["Done", "A short one", "Not this time"]


async def test_a_miss_is_met_with_three_offers(play: Play) -> None:
    said = await play.presses(CLIENT_ID, "Can't today")
    assert {"Another day", "Ten minutes now", "Let it go"} <= set(said[-1].buttons)


async def test_a_missed_ask_keeps_its_identity_when_it_moves(play: Play) -> None:
    before = (await asks(play))[0]
    await play.presses(CLIENT_ID, "Can't today")
    await play.presses(CLIENT_ID, "Another day")
    await play.presses(CLIENT_ID, "Fri")
    after = next(a for a in await asks(play) if a.id == before.id)
    assert (after.day, after.outcome, after.revision) == (dt.date(2026, 12, 4), None, before.revision + 1)
    said = await play.until(dt.datetime(2026, 12, 4, 7, tzinfo=dt.UTC))
    assert any(m.key == f"ask:{before.id}:{after.revision}:prompt" for m in said)


async def test_an_ask_moved_away_and_back_is_prompted_at_its_last_place(play: Play) -> None:
    wednesday = (await asks(play))[1]
    for day in ("Thu", "Wed"):
        await play.says(CLIENT_ID, "/week")
        await play.presses(CLIENT_ID, "Done") if day == "Thu" else None
        await play.says(CLIENT_ID, f"move it to {'Thursday' if day == 'Thu' else 'Wednesday'}")
    said = await play.until(dt.datetime(2026, 12, 3, 12, tzinfo=dt.UTC))
    prompts = [m for m in said if m.kind == "prompt"]
    assert [m.key for m in prompts] == [f"ask:{wednesday.id}:2:prompt"]


async def test_a_day_that_holds_one_is_met_with_a_question_and_a_swap_swaps(play: Play) -> None:
    first, second = await asks(play)
    said = await play.says(CLIENT_ID, "can we do Wednesday instead")
    assert set(said[-1].buttons) == {"Both", "Swap"}
    await play.presses(CLIENT_ID, "Swap")
    days = {a.id: a.day for a in await asks(play)}
    assert (days[first.id], days[second.id]) == (second.day, first.day)


async def test_two_on_a_day_are_one_prompt(play: Play) -> None:
    await play.says(CLIENT_ID, "can we do Wednesday instead")
    await play.presses(CLIENT_ID, "Both")
    said = await play.until(dt.datetime(2026, 12, 2, 7, 30, tzinfo=dt.UTC))
    prompts = [m for m in said if m.kind == "prompt"]
    assert len(prompts) == 1
    assert "two sessions" in prompts[0].text


def test_days_and_hours_are_said_as_they_are() -> None:
    monday, wednesday, seven, six = dt.date(2026, 11, 30), dt.date(2026, 12, 2), dt.time(7), dt.time(18)
    assert days_at([(monday, seven), (wednesday, seven)]) == "Mon and Wed at 07:00"
    assert days_at([(monday, seven), (wednesday, six)]) == "Mon at 07:00 and Wed at 18:00"
    assert (
        days_at([(monday, seven), (wednesday, seven), (wednesday, seven)]) == "Mon and twice on Wed at 07:00"
    )
    assert days_at([]) == ""


async def test_two_of_one_day_at_two_hours_are_both_told(play: Play) -> None:
    await play.says(CLIENT_ID, "move it to Wednesday at 6pm")
    said = await play.presses(CLIENT_ID, "Both")
    assert "Moved from Monday to Wed 2 Dec, 18:00." in said_to(said, CLIENT_ID)
    said = await play.until(dt.datetime(2026, 12, 2, 7, 30, tzinfo=dt.UTC))
    [prompt] = [m for m in said if m.kind == "prompt"]
    assert "45 minutes, and 45 more at 18:00" in prompt.text


async def test_an_unplanned_session_fills_the_first_open_ask(play: Play) -> None:
    await play.presses(CLIENT_ID, "Can't today")
    play.at += dt.timedelta(days=1)
    said = await play.says(CLIENT_ID, "did 40 minutes today after all")
    assert "takes the place of Monday" in said_to(said, CLIENT_ID)
    assert await outcomes(play) == ["Tue done", "Wed open"]


async def test_beyond_the_promise_it_is_an_extra(play: Play) -> None:
    await play.presses(CLIENT_ID, "Done")
    await play.until(dt.datetime(2026, 12, 2, 7, 30, tzinfo=dt.UTC))
    said = await play.presses(CLIENT_ID, "Done")
    assert "week kept: 2 of 2" in said_to(said, CLIENT_ID)
    assert "4 days left" in said_to(said, CLIENT_ID)
    play.at = dt.datetime(2026, 12, 4, 18, tzinfo=dt.UTC)
    said = await play.says(CLIENT_ID, "trained 30 minutes today")
    assert "an extra, beyond the promise" in said_to(said, CLIENT_ID)
    assert [a.outcome for a in await asks(play) if a.extra] == [Outcome.EXTRA]


async def an_extra_step_by_step(play: Play) -> Message:
    """The week is kept, an extra was shown and done, and then gone through to its last step, which asks how it went."""
    await play.presses(CLIENT_ID, "Done")
    await play.until(dt.datetime(2026, 12, 2, 7, 30, tzinfo=dt.UTC))
    await play.presses(CLIENT_ID, "Done")
    [shown] = [m for m in await play.presses(CLIENT_ID, "Show me") if m.kind == "session"]
    await play.presses(CLIENT_ID, "Done", data=shown.buttons["Done"])
    said = await play.presses(CLIENT_ID, "One by one", data=shown.buttons["One by one"])
    while "Next" in (step := said[-1]).buttons:
        said = await play.presses(CLIENT_ID, "Next", data=step.buttons["Next"])
    return step


async def test_an_extra_stays_one_done_or_short(play: Play) -> None:
    step = await an_extra_step_by_step(play)
    await play.presses(CLIENT_ID, "A short one", data=step.buttons["A short one"])
    assert [a.outcome for a in await asks(play) if a.extra] == [Outcome.EXTRA]


async def test_an_extra_that_was_none_is_let_go_and_can_be_had_back(play: Play) -> None:
    step = await an_extra_step_by_step(play)
    said = await play.presses(CLIENT_ID, "Not this time", data=step.buttons["Not this time"])
    assert "no extra after all" in said_to(said, CLIENT_ID)
    assert [(a.outcome, a.withdrawn) for a in await asks(play) if a.extra] == [(None, True)]
    await play.presses(CLIENT_ID, "Take it back")
    assert [(a.outcome, a.withdrawn) for a in await asks(play) if a.extra] == [(Outcome.EXTRA, False)]


async def test_what_has_changed_since_is_not_taken_back(play: Play) -> None:
    """Monday's session was let go, moved to Friday, and the button of before pressed: Friday stands."""
    missed = await play.presses(CLIENT_ID, "Can't today")
    await play.presses(CLIENT_ID, "Another day")
    await play.presses(CLIENT_ID, "Fri")
    before = await outcomes(play)
    assert "Fri open" in before
    said = await play.presses(CLIENT_ID, "Take it back", data=missed[-1].buttons["Take it back"])
    assert "nothing to take back" in said_to(said, CLIENT_ID)
    assert await outcomes(play) == before


async def test_sleep_is_read_with_the_answer_it_came_with(play: Play) -> None:
    said = await play.says(CLIENT_ID, "6,5")
    assert "Slept 6.5 h" in said_to(said, CLIENT_ID)
    async with play.store.reading() as tx:
        nights = await house.nights_of(tx, (await mara(play)).id)
    assert [(n.day, n.hours) for n in nights] == [(dt.date(2026, 11, 30), 6.5)]


async def test_effort_is_asked_once_and_kept(play: Play) -> None:
    said = await play.presses(CLIENT_ID, "Done")
    assert "How hard" in said_to(said, CLIENT_ID)
    said = await play.presses(CLIENT_ID, "7")
    assert "Effort 7 of 10, very hard: noted." in said_to(said, CLIENT_ID)
    assert (await asks(play))[0].effort == 7.0


async def test_an_edited_message_corrects_and_does_not_double(play: Play) -> None:
    await play.says(CLIENT_ID, "done")
    await play.edits(CLIENT_ID, "can't today")
    assert await outcomes(play) == ["Mon missed", "Wed open"]


async def test_illness_excuses_today_and_asks_better_before_the_next(play: Play) -> None:
    said = await play.says(CLIENT_ID, "I've got a fever, in bed")
    assert "Get well first" in said_to(said, CLIENT_ID)
    assert (await outcomes(play))[0] == "Mon excused"
    said = await play.until(dt.datetime(2026, 12, 2, 7, 30, tzinfo=dt.UTC))
    assert "Feeling better?" in said_to(said, CLIENT_ID)
    await play.presses(CLIENT_ID, "Not yet")
    assert await outcomes(play) == ["Mon excused", "Wed excused"]


async def test_what_cannot_be_read_is_asked_back_and_shown_to_the_coach(play: Play) -> None:
    said = await play.says(CLIENT_ID, "qwertz zxcv")
    assert "not sure I read that right" in said_to(said, CLIENT_ID)
    assert "qwertz" in said_to(said, COACH_ID)
    assert await outcomes(play) == ["Mon open", "Wed open"]


@pytest.mark.parametrize("data", ["o:d:1~AAAAAAAA", "garbage", "", "~", "o:d~x", "o:d:999999~AAAAAAAA"])
async def test_a_forged_button_does_nothing(play: Play, data: str) -> None:
    said = await play.presses(CLIENT_ID, "", data=data)
    assert "had its day" in said_to(said, CLIENT_ID)
    assert await outcomes(play) == ["Mon open", "Wed open"]


async def test_a_button_works_only_for_whom_it_was_sent_to(play: Play) -> None:
    await play.client(7102, "Otis")
    hers = next(m for m in reversed(await play.waiting(CLIENT_ID)) if "Done" in m.buttons).buttons["Done"]
    said = await play.presses(7102, "", data=hers)
    assert "had its day" in said_to(said, 7102)
    assert await outcomes(play) == ["Mon open", "Wed open"]


async def test_illness_told_as_the_answer_excuses_today_rather_than_missing_it(play: Play) -> None:
    said = await play.says(CLIENT_ID, "I've got a cold, staying in bed")
    assert (await outcomes(play))[0] == "Mon excused"
    assert "not this time" not in said_to(said, CLIENT_ID)


async def test_illness_told_after_the_session_takes_nothing_away(play: Play) -> None:
    await play.presses(CLIENT_ID, "Done")
    said = await play.says(CLIENT_ID, "I've got a cold, staying in bed")
    assert (await outcomes(play))[0] == "Mon done"
    assert said_to(said, CLIENT_ID).startswith("Get well first")


async def test_a_second_session_of_the_day_is_no_repetition_of_the_first(play: Play) -> None:
    await play.says(CLIENT_ID, "done")
    await play.says(CLIENT_ID, "did an extra session, 30 min")
    assert await outcomes(play) == ["Mon done", "Mon done"]  # it takes the place of Wednesday's
    said = await play.says(CLIENT_ID, "done, an extra session, 20 min")
    assert "an extra, beyond the promise" in said_to(said, CLIENT_ID)


async def test_tonight_is_later_today_and_changes_no_hour(play: Play) -> None:
    said = await play.says(CLIENT_ID, "will do it tonight")
    assert "stays open until noon tomorrow" in said_to(said, CLIENT_ID)
    assert [a.at for a in await asks(play)] == [dt.time(7), dt.time(7)]


async def test_months_keep_their_capitals(play: Play) -> None:
    said = await play.says(CLIENT_ID, "Tuesday instead please")
    said += await play.says(CLIENT_ID, "Wednesday instead please")
    assert "Wed 2 Dec has a session already" in said_to(said, CLIENT_ID)


@pytest.mark.parametrize(
    ("words", "ended"),
    [
        ("Monday done", ["Mon done", "Wed open"]),
        ("done Monday and Wednesday", ["Mon done", "Wed done"]),
        ("did Monday, missed Wednesday", ["Mon done", "Wed missed"]),
        (
            "did yesterday, missed Monday",
            ["Tue done", "Wed open"],
        ),  # an unplanned one takes the place of Monday
    ],
)
async def test_several_days_in_one_reply_each_belong_to_their_day(
    play: Play, words: str, ended: list[str]
) -> None:
    await play.until(dt.datetime(2026, 12, 2, 8, tzinfo=dt.UTC))
    await play.says(CLIENT_ID, words)
    assert await outcomes(play) == ended


async def test_of_two_on_a_day_a_bare_done_counts_one_and_asks_about_the_other(play: Play) -> None:
    await play.says(CLIENT_ID, "can we do Wednesday instead")
    await play.presses(CLIENT_ID, "Both")
    await play.until(dt.datetime(2026, 12, 2, 8, tzinfo=dt.UTC))
    said = await play.says(CLIENT_ID, "done")
    assert await outcomes(play) == ["Wed done", "Wed open"]
    assert "other one" in said_to(said, CLIENT_ID)
    await play.presses(CLIENT_ID, "Done")
    assert await outcomes(play) == ["Wed done", "Wed done"]
