"""A coach brings the past weeks of clients in: seen before it holds, beside what was recorded here, and out again by a tap."""

import datetime as dt
import io
from dataclasses import replace
from typing import Any

import pytest
from sqlalchemy import select

from core.adherence.history import HistoryRow, parse_history, write_history
from core.calendar.weeks import IsoWeek
from core.digest.history_file import history_xlsx
from core.digest.packing import LONGEST, units
from core.people.model import Client, Stage
from core.store import house
from core.store import house_tables as t
from core.store.engine import Store
from core.terms import Outcome
from core.usecases import history, history_in, recommend
from core.week.model import Hand
from tests.playhouse import CLIENT_ID, COACH_ID, WEDNESDAY, Play, said_to

HEAD = "client,date,promised,outcome,minutes,away,slept_h,lowered\n"
FIRST = dt.date(2026, 9, 7)
WEEKS = 8
OF_HISTORY = (t.promise, t.ask, t.night, t.trip)


def some_weeks(name: str = "Mara", weeks: int = WEEKS) -> str:
    """Three a week, the last of every other week missed; a week away; an extra; a lowered week."""
    rows = []
    for week in range(weeks):
        for place, weekday in enumerate((0, 2, 4)):
            day = FIRST + dt.timedelta(days=7 * week + weekday)
            outcome = "missed" if place == 2 and week % 2 else ("short" if week == 5 else "done")
            slept = "6.5" if place == 0 else ""
            rows.append(f"{name},{day},3,{outcome},45,{int(week == 3)},{slept},{int(week == 6)}")
    rows.append(f"{name},{FIRST + dt.timedelta(days=5)},3,extra,30,0,,0")
    return "\n".join(rows) + "\n"


def rows_in(text: str) -> list[HistoryRow]:
    return sorted(parse_history(io.StringIO(HEAD + text)), key=lambda row: row.date)


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.client()
    return stage


async def send(play: Play, text: str) -> str:
    return said_to(await play.sends_file(COACH_ID, (HEAD + text).encode(), "past.csv"), COACH_ID)


async def everything(play: Play) -> dict[str, list[dict[str, Any]]]:
    async with play.store.reading() as tx:
        return {
            table.name: [
                dict(row) for row in (await tx.execute(select(table).order_by(table.c.id))).mappings()
            ]
            for table in OF_HISTORY
        }


async def the_client(play: Play, user: int = CLIENT_ID) -> Client:
    async with play.store.reading() as tx:
        found = await house.client_by_telegram(tx, user)
    assert found is not None
    return found


async def history_of(play: Play) -> list[HistoryRow]:
    async with play.store.reading() as tx:
        return await history.rows_of(tx, (await house.clients.list(tx))[0])


async def test_what_would_come_in_is_counted_by_client_and_nothing_is_kept_before_the_tap(play: Play) -> None:
    before = await everything(play)
    said = await send(play, some_weeks())
    assert (
        "Mara, 8 weeks from 7 Sep 2026 to 1 Nov 2026: 20 of 24 promised sessions done, 2 of them short, 4 missed, 1 extra."
        in said
    )
    assert await everything(play) == before


async def test_a_history_that_came_in_goes_out_as_it_came(play: Play) -> None:
    await send(play, some_weeks())
    assert "Taken in: 8 weeks of Mara" in said_to(await play.presses(COACH_ID, "Take it in"), COACH_ID)
    assert await history_of(play) == rows_in(some_weeks())


async def test_a_workbook_comes_in_as_the_same(play: Play) -> None:
    content = history_xlsx(rows_in(some_weeks()), made_at=WEDNESDAY)
    await play.sends_file(COACH_ID, content, "past.xlsx")
    await play.presses(COACH_ID, "Take it in")
    assert await history_of(play) == rows_in(some_weeks())


async def test_the_next_recommendation_counts_it(play: Play) -> None:
    client = await the_client(play)

    async def previous() -> int | None:
        async with play.store.reading() as tx:
            learnt, cohort = await recommend.population(tx, play.at.date())
            rows = cohort[str(client.id)]
            advice = await recommend.advice_for(tx, client, play.at, learnt, rows)
        return advice.recommendation.previous

    assert await previous() is None
    await send(play, some_weeks())
    await play.presses(COACH_ID, "Take it in")
    assert await previous() == 3


async def test_undo_leaves_everything_as_it_was(play: Play) -> None:
    before = await everything(play)
    await send(play, some_weeks())
    await play.presses(COACH_ID, "Take it in")
    assert await everything(play) != before
    said = said_to(await play.presses(COACH_ID, "Undo"), COACH_ID)
    assert "Taken out again: 8 weeks of Mara" in said
    assert await everything(play) == before
    assert "had its day" in said_to(await play.presses(COACH_ID, "Undo"), COACH_ID)


