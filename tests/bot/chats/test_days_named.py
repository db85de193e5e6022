"""Which day is meant: one that will not do, one from which a session moves; and trips told in the wrong order."""

import datetime as dt

import pytest

from bot.chats.phrases.common import place, told_apart
from bot.chats.phrases.week import weekly_ask
from core.calendar.places import find_places
from core.calendar.weeks import IsoWeek
from core.store import house
from core.store.engine import Store
from core.week.count import of_promise
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to

WEDNESDAY = dt.date(2026, 12, 2)


@pytest.fixture
async def play(store: Store) -> Play:
    """Mara has agreed to Wednesday, Thursday and Friday at 07:00; it is that Wednesday, and she has been prompted."""
    stage = Play(store)
    await stage.coach()
    await stage.agreed(await stage.client(usual_days=(3, 4, 5)), 3)
    await stage.until(dt.datetime(2026, 12, 2, 7, tzinfo=dt.UTC))
    return stage


async def outcomes(play: Play) -> list[str]:
    async with play.store.reading() as tx:
        return [f"{a.day:%a} {a.outcome or 'open'}" for a in of_promise(await house.asks_of(tx, 1))]


@pytest.mark.parametrize(("words", "day"), [("can't make it tomorrow", "Thu"), ("won't make Friday", "Fri")])
async def test_a_day_ahead_that_will_not_do_is_that_days_and_no_other(
    play: Play, words: str, day: str
) -> None:
    said = await play.says(CLIENT_ID, words)
    assert "What suits you best?" in said_to(said, CLIENT_ID)
    assert said_to(said, COACH_ID) == ""
    assert f"{day} missed" in await outcomes(play)
    assert (await outcomes(play)).count("Wed open") == 1


async def test_whoever_is_ill_has_missed_nothing(play: Play) -> None:
    await play.says(CLIENT_ID, "can't tomorrow, got the flu")
    assert "missed" not in " ".join(await outcomes(play))


@pytest.mark.parametrize("asked", ["session", "days"])
async def test_tomorrows_session_moves_and_not_todays(play: Play, asked: str) -> None:
    async with play.store.begin() as tx:
        kept = await house.dialogue_of(tx, CLIENT_ID, play.at)
        await house.keep_dialogue(tx, type(kept)(telegram_id=CLIENT_ID, at=play.at, asked=asked))
    said = await play.says(CLIENT_ID, "move tomorrow to Sunday")
    assert "Moved from Thursday to Sun 6 Dec" in said_to(said, CLIENT_ID)


async def test_what_stands_on_a_button_may_be_written(play: Play) -> None:
    await play.says(CLIENT_ID, "done")
    assert "Taken back" in said_to(await play.says(CLIENT_ID, "Take it back"), CLIENT_ID)
    await play.says(CLIENT_ID, "in Honolulu 4-6 Dec")
    assert "Honolulu: a hotel gym" in said_to(await play.says(CLIENT_ID, "just a hotel gym"), CLIENT_ID)
    said = await play.says(CLIENT_ID, "hotel gym")  # nothing asks for a room any more
    assert "a hotel gym. Sessions" not in said_to(said, CLIENT_ID)


async def test_another_trip_than_the_one_that_is_off_stays(play: Play) -> None:
    await play.says(CLIENT_ID, "in Honolulu 4-6 Dec")
    said = said_to(await play.says(CLIENT_ID, "The trip to Oslo is off"), CLIENT_ID)
    assert "Which trip is off?" in said
    async with play.store.reading() as tx:
        assert [t.place for t in await house.trips_of(tx, 1)] == ["Honolulu"]
    assert "Honolulu, 4 to 6 Dec, is off the plan" in said_to(
        await play.says(CLIENT_ID, "the trip to Honolulu is off"), CLIENT_ID
    )


async def waits_for_dates(play: Play) -> None:
    for words in ("/trip", "Paris"):
        await play.says(CLIENT_ID, words)
        if words == "/trip":
            await play.presses(CLIENT_ID, "Add a trip")


async def test_a_trip_that_was_begun_does_not_swallow_another(play: Play) -> None:
    await waits_for_dates(play)
    assert "Honolulu, 4 to 6 Dec: noted" in said_to(
        await play.says(CLIENT_ID, "in Honolulu 4-6 Dec"), CLIENT_ID
    )


async def test_what_is_no_date_is_said_to_be_none_with_the_way_out(play: Play) -> None:
    await waits_for_dates(play)
    said = said_to(await play.says(CLIENT_ID, "31 Feb"), CLIENT_ID)
    assert "/cancel leaves it" in said
    assert "left as it was" in said_to(await play.says(CLIENT_ID, "not a trip"), CLIENT_ID)
    assert "today: done" in said_to(await play.says(CLIENT_ID, "done"), CLIENT_ID).lower()


def test_nobody_chooses_between_two_equal_buttons() -> None:
    labels = [place(p) for p in told_apart(find_places("San Jose"))]
    assert len(labels) > 1
    assert len(set(labels)) == len(labels)


def test_a_silent_week_is_asked_about_in_other_words_than_the_one_before() -> None:
    week = IsoWeek(2026, 50)
    said = {weekly_ask(10, week.plus(n)) for n in range(3)}
    assert len(said) == 3
    assert all("10 minutes" in each for each in said)


async def on_the_evening_before(play: Play) -> None:
    """Teo trains on Thursdays at six: his prompt came at 20:00 on Wednesday."""
    await play.agreed(await play.client(7102, "Teo", usual_days=(4,), usual_time=dt.time(6)), 1)
    await play.until(dt.datetime(2026, 12, 9, 20, 30, tzinfo=dt.UTC))


async def test_a_bare_no_on_the_evening_before_is_of_the_session_that_was_asked_about(play: Play) -> None:
    await on_the_evening_before(play)
    assert "Tomorrow: not this time" in said_to(await play.says(7102, "can't"), 7102)


async def test_the_button_of_the_evening_before_says_tomorrow(play: Play) -> None:
    await on_the_evening_before(play)
    assert "Tomorrow: not this time" in said_to(await play.presses(7102, "Can't tomorrow"), 7102)


async def test_a_day_that_is_named_on_the_evening_before_is_that_day(play: Play) -> None:
    await on_the_evening_before(play)
    assert "Tomorrow: not this time" not in said_to(await play.says(7102, "can't today"), 7102)
