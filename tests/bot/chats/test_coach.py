"""A coach's Sunday: the digest, settling by taps, answering, pushing a session."""

import base64
import datetime as dt
from dataclasses import replace

from bot.chats.buttons import Button, button
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.store import house
from core.store.lanes import State
from core.terms import Outcome
from core.usecases import answer
from core.week.model import Ask, Hand, Promise
from tests.playhouse import CLIENT_ID, COACH_ID, Play, queued, said_to

SUNDAY = dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC)
NEXT = IsoWeek(2026, 49)


async def promise(play: Play, client: Client, week: IsoWeek = NEXT) -> Promise:
    async with play.store.reading() as tx:
        found = await house.promise_for(tx, client.id, week)
    assert found is not None
    return found


async def with_a_kept_week(play: Play, number: int, *, missed: int = 0) -> list[Client]:
    """Clients who promised two for the running week, did both but for the `missed` first ones, and are due a digest."""
    play.at = dt.datetime(2026, 11, 18, 12, tzinfo=dt.UTC)
    clients = [await play.client(7200 + n, f"Client {n:02}") for n in range(number)]
    for client in clients:
        await play.agreed(client, 2)
    for n, client in enumerate(clients):
        async with play.store.begin() as tx:
            for day in (23, 25):
                ended = Outcome.MISSED if n < missed and day == 25 else Outcome.DONE
                at = dt.datetime(2026, 11, day, 20, tzinfo=dt.UTC)
                ask = next(a for a in await house.asks_of(tx, client.id) if a.day.day == day)
                await answer.write_outcome(tx, client, ended, at=at, ask_id=ask.id)
                fresh = await house.asks.get(tx, ask.id)
                await house.asks.save(tx, _prompted(fresh, at))
    play.at = SUNDAY - dt.timedelta(minutes=1)
    return clients


def _prompted(ask: Ask, at: dt.datetime) -> Ask:
    return replace(ask, prompted=ask.revision, prompted_at=at)


async def test_the_digest_comes_on_sunday_at_the_coachs_hour_with_one_picture(play: Play) -> None:
    await play.client()
    assert await play.until(SUNDAY - dt.timedelta(seconds=1)) == []
    said = await play.until(SUNDAY)
    to_coach = [m for m in said if m.chat_id == COACH_ID]
    assert "Week 48" in to_coach[0].text
    pictures = [m for m in to_coach if m.method == "sendPhoto"]
    assert len(pictures) == 1
    content = base64.b64decode(pictures[0].payload["files"]["photo"]["content"])
    assert content.startswith(b"\x89PNG")


async def test_minutes_are_recommended_as_people_speak_of_them(play: Play) -> None:
    clients = await with_a_kept_week(play, 2)
    await play.change(clients[1].id, minutes=52)
    async with play.store.begin() as tx:
        for client in clients:
            for ask in await house.asks_of(tx, client.id):
                await house.asks.save(tx, replace(ask, minutes=52))
    said = said_to(await play.until(SUNDAY), COACH_ID)
    assert "× 50 min" in said
    assert "× 52 min" in said  # of whom says 52 themselves
    assert [(await promise(play, client)).recommended_minutes for client in clients] == [50, 52]


async def test_who_needs_thought_comes_with_odds_reasons_and_a_button_that_names_the_last_promise(
    play: Play,
) -> None:
    await with_a_kept_week(play, 1, missed=1)
    card = next(m for m in await play.until(SUNDAY) if m.key.startswith("settle:"))
    assert card.text.startswith("<b>Client 00</b>, this week 1 of 2.\nNext week: <b>")
    assert "Odds of keeping <b>1: " in card.text
    assert "Why: " in card.text
    assert "%" not in card.text
    accept, hold = list(card.buttons)[:2]
    assert (accept, hold) == ("Accept 1", "Hold at 2")
    said = await play.presses(COACH_ID, "Hold at 2")
    assert "Client 00: 2 sessions" in said_to(said, COACH_ID)


async def test_the_digest_again_brings_the_buttons_of_what_waits(play: Play) -> None:
    clients = await with_a_kept_week(play, 2, missed=1)
    await play.until(SUNDAY)
    again = await play.says(COACH_ID, "/digest")
    assert [next(iter(m.buttons)) for m in again if m.buttons] == ["Accept 1", "Accept 1"]
    assert "Client 00: 1 session" in said_to(
        await play.presses(COACH_ID, "", data=again[1].buttons["Accept 1"]), COACH_ID
    )
    again = await play.says(COACH_ID, "/digest")
    assert [m.text.split("</b>")[0] for m in again if m.buttons] == ["<b>Client 01"]
    assert (await promise(play, clients[0])).settled == 1


async def test_the_digest_comes_once_a_week(play: Play) -> None:
    await play.client()
    await play.until(SUNDAY)
    await play.house.tick(play.store, SUNDAY + dt.timedelta(minutes=1))
    assert [m for m in await play.news() if m.kind == "digest"] == []
    said = await play.until(SUNDAY + dt.timedelta(days=7))
    assert any("Week 49" in m.text for m in said)