async def test_a_better_file_takes_the_place_of_an_earlier_one(play: Play) -> None:
    await send(play, some_weeks())
    await play.presses(COACH_ID, "Take it in")
    better = some_weeks().replace("missed", "done")
    assert "An earlier file had 8 weeks of these; this one takes their place." in await send(play, better)
    await play.presses(COACH_ID, "Take it in")
    assert await history_of(play) == rows_in(better)


async def test_what_was_recorded_here_is_never_touched(play: Play) -> None:
    """Two weeks are lived with the bot; then a file comes that says otherwise of one of them, and of one before."""
    client = await the_client(play)
    await play.agreed(client, 2)
    await play.until(WEDNESDAY + dt.timedelta(days=15))
    recorded = await everything(play)
    week = IsoWeek.of(WEDNESDAY.date()).next()
    claimed = f"Mara,{week.monday},7,done,45,0,9,0\n"
    said = await send(play, some_weeks() + claimed)
    assert "Left out: 1 row of Mara, of weeks that I count myself." in said
    await play.presses(COACH_ID, "Take it in")
    now = await everything(play)
    for table, rows in recorded.items():
        assert [row for row in now[table] if row in rows] == rows
    assert [row for row in await history_of(play) if row.date < week.monday] == rows_in(some_weeks())


async def test_a_week_that_somebody_corrected_since_stays(play: Play) -> None:
    await send(play, some_weeks())
    await play.presses(COACH_ID, "Take it in")
    async with play.store.begin() as tx:
        missed = next(a for a in await house.asks.list(tx) if a.outcome is Outcome.MISSED)
        later = play.at + dt.timedelta(hours=1)
        await house.asks.save(tx, replace(missed, outcome=Outcome.DONE, answered_at=later))
    said = await send(play, some_weeks())
    assert "An earlier file had 7 weeks of these" in said
    assert "Left out: 3 rows of Mara" in said
    await play.presses(COACH_ID, "Undo")
    kept = await history_of(play)
    assert {row.monday for row in kept} == {missed.week.monday}
    assert next(row for row in kept if row.date == missed.day).outcome is Outcome.DONE


@pytest.mark.parametrize("brought", [False, True])
async def test_it_asks_nothing_of_the_client_and_begins_no_silence(play: Play, *, brought: bool) -> None:
    """Weeks up to the last one, unanswered at their end, on the usual days: the client hears what they hear without."""
    days = [WEDNESDAY.date() - dt.timedelta(days=back) for back in (16, 14, 9, 7)]
    recent = "".join(f"Mara,{day},2,unanswered,45,0,,0\n" for day in days)
    if brought:
        await send(play, some_weeks() + recent)
        await play.presses(COACH_ID, "Take it in")
    await play.agreed(await the_client(play), 2)
    heard = [m for m in await play.until(WEDNESDAY + dt.timedelta(days=6)) if m.chat_id == CLIENT_ID]
    assert [m.kind for m in heard] == ["prompt", "follow_up"]
    assert (await the_client(play)).silent_since is None


async def test_rows_without_an_outcome_and_of_the_running_week_are_left_out_and_said(play: Play) -> None:
    text = some_weeks() + "Mara,2026-11-23,2,done,45,0,,0\nMara,2026-11-18,2,,45,0,,0\n"
    said = await send(play, text)
    assert "Left out: 1 row of Mara, of weeks that I count myself." in said
    assert "Left out: 1 row without an outcome." in said
    assert "nothing in it that I could add" in await send(play, "Mara,2026-11-18,2,,45,0,,0\n")


async def test_everything_that_is_wrong_is_named_at_once_and_nothing_taken_in(play: Play) -> None:
    before = await everything(play)
    said = await send(
        play,
        "Marah,2026-09-07,1,done,45,0,,0\nMara,7.9.2026,1,doen,45,0,,0\n\nMarah,2026-09-14,9,done,45,0,x,0\n"
        "=cmd(),2026-09-21,1,done,45,0,,0\n",
    )
    assert said.splitlines() == [
        "Nothing was taken in.",
        "sheet 1, row 2, column A: there is no client 'Marah' (in 2 rows): did you mean 'Mara'?",
        "sheet 1, row 6, column A: there is no client '=cmd()': mend the name, or invite them first.",
        "sheet 1, row 3, column B: date 7.9.2026 is not a date like 2026-03-02.",
        "sheet 1, row 3, column D: outcome doen is not one of done, short, missed, unanswered, excused, extra (or empty).",
        "sheet 1, row 5, column C: promised 9 is not a whole number from 0 to 7.",
        "sheet 1, row 5, column G: slept_h x is not a number of hours from 0 to 24 (or empty).",
    ]
    assert await everything(play) == before


