"""A calendar that a client sends: a line a trip, kept by a tap, and a sentence for everything that is none."""

import datetime as dt

import pytest

from core.calendar.calendar_text import LARGEST
from core.people.model import Stage
from core.people.records import PlannedTrip
from core.store import house
from core.store.engine import Store
from core.terms import Room
from tests.core.calendar.test_trip_file import calendar
from tests.playhouse import CLIENT_ID, COACH_ID, Play, said_to


def event(title: str, first: str, after: str, where: str = "") -> str:
    place = f"\r\nLOCATION:{where}" if where else ""
    return f"SUMMARY:{title}\r\nDTSTART;VALUE=DATE:{first}\r\nDTEND;VALUE=DATE:{after}{place}"


BERGEN = event("Tour: Bergen", "20261203", "20261208")
PORTO = event("Get-in", "20261212", "20261216", r"Teatro Nacional\, 4000-021 Porto\, Portugal")
CAMBRIDGE = event("Residency", "20270110", "20270120", "Cambridge")


@pytest.fixture
async def play(store: Store) -> Play:
    stage = Play(store)
    await stage.coach()
    await stage.client()
    return stage


async def send(play: Play, *events: str, name: str = "tour.ics") -> str:
    return said_to(await play.sends_file(CLIENT_ID, calendar(*events), name), CLIENT_ID)


async def press(play: Play, label: str) -> str:
    return said_to(await play.presses(CLIENT_ID, label), CLIENT_ID)


async def trips(play: Play) -> list[PlannedTrip]:
    async with play.store.reading() as tx:
        return [trip for trip in await house.trips.list(tx) if trip.cancelled_at is None]


async def test_each_trip_is_repeated_in_a_line_and_nothing_is_kept_before_the_tap(play: Play) -> None:
    said = await send(play, BERGEN, PORTO, CAMBRIDGE)
    assert said.splitlines() == [
        "What I read in your calendar:",
        "<b>Bergen, Norway</b>: 3 to 7 Dec (Tour: Bergen)",
        "<b>Porto, Portugal</b>: 12 to 15 Dec (Get-in)",
        "<b>Cambridge</b>: 10 to 19 Jan, and I will ask which one (Residency)",
    ]
    assert await trips(play) == []


async def test_one_trip_is_taken_by_one_tap_and_its_room_by_another(play: Play) -> None:
    await send(play, BERGEN)
    said = await press(play, "Take it")
    assert "Bergen, 3 to 7 Dec: noted. I ask you by the clock there." in said
    assert "What is there to train with in Bergen, 3 to 7 Dec?" in said
    await press(play, "bands")
    [trip] = await trips(play)
    assert (trip.place, trip.country, trip.zone) == ("Bergen", "NO", "Europe/Oslo")
    assert (trip.first, trip.last, trip.room) == (dt.date(2026, 12, 3), dt.date(2026, 12, 7), Room.BANDS)


async def test_all_are_taken_which_of_a_name_is_asked_and_rooms_come_one_by_one(play: Play) -> None:
    await send(play, BERGEN, PORTO, CAMBRIDGE)
    assert "more than one Cambridge" in await press(play, "Take all 3")
    said = await press(play, "Cambridge, Massachusetts")
    assert "Noted; I ask you by the clock there:" in said
    assert "train with in Bergen" in said
    assert "train with in Porto" in await press(play, "a hotel gym")
    assert "train with in Cambridge" in await press(play, "Out of reach")
    assert "What is there to train with" not in await press(play, "bands")
    kept = {trip.place: trip for trip in await trips(play)}
    assert {place: trip.zone for place, trip in kept.items()} == {
        "Bergen": "Europe/Oslo", "Porto": "Europe/Lisbon", "Cambridge": "America/New_York",
    }  # fmt: skip
    assert (kept["Bergen"].room, kept["Porto"].in_reach, kept["Cambridge"].room) == (
        Room.HOTEL_GYM,
        False,
        Room.BANDS,
    )


async def test_some_are_left_out(play: Play) -> None:
    await send(play, BERGEN, PORTO)
    await press(play, "Which of them")
    await press(play, "Bergen, 3 to 7 Dec •")
    await press(play, "Take these")
    assert [trip.place for trip in await trips(play)] == ["Porto"]


async def test_not_now_keeps_nothing_and_the_buttons_have_had_their_day(play: Play) -> None:
    await send(play, BERGEN)
    assert "Left. Nothing in your plan has changed." in await press(play, "Not now")
    assert "had its day" in await press(play, "Take it")
    assert await trips(play) == []


