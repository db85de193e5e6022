"""What invented people see in a message, and when they act on it."""

import datetime as dt

import pytest

from bot.clock import ManualClock
from bot.rehearsal.botapi.models import Chat, Message, Person
from bot.rehearsal.botapi.world import World
from bot.rehearsal.cast import CAST
from bot.rehearsal.people.client import ClientPerson
from bot.rehearsal.people.crowd import Crowd, chance_of
from bot.rehearsal.people.plans import Agenda, Deed, when_awake
from bot.rehearsal.people.sight import Sight, session_in, sight_of
from bot.rehearsal.phone import Phone
from bot.rehearsal.temper import Temper, chance_of_training

NOON = dt.datetime(2026, 12, 1, 12, tzinfo=dt.UTC)
TOKYO = "Asia/Tokyo"


def message(text: str, *labels: str) -> Message:
    markup = {"inline_keyboard": [[{"text": label, "callback_data": label} for label in labels]]}
    return Message(
        id=1,
        chat=Chat(id=5),
        sender=Person(id=9, first_name="bot", is_bot=True),
        at=NOON,
        text=text,
        markup=markup,
    )


@pytest.mark.parametrize(
    ("text", "labels", "sight"),
    [
        (
            "07:30: 45 minutes, bands. Still good?",
            ("Show the session", "Done", "A short one", "Another day", "Can't today"),
            Sight.PROMPT,
        ),
        (
            "How did today's session go?",
            ("Done", "A short one", "Not this time", "Later"),
            Sight.FOLLOW_UP,
        ),
        ("Still here, no backlog.", ("Show me ten minutes", "Done", "Not this week"), Sight.WEEKLY),
        ("4 days are left this week.", ("Show me", "Not this week"), Sight.EXTRA),
        ("Which day instead of Monday?", ("Tue", "Thu"), Sight.MOVE),
        ("All well: Mara 3 and Teo 1.", ("Accept all 2",), Sight.WELL),
        ("All well: Mara 3.", ("Accept 3 for Mara",), Sight.WELL),
        ("Mara, this week 2 of 3.", ("Accept 2", "Hold at 3", "Another number", "Rest week"), Sight.CHOICE),
        ("Today: done. Noted.", ("2", "3", "4", "5", "6", "7", "8", "9", "Take it back"), Sight.EFFORT),
        ("Any time.", (), Sight.NOTHING),
    ],
)
def test_a_message_is_known_at_a_glance(text: str, labels: tuple[str, ...], sight: Sight) -> None:
    assert sight_of(message(text, *labels)) is sight


@pytest.mark.parametrize(
    ("text", "begins", "minutes"),
    [
        ("07:30: 45 minutes, bands. Still good?", dt.datetime.fromisoformat("2026-12-01T07:30"), 45),
        ("Tomorrow 06:00: 25 minutes, bands.", dt.datetime.fromisoformat("2026-12-02T06:00"), 25),
    ],
)
def test_when_a_session_begins_is_read_from_its_prompt(text: str, begins: dt.datetime, minutes: int) -> None:
    assert session_in(text, dt.date(2026, 12, 1)) == (begins, minutes)


@pytest.mark.parametrize(
    ("utc", "local"),
    [((1, 12), (1, 21, 0)), ((1, 15), (2, 6, 40)), ((1, 20), (2, 6, 40)), ((1, 22), (2, 7, 0))],
)
def test_nobody_writes_in_their_sleep(utc: tuple[int, int], local: tuple[int, int, int]) -> None:
    day, hour = utc
    woken = when_awake(dt.datetime(2026, 12, day, hour, tzinfo=dt.UTC), TOKYO)
    assert (woken + dt.timedelta(hours=9)).strftime("%-d %-H %-M") == "{} {} {}".format(*local)


def test_a_larger_promise_and_a_journey_make_a_session_less_likely() -> None:
    temper = Temper(will=2.0)
    home = chance_of_training(temper, promised=1, away=False)
    assert chance_of_training(temper, promised=4, away=False) < home
    assert chance_of_training(temper, promised=1, away=True) < home


def a_client(crowd: Crowd, **temper: float) -> ClientPerson:
    person = crowd.world.add_person("Mara")
    client = ClientPerson(
        chat=person.id,
        name="Mara",
        temper=Temper(**({"will": 9.0, "answers": 1.0, "words": 0.0, "muddles": 0.0} | temper)),
        chance=chance_of(1, "Mara"),
        agenda=crowd.agenda,
        zone="UTC",
    )
    crowd.people[person.id] = client
    return client


def test_whoever_is_at_the_page_is_left_to_answer_by_themselves() -> None:
    crowd = Crowd(World(ManualClock(NOON)))
    mara = a_client(crowd)
    crowd.agenda.add(NOON, mara.chat, Deed.SAY, "done")
    crowd.take_in_hand({mara.chat})
    crowd.act(NOON)
    assert Phone(crowd.world, crowd.world.people[mara.chat]).messages() == []


def test_a_steady_client_answers_a_prompt_after_the_session() -> None:
    crowd = Crowd(World(ManualClock(NOON)))
    mara = a_client(crowd)
    labels = ("Show the session", "Done", "A short one", "Another day", "Can't today")
    mara.read(message("12:30: 45 minutes, bands. Still good?", *labels), Sight.PROMPT, NOON)
    answers = [
        plan
        for plan in crowd.agenda.due(NOON + dt.timedelta(days=1))
        if plan.words in {"Done", "A short one"}
    ]
    assert len(answers) == 1
    assert answers[0].at > NOON + dt.timedelta(minutes=30)


def test_whoever_drifts_hears_nothing_until_they_come_back() -> None:
    crowd = Crowd(World(ManualClock(NOON)))
    mara = a_client(crowd, returns=1.0)
    mara.drifting = True
    mara.read(message("12:30: 45 minutes", "Done", "Another day", "Can't today"), Sight.PROMPT, NOON)
    assert crowd.next_at() is None
    mara.read(message("Still here", "Show me ten minutes", "Done", "Not this week"), Sight.WEEKLY, NOON)
    assert crowd.next_at() is not None


def test_plans_of_one_instant_are_done_in_the_order_of_their_making() -> None:
    agenda = Agenda()
    for words in ("first", "second", "third"):
        agenda.add(NOON, 1, Deed.SAY, words)
    assert [plan.words for plan in agenda.due(NOON)] == ["first", "second", "third"]


def test_nothing_keeps_the_first_phone_from_being_asked_on_the_next_day() -> None:
    """Who opens the page sees the first member's chat: a pause, a cold or a silence there would leave nothing to answer."""
    temper = CAST.members[0].temper
    assert (temper.pauses, temper.colds, temper.drifts, temper.alarms, temper.stops, temper.blocks) == (
        0,
    ) * 6