async def test_one_tap_accepts_all_that_is_well(play: Play) -> None:
    clients = await with_a_kept_week(play, 6)
    await play.until(SUNDAY)
    said = await play.presses(COACH_ID, "Accept all 6")
    assert "6 weeks settled" in said_to(said, COACH_ID)
    for client in clients:
        settled = await promise(play, client)
        assert (settled.settled, settled.settled_by) == (settled.recommended, Hand.COACH)


async def test_twenty_clients_of_whom_four_need_thought_take_at_most_twelve_taps(play: Play) -> None:
    clients = await with_a_kept_week(play, 20, missed=4)
    said = await play.until(SUNDAY)
    need_thought = [m for m in said if m.key.startswith("settle:")]
    assert len(need_thought) == 4
    taps = 0
    for message in need_thought:
        await play.presses(COACH_ID, "", data=next(iter(message.buttons.values())))
        taps += 1
    await play.presses(COACH_ID, "Accept all 16")
    taps += 1
    assert taps <= 12
    assert all([(await promise(play, client)).settled is not None for client in clients])


async def test_what_nobody_settled_is_assumed_when_settling_closes(play: Play) -> None:
    clients = await with_a_kept_week(play, 1)
    await play.until(SUNDAY)
    assert (await promise(play, clients[0])).settled is None
    await play.until(SUNDAY + dt.timedelta(hours=2))
    assumed = await promise(play, clients[0])
    assert assumed.settled_by is Hand.ASSUMED
    assert assumed.settled is not None
    assert assumed.settled <= 2  # the lower of recommendation and last promise


async def test_the_coach_may_change_it_until_the_first_prompt(play: Play) -> None:
    clients = await with_a_kept_week(play, 1)
    said = await play.until(SUNDAY)
    other = next(m for m in said if "acceptall" in str(m.payload) or m.key.startswith("settle:"))
    await play.presses(COACH_ID, "Accept")
    assert other is not None
    settled = await promise(play, clients[0])
    play.at = dt.datetime(2026, 11, 30, 7, 1, tzinfo=dt.UTC)
    await play.until(play.at)
    said = await play.presses(COACH_ID, "", data=play.house.desk.signer.data(_set(settled.id, 1), COACH_ID))
    assert "week has begun, so its number stays" in said_to(said, COACH_ID)
    assert (await promise(play, clients[0])).settled == settled.settled


def _set(promise_id: int, number: int) -> Button:
    return button("", "set", promise_id, number)


async def test_a_rest_week_asks_for_nothing(play: Play) -> None:
    client = await play.client()
    await play.until(SUNDAY)
    data = play.house.desk.signer.data(_set((await promise(play, client)).id, 0), COACH_ID)
    await play.presses(COACH_ID, "", data=data)
    said = await play.until(SUNDAY + dt.timedelta(days=6))
    to_client = [m for m in said if m.chat_id == CLIENT_ID]
    assert ["a rest week" in m.text for m in to_client] == [True]


async def test_more_than_one_above_the_last_promise_needs_the_clients_yes(play: Play) -> None:
    clients = await with_a_kept_week(play, 1)
    await play.until(SUNDAY)
    standing = await promise(play, clients[0])
    await play.presses(COACH_ID, "", data=play.house.desk.signer.data(_set(standing.id, 5), COACH_ID))
    said = await play.until(SUNDAY + dt.timedelta(minutes=1))
    assert "Only if you say yes; else it stays 2" in said_to(said, 7200)
    await play.until(dt.datetime(2026, 11, 30, 12, tzinfo=dt.UTC))
    assert (await promise(play, clients[0])).agreed == 2


async def test_the_words_of_a_client_reach_the_coach_and_the_answer_comes_back(play: Play) -> None:
    await play.client()
    said = await play.says(
        CLIENT_ID, "coach, should I swap the hinge for something with less load on the grip?"
    )
    note = next(m for m in said if m.chat_id == COACH_ID)
    assert "swap the hinge" in note.text
    assert "Lisbon" in note.text
    await _sent(play, note.key, 901)
    said = await play.says(COACH_ID, "Yes: use straps", reply_to_message={"message_id": 901})
    assert "Yes: use straps" in said_to(said, CLIENT_ID)


async def _sent(play: Play, key: str, message_id: int) -> None:
    """As if Telegram had taken the message, under this number."""
    from sqlalchemy import update

    from core.store.queue_tables import outbox

    async with play.store.begin() as tx:
        await tx.execute(
            update(outbox).where(outbox.c.key == key).values(state=State.SENT.value, message_id=message_id)
        )
        await play.house.ended(tx, await queued(tx, key), State.SENT)


async def test_what_the_coach_has_answered_needs_no_thought_on_sunday(play: Play) -> None:
    await play.client()
    await play.says(CLIENT_ID, "coach, which shoes for the deck?")
    assert "which shoes" in said_to(await play.says(COACH_ID, "/digest"), COACH_ID)
    await play.presses(COACH_ID, "Answer")
    await play.says(COACH_ID, "Flat ones")
    assert "which shoes" not in said_to(await play.says(COACH_ID, "/digest"), COACH_ID)
    await play.says(CLIENT_ID, "coach, and on stage?")
    again = said_to(await play.says(COACH_ID, "/digest"), COACH_ID)
    assert "and on stage?" in again
    assert "which shoes" not in again