async def test_what_is_planned_already_is_not_offered_again(play: Play) -> None:
    await send(play, BERGEN)
    await press(play, "Take it")
    assert await send(play, BERGEN) == "I have that trip already."
    said = await send(play, BERGEN, PORTO)
    assert "Bergen, Norway" not in said
    assert "1 trip in it I have already." in said


async def test_birthdays_meetings_and_days_at_home_are_no_trips(play: Play) -> None:
    said = await send(
        play,
        "SUMMARY:Nancy's birthday\r\nDTSTART;VALUE=DATE:20200503\r\nRRULE:FREQ=YEARLY",
        event("Nancy", "20261220", "20261221"),
        "SUMMARY:Call\r\nDTSTART:20261203T080000Z\r\nDTEND:20261203T090000Z",
        event("Home weeks", "20261203", "20261215", "Lisbon"),
    )
    assert said.startswith("I found no trip in the coming year in that calendar")
    assert "4 events in it I take for no trip." in said


async def test_a_place_that_is_not_known_is_asked_for_in_words(play: Play) -> None:
    said = await send(play, BERGEN, event("Camp", "20270201", "20270205", "Hall 3"))
    assert "I do not know where this is: Camp (1 to 4 Feb)." in said


async def test_a_calendar_of_birthdays_and_days_off_is_read_for_the_trip_in_it(play: Play) -> None:
    off = "SUMMARY:Off\r\nDTSTART;VALUE=DATE:20240107\r\nRRULE:FREQ=WEEKLY"
    birthday = "SUMMARY:Nancy\r\nDTSTART;VALUE=DATE:19840229\r\nRRULE:FREQ=YEARLY"
    odd = event("On <watch>", "20240107", "20240110", "Oslo") + "\r\nRRULE:FREQ=MONTHLY;BYSETPOS=1;BYDAY=MO"
    said = await send(play, *[off] * 30, *[birthday] * 30, odd, BERGEN)
    assert said.splitlines() == [
        "What I read in your calendar:",
        "<b>Bergen, Norway</b>: 3 to 7 Dec (Tour: Bergen)",
        "How often this comes back I cannot read: On &lt;watch&gt;. If it is a trip, tell me each time in a line.",
        "60 events in it I take for no trip.",
    ]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"hello", "not a calendar"),
        (b"\x00\xff\xfe", "not a calendar"),
        (b"", "not a calendar"),
        (b"x" * (LARGEST + 1), "I read up to 5 MB"),
        (calendar(*[event(f"E{n}", "20261203", "20261205") for n in range(2000)]), "more than 1000 events"),
    ],
)
async def test_files_that_cannot_be_read_get_a_clear_sentence(play: Play, content: bytes, says: str) -> None:
    said = said_to(await play.sends_file(CLIENT_ID, content, "tour.ics"), CLIENT_ID)
    assert says in said
    assert await trips(play) == []


async def test_more_trips_than_a_message_holds_are_taken_in_part_and_it_is_said(play: Play) -> None:
    days = [dt.date(2026, 12, 1) + dt.timedelta(days=4 * n) for n in range(25)]
    said = await send(
        play,
        *[event("Leg", f"{day:%Y%m%d}", f"{day + dt.timedelta(days=2):%Y%m%d}", "Bergen") for day in days],
    )
    assert "5 later trips I leave for now" in said
    await press(play, "Take all 20")
    assert len(await trips(play)) == 20


async def test_a_sign_of_danger_under_a_calendar_comes_first(play: Play) -> None:
    sent = await play.sends_file(
        CLIENT_ID, calendar(BERGEN), "tour.ics", caption="chest pain since this morning"
    )
    assert "RED FLAG" in said_to(sent, COACH_ID)


async def test_another_document_goes_to_the_coach(play: Play) -> None:
    sent = await play.sends_file(CLIENT_ID, b"%PDF", "contract.pdf")
    assert "copyMessage" in [m.method for m in sent if m.chat_id == COACH_ID]


async def test_who_is_not_enrolled_yet_goes_on_with_the_questions(play: Play) -> None:
    async with play.store.reading() as tx:
        [client] = await house.clients.list(tx)
    await play.change(client.id, stage=Stage.ENROLLING)
    assert "calendar" not in (await send(play, BERGEN)).lower()
    assert await trips(play) == []
