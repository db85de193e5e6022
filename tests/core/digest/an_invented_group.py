"""An invented group: the crew of a touring theatre and a marine survey team, in the week before the Lisbon leg."""

import datetime as dt

from core.calendar.trips import Trip
from core.calendar.weeks import IsoWeek
from core.digest.facts import Audit, ClientWeek, GroupWeek, NextWeek, Pain
from core.terms import Room
from core.wellbeing.load import LoadWeek
from core.wellbeing.sleep import SleepWeek

WEEK = IsoWeek(2026, 48)
LISBON = Trip(
    place="Lisbon",
    zone="Europe/Lisbon",
    country="PT",
    first=dt.date(2026, 12, 3),
    last=dt.date(2026, 12, 7),
    room=Room.HOTEL_GYM,
)
AT_SEA = Trip(
    place="Dogger Bank",
    zone="Europe/London",
    first=dt.date(2026, 11, 30),
    last=dt.date(2026, 12, 9),
    in_reach=False,
)


def coming(
    recommended: int, *, previous: int | None = 3, minutes: int = 45, why: str = "", **more: object
) -> NextWeek:
    keep = {size: round(max(0.05, 0.84 - 0.16 * (size - recommended)), 2) for size in range(1, 8)}
    keep = {size: min(odds, 0.97) for size, odds in keep.items()}
    return NextWeek(
        recommended=recommended,
        minutes=minutes,
        keep=keep,
        expected={size: size * (0.5 + keep[size] / 2) for size in range(1, 8)},
        why=why,
        previous=previous,
        **more,  # type: ignore[arg-type]
    )


def slept(mean: float, *, need: float = 8, nights: int = 5, short: int = 0) -> SleepWeek:
    return SleepWeek(
        nights=nights, short=short, mean=mean, need=need, debt=max(0, need - mean) * nights, spread=None
    )


def loaded(
    total: float, previous: float | None = None, *, sessions: int = 3, rated: int | None = None
) -> LoadWeek:
    return LoadWeek(
        total=total, rated=sessions if rated is None else rated, sessions=sessions, previous=previous
    )


FLAGGED = ClientWeek(
    name="Ruth Okafor",
    promised=3,
    done=2,
    excused=1,
    engaged=0.93,
    red_flags=("bit of a tight chest on the last set, fine now",),
    sleep=slept(6.9, short=2),
    load=loaded(610, 540, sessions=2),
    next_week=coming(2, why="something was excused last week"),
)
SILENT = ClientWeek(
    name="Ines Carvalho",
    promised=3,
    done=0,
    missed=1,
    unanswered=2,
    engaged=0.21,
    silent_since=dt.date(2026, 11, 25),
    trips=(LISBON,),
    next_week=coming(1, minutes=30, why="1 of the last 8 sessions done; the last week was not kept"),
)
SORE = ClientWeek(
    name="Tomas Lindqvist",
    promised=4,
    done=3,
    short=1,
    missed=1,
    engaged=0.88,
    pain=(Pain("knee", 2),),
    sleep=slept(6.2, nights=6, short=4),
    load=loaded(1240, 1010, sessions=3),
    said=("Long get-in on Thursday, knee does not like the truck ramp.",),
    next_week=coming(3, previous=4, why="5 of 6 done at home, 2 of 4 while away"),
)
STEADY = ClientWeek(
    name="Bo Adeyemi",
    promised=3,
    done=3,
    extras=1,
    engaged=0.97,
    sleep=slept(7.4, need=7.5),
    load=loaded(980, 940, sessions=4),
    wins=("4 promises kept in a row", "the first extra"),
    next_week=coming(4, why="9 of the last 10 sessions done", never_tried=True),
)
AWAY = ClientWeek(
    name="Marta Vance",
    promised=2,
    done=2,
    engaged=0.9,
    trips=(AT_SEA,),
    next_week=coming(2, previous=2, minutes=30),
)
RESTING = ClientWeek(name="Kofi Brandt", promised=0, extras=1, engaged=0.95, next_week=coming(3))
OPEN = ClientWeek(
    name="Hana Novak",
    promised=4,
    done=3,
    still_open=1,
    engaged=0.94,
    next_week=coming(4, previous=4, if_open_done=5),
)
NEW = ClientWeek(name="Ada Quist", promised=None, next_week=coming(2, previous=None))

NAMES = (
    "Bo Adeyemi", "Marta Vance", "Kofi Brandt", "Hana Novak", "Ada Quist", "Lars Petit", "Noor Haddad", "Jonas Weir",
    "Pilar Sousa", "Emeka Obi", "Greta Holm", "Sam Teller", "Yuki Mori", "Dev Rao", "Lena Fisk", "Otto Blum", "Vera Lund",
    "Ivo Kral", "Tess Moran", "Amir Nazari",
)  # fmt: skip


def well(number: int) -> ClientWeek:
    """A client with whom all is well, each a little different."""
    promised = 2 + number % 3
    return ClientWeek(
        name=NAMES[number % len(NAMES)] + (f" {number // len(NAMES) + 1}" if number >= len(NAMES) else ""),
        promised=promised,
        done=promised,
        short=number % 2,
        extras=int(number % 4 == 0),
        engaged=0.9,
        sleep=slept(7.2 + number % 3 / 5, need=7.5) if number % 2 else None,
        load=loaded(600 + 45 * number, 570 + 50 * number),
        next_week=coming(promised + (number % 5 == 0), previous=promised),
    )


def group(clients: int = 20) -> GroupWeek:
    """Twenty clients of whom three need the coach, or more or fewer."""
    needing = (FLAGGED, SILENT, SORE)[: clients // 4 or 1]
    others = (STEADY, AWAY, RESTING, OPEN, NEW)[: max(0, clients - len(needing))]
    rest = tuple(well(number + 5) for number in range(clients - len(needing) - len(others)))
    return GroupWeek(
        week=WEEK,
        clients=(*rest, *others, *needing),
        audit=(Audit(0.8, 41, 52), Audit(0.9, 30, 34), Audit(0.6, 3, 4)),
    )
