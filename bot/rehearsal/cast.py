"""Who is in the rehearsal: a coach, the crew of a touring theatre and a marine survey team. All of them are invented."""

import datetime as dt
from dataclasses import dataclass, replace

from bot.rehearsal.temper import Temper
from core.people.model import QUIET_FROM, QUIET_TO, USUAL_CONFIDENCE, SleepAsked
from core.terms import Level, Room

OPENS = dt.datetime(2026, 11, 29, 17, 50, tzinfo=dt.UTC)  # a Sunday in Lisbon, ten minutes before the digest
SEED = 20261129


@dataclass(frozen=True, slots=True, kw_only=True)
class Journey:
    """A trip that is known from the start."""

    place: str
    zone: str
    first: dt.date
    last: dt.date
    country: str | None = None
    room: Room | None = None
    in_reach: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One client, as enrolment would have left them."""

    name: str
    trade: str
    temper: Temper
    place: str
    country: str
    zone: str
    days: tuple[int, ...]
    hour: dt.time
    room: Room = Room.FULL_GYM
    level: Level = Level.INTERMEDIATE
    minutes: int = 45
    lately: int = 2
    weeks: int = 9  # since the first promise
    sleep_need: float = 8.0
    sleep_asked: SleepAsked = SleepAsked.TRAINING
    quiet_from: dt.time = QUIET_FROM
    quiet_to: dt.time = QUIET_TO
    complaints: tuple[str, ...] = ()
    goal: str = ""
    floor: int | None = None
    confidence: float = USUAL_CONFIDENCE
    journeys: tuple[Journey, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Newcomer:
    """Somebody with a phone whom the coach has not invited yet."""

    name: str
    trade: str
    city: str
    zone: str
    temper: Temper


@dataclass(frozen=True, slots=True, kw_only=True)
class Cast:
    """Everybody."""

    coach: str
    coach_zone: str
    members: tuple[Member, ...]
    newcomer: Newcomer


def day(month: int, number: int, year: int = 2026) -> dt.date:
    return dt.date(year, month, number)


STEADY = Temper(will=4.2, strain=0.1, away=0.3, slow=9, answers=0.985)
# The page opens on this one's phone: what is looked at first is an ordinary week, with something to answer on the next day.
FIRST_SEEN = replace(STEADY, drifts=0.0, pauses=0.0, colds=0.0, alarms=0.0, hurts=0.0, wanders=0.0)
KEEN = Temper(will=3.4, strain=0.15, extras=0.35, words=0.45, answers=0.97)
OVERPROMISING = Temper(will=3.2, strain=0.7, slow=25, answers=0.96)
ERRATIC = Temper(will=1.1, strain=0.3, away=0.9, answers=0.82, slow=70)
DRIFTING = Temper(will=1.9, answers=0.85, slow=45, drifts=0.16, returns=0.5)
ABSENT = Temper(will=0.4, answers=0.4, takes_days=0.2, slow=140, drifts=0.3, returns=0.2)
TALKATIVE = Temper(will=3.0, words=0.85, wonders=0.3, slow=12, answers=0.97)

THEATRE = (
    Member(
        name="Mara Lindqvist",
        trade="stage manager",
        temper=FIRST_SEEN,
        place="Gothenburg",
        country="SE",
        lately=3,
        zone="Europe/Stockholm",
        days=(1, 3, 5),
        hour=dt.time(7, 30),
        goal="carry flight cases without thinking about it",
        journeys=(
            Journey(
                place="Berlin",
                country="DE",
                zone="Europe/Berlin",
                first=day(10, 19),
                last=day(10, 25),
                room=Room.HOTEL_GYM,
            ),
            Journey(
                place="Chicago",
                country="US",
                zone="America/Chicago",
                first=day(12, 3),
                last=day(12, 12),
                room=Room.HOTEL_GYM,
            ),
        ),
    ),
    Member(
        name="Teo Varga",
        trade="fly technician",
        temper=ERRATIC,
        place="Budapest",
        country="HU",
        zone="Europe/Budapest",
        days=(2, 4, 6),
        hour=dt.time(11),
        room=Room.DUMBBELLS,
        minutes=40,
        complaints=("shoulder",),
        journeys=(
            Journey(
                place="Vienna",
                country="AT",
                zone="Europe/Vienna",
                first=day(11, 9),
                last=day(11, 15),
                room=Room.NONE,
            ),
        ),
    ),
    Member(
        name="Imogen Ashdown",
        trade="actor",
        temper=OVERPROMISING,
        place="London",
        country="GB",
        zone="Europe/London",
        days=(1, 2, 4, 6),
        hour=dt.time(10),
        minutes=60,
        lately=4,
        level=Level.ADVANCED,
        quiet_from=dt.time(21),
        quiet_to=dt.time(9),
        journeys=(
            Journey(
                place="New York",
                country="US",
                zone="America/New_York",
                first=day(11, 24),
                last=day(12, 6),
                room=Room.HOTEL_GYM,
            ),
        ),
    ),
    Member(
        name="Kofi Darko",
        trade="lighting designer",
        temper=TALKATIVE,
        place="Accra",
        country="GH",
        confidence=0.7,
        zone="Africa/Accra",
        days=(2, 5),
        hour=dt.time(18),
        room=Room.DUMBBELLS,
        sleep_asked=SleepAsked.DAILY,
        goal="knees that like ladders",
        complaints=("knee",),
    ),
    Member(
        name="Yuki Tanabe",
        trade="wardrobe supervisor",
        temper=STEADY,
        place="Tokyo",
        country="JP",
        confidence=0.7,
        zone="Asia/Tokyo",
        days=(1, 4),
        hour=dt.time(6),
        room=Room.BANDS,
        minutes=30,
        sleep_need=7.5,
        sleep_asked=SleepAsked.NEVER,
        level=Level.BEGINNER,
    ),
    Member(
        name="Ruaridh Sinclair",
        trade="musician",
        temper=DRIFTING,
        place="Edinburgh",
        country="GB",
        zone="Europe/London",
        days=(2, 4, 7),
        hour=dt.time(16),
        room=Room.HOTEL_GYM,
        lately=3,
    ),
    Member(
        name="Paloma Reyes",
        trade="carpenter",
        temper=ABSENT,
        place="Santiago",
        country="CL",
        zone="America/Santiago",
        days=(3, 6),
        hour=dt.time(8),
        lately=1,
        weeks=6,
    ),
)
SURVEY = (
    Member(
        name="Nerys Vaughan",
        trade="hydrographer",
        temper=STEADY,
        place="Cardiff",
        country="GB",
        zone="Europe/London",
        days=(1, 3, 5),
        hour=dt.time(12, 30),
        lately=3,
        journeys=(
            Journey(
                place="North Sea",
                zone="Europe/London",
                first=day(12, 1),
                last=day(12, 9),
                room=Room.BANDS,
                in_reach=False,
            ),
        ),
    ),
    Member(
        name="Anders Holt",
        trade="deck officer",
        temper=KEEN,
        place="Bergen",
        country="NO",
        confidence=0.65,
        zone="Europe/Oslo",
        days=(2, 4, 6),
        hour=dt.time(17),
        level=Level.ADVANCED,
        minutes=50,
        lately=3,
        journeys=(
            Journey(
                place="Singapore",
                country="SG",
                zone="Asia/Singapore",
                first=day(11, 26),
                last=day(12, 13),
                room=Room.HOTEL_GYM,
            ),
        ),
    ),
    Member(
        name="Leilani Kealoha",
        trade="geophysicist",
        temper=KEEN,
        place="Honolulu",
        country="US",
        lately=3,
        confidence=0.65,
        zone="Pacific/Honolulu",
        days=(1, 3, 6),
        hour=dt.time(7),
        room=Room.DUMBBELLS,
        journeys=(
            Journey(
                place="Apia",
                country="WS",
                zone="Pacific/Apia",
                first=day(12, 2),
                last=day(12, 10),
                room=Room.NONE,
            ),
        ),
    ),
    Member(
        name="Sanjay Menon",
        trade="survey engineer",
        temper=OVERPROMISING,
        place="Mumbai",
        country="IN",
        zone="Asia/Kolkata",
        days=(1, 3, 5, 6),
        hour=dt.time(19),
        lately=4,
        floor=2,
        journeys=(
            Journey(
                place="Dubai",
                country="AE",
                zone="Asia/Dubai",
                first=day(10, 26),
                last=day(11, 8),
                room=Room.FULL_GYM,
            ),
        ),
    ),
    Member(
        name="Freya Nordahl",
        trade="party chief",
        temper=STEADY,
        place="Auckland",
        country="NZ",
        zone="Pacific/Auckland",
        days=(1, 3, 5),
        hour=dt.time(6, 30),
        sleep_asked=SleepAsked.DAILY,
        lately=3,
        sleep_need=7.0,
    ),
)
NEWCOMER = Newcomer(
    name="Joss Brennan", trade="sound engineer", city="Halifax", zone="America/Halifax", temper=KEEN
)
CAST = Cast(coach="Ines Prado", coach_zone="Europe/Lisbon", members=(*THEATRE, *SURVEY), newcomer=NEWCOMER)