async def test_nobodys_history_comes_in_before_they_have_agreed(play: Play) -> None:
    otis = await play.client(7102, "Otis")
    await play.change(otis.id, consented_at=None, stage=Stage.ENROLLING)
    said = await send(play, some_weeks("Otis"))
    assert "Otis has not agreed yet that anything is kept of them" in said


async def test_another_coachs_client_is_a_stranger(play: Play) -> None:
    await play.coach(7002, "Ruben Sala")
    await play.client(7103, "Otis", coach=7002)
    assert "there is no client 'Otis'" in await send(play, some_weeks("Otis"))


async def test_two_of_one_name_are_told_apart_as_in_the_file_that_goes_out(play: Play) -> None:
    await play.client(7102, "Mara")
    await send(play, some_weeks("Mara (2)"))
    await play.presses(COACH_ID, "Take it in")
    async with play.store.reading() as tx:
        second = (await house.clients.list(tx))[1]
        rows = await history.rows_of(tx, second)
        named = await history.named_rows(tx)
    assert len(rows) == len(rows_in(some_weeks()))
    assert {row.client for row in named} == {"Mara (2)"}


async def test_days_away_are_known_and_none_is_invented_between_them(play: Play) -> None:
    await send(play, some_weeks())
    await play.presses(COACH_ID, "Take it in")
    monday = FIRST + dt.timedelta(weeks=3)
    async with play.store.reading() as tx:
        where = (await house.circumstances(tx, (await house.clients.list(tx))[0])).where
    assert [n for n in range(7) if where.away_on(monday + dt.timedelta(days=n))] == [0, 2, 4]


async def test_a_night_that_was_told_here_stays(play: Play) -> None:
    client = await the_client(play)
    async with play.store.begin() as tx:
        await house.tell_night(
            tx, house.nights.kind(id=0, client_id=client.id, day=FIRST, slept={"hours": 4.0}, said_at=play.at)
        )
    await send(play, some_weeks())
    await play.presses(COACH_ID, "Take it in")
    assert next(row for row in await history_of(play) if row.date == FIRST).slept_h == 4.0


async def test_three_years_of_every_day_come_in(play: Play) -> None:
    """The largest file that is likely: it waits for its tap in the dialogue, and comes in whole."""
    text = io.StringIO()
    start = dt.date(2023, 11, 27)
    rows = [
        HistoryRow(
            client="Mara",
            date=start + dt.timedelta(days=7 * week + day),
            promised=7,
            outcome=Outcome.DONE,
            minutes=45,
        )
        for week in range(150)
        for day in range(7)
    ]
    write_history(rows, text)
    said = said_to(await play.sends_file(COACH_ID, text.getvalue().encode(), "past.csv"), COACH_ID)
    assert "1050 of 1050" in said
    await play.presses(COACH_ID, "Take it in")
    assert len(await history_of(play)) == 1050


async def test_what_sixty_clients_did_is_told_in_messages_that_arrive(play: Play) -> None:
    for number in range(60):
        await play.client(8000 + number, f"Client {number}")
    text = "".join(some_weeks(f"Client {number}", 1) for number in range(60))
    sent = await play.sends_file(COACH_ID, (HEAD + text).encode(), "past.csv")
    assert len(sent) > 1
    assert all(units(message.text) <= LONGEST for message in sent)
    assert [bool(message.buttons) for message in sent] == [False] * (len(sent) - 1) + [True]


async def test_more_faults_than_a_message_holds_are_counted(play: Play) -> None:
    [sent] = await play.sends_file(COACH_ID, (HEAD + "Mara,x,x,x,x,x,x,x\n" * 200).encode(), "past.csv")
    assert units(sent.text) <= LONGEST
    assert "more like these." in sent.text


async def test_every_week_says_that_it_was_brought(play: Play) -> None:
    await send(play, some_weeks())
    await play.presses(COACH_ID, "Take it in")
    async with play.store.reading() as tx:
        brought = [p for p in await house.promises.list(tx) if p.agreed_by is Hand.BROUGHT]
    assert len(brought) == WEEKS
    assert history_in.mark_of(int(play.at.timestamp())) == brought[0].agreed_at