async def test_a_voice_note_of_a_client_is_passed_on_as_it_is(play: Play) -> None:
    await play.client()
    said = await play.sends(CLIENT_ID, voice={"file_id": "abc", "file_size": 2000, "duration": 3})
    copied = [m for m in said if m.method == "copyMessage"]
    assert [(m.chat_id, m.payload["from_chat_id"]) for m in copied] == [(COACH_ID, CLIENT_ID)]


async def test_the_coach_writes_to_several(play: Play) -> None:
    await play.client()
    await play.client(7102, "Otis")
    await play.says(COACH_ID, "/write")
    await play.presses(COACH_ID, "Everyone")
    said = await play.says(COACH_ID, "New warm-up from Monday <3")
    assert "New warm-up from Monday &lt;3" in said_to(said, CLIENT_ID)
    assert "New warm-up from Monday &lt;3" in said_to(said, 7102)


async def test_a_pushed_session_shows_when_it_was_sent_opened_begun_and_done(play: Play) -> None:
    await play.client()
    await play.says(COACH_ID, "/push")
    for label in ("Mara", "Go on", "20"):
        await play.presses(COACH_ID, label)
    draft = said_to(await play.presses(COACH_ID, "Show the draft"), COACH_ID)
    said = await play.presses(COACH_ID, "Send it now")
    pushed = next(m for m in said if m.chat_id == CLIENT_ID)
    assert "not gone out yet" in said_to(await play.says(COACH_ID, "/sent"), COACH_ID)
    await _sent(play, pushed.key, 902)
    assert "sent Wed 12:00" in said_to(await play.says(COACH_ID, "/sent"), COACH_ID)
    shown = await play.presses(CLIENT_ID, "Show the session")
    assert shown[0].text.splitlines()[0] in draft
    assert "opened Wed 12:00" in said_to(await play.says(COACH_ID, "/sent"), COACH_ID)
    await play.presses(CLIENT_ID, "One by one")
    assert "begun Wed 12:00" in said_to(await play.says(COACH_ID, "/sent"), COACH_ID)
    await play.presses(CLIENT_ID, "Done")
    assert "done Wed 12:00" in said_to(await play.says(COACH_ID, "/sent"), COACH_ID)


async def test_a_session_in_the_coachs_own_words_arrives_as_written(play: Play) -> None:
    await play.client()
    await play.says(COACH_ID, "/push")
    await play.presses(COACH_ID, "Mara")
    await play.presses(COACH_ID, "Go on")
    await play.says(COACH_ID, "Cabin session\n3 rounds: 12 split squats, 10 press-ups")
    await play.presses(COACH_ID, "Send it now")
    said = await play.presses(CLIENT_ID, "Show the session")
    assert "3 rounds: 12 split squats" in said_to(said, CLIENT_ID)


async def test_what_the_coach_settled_is_seen_by_the_client_after_quiet_hours(play: Play) -> None:
    client = await play.client(zone="Asia/Singapore", country="SG", place="Singapore")
    await play.until(SUNDAY)
    data = play.house.desk.signer.data(_set((await promise(play, client)).id, 2), COACH_ID)
    await play.presses(COACH_ID, "", data=data)
    said = await play.until(dt.datetime(2026, 11, 29, 22, 59, tzinfo=dt.UTC))
    assert [m for m in said if m.chat_id == CLIENT_ID] == []
    said = await play.until(dt.datetime(2026, 11, 29, 23, 0, tzinfo=dt.UTC))
    assert "2 sessions" in said_to(said, CLIENT_ID)


async def test_the_far_east_is_in_a_short_list_a_day_ahead(play: Play) -> None:
    client = await play.client(zone="Pacific/Kiritimati", country="KI", place="London")
    said = await play.until(SUNDAY - dt.timedelta(days=1))
    assert "A day ahead" in said_to(said, COACH_ID)
    settled_by = (await promise(play, client)).settle_by
    assert settled_by is not None
    assert settled_by > SUNDAY - dt.timedelta(days=1)


async def test_the_coach_sets_how_often_a_client_is_asked(play: Play) -> None:
    client = await play.client(name="Vida", user=7190)
    await play.says(COACH_ID, "/clients")
    await play.presses(COACH_ID, "Vida")
    said = await play.presses(COACH_ID, "How often I ask")
    assert "sleep on training days, and I write first at most twice a day and 12 times a week" in said_to(
        said, COACH_ID
    )
    for label in ("sleep every day", "1 a day", "6 a week"):
        await play.presses(COACH_ID, label)
    async with play.store.reading() as tx:
        now = await house.clients.get(tx, client.id)
    assert (now.sleep_asked, now.daily_limit, now.weekly_limit) == ("daily", 1, 6)
