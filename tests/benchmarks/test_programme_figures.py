"""Figures of the programme: how fast sessions are built, whether they fit and cover, and what half a year of them looks like."""

import dataclasses
import datetime as dt
import itertools
import random
import statistics
import time

import pytest

from core.programme.build import build_session, possibilities
from core.programme.movements import Load, our_library
from core.programme.optimum import best_of
from core.programme.results import LiftResult
from core.programme.session import Session, SessionRequest
from core.programme.warm_up import warm_up_seconds
from core.programme.week import Trained, plan_week
from core.terms import Block, Level, Pattern, Place, Room
from tests.outside.test_programme_optimum import by_milp

LIBRARY = our_library()
MINUTES = (10, 15, 20, 30, 45, 60, 90)
COMPLAINTS = (
    frozenset[Place](),
    frozenset({Place.KNEE}),
    frozenset({Place.LOWER_BACK}),
    frozenset({Place.SHOULDER, Place.WRIST}),
)


@pytest.mark.benchmark
def test_every_block_minutes_room_level_and_complaint() -> None:
    seconds: list[float] = []
    built: list[Session] = []
    for block, minutes, room, level, complaints in itertools.product(Block, MINUTES, Room, Level, COMPLAINTS):
        request = SessionRequest(block=block, minutes=minutes, room=room, level=level, complaints=complaints)
        began = time.process_time()
        built.append(build_session(request, LIBRARY))
        seconds.append(time.process_time() - began)
    fit = sum(session.estimated_seconds <= session.minutes * 60 for session in built)
    covers = sum(set(session.patterns) == set(Pattern) for session in built)
    print(f"\n{len(built)} sessions: {fit} fit, {covers} cover all five patterns")
    print(
        f"built a second of processor time: {len(built) / sum(seconds):.0f}; median {1e3 * statistics.median(seconds):.1f} ms, ",
        end="",
    )
    print(f"p99 {1e3 * statistics.quantiles(seconds, n=100)[98]:.1f} ms, most {1e3 * max(seconds):.1f} ms")
    print("minutes  used (mean, least)  patterns (mean)  by block: share of the minutes used")
    for minutes in MINUTES:
        some = [session for session in built if session.minutes == minutes]
        used = [session.estimated_seconds / (60 * minutes) for session in some]
        blocks = " ".join(
            f"{block}:{statistics.mean(s.estimated_seconds / (60 * minutes) for s in some if s.block is block):.2f}"
            for block in Block
        )
        patterns = statistics.mean(len(set(session.patterns)) for session in some)
        print(
            f"{minutes:7}  {statistics.mean(used):.3f}, {min(used):.3f}       {patterns:.2f}             {blocks}"
        )
    assert fit == len(built)


@pytest.mark.benchmark
def test_distance_from_the_optimum_of_milp() -> None:
    chance = random.Random(7)
    distances = []
    for _ in range(12):
        block, room = (
            chance.choice([b for b in Block if b is not Block.POWER_ENDURANCE]),
            chance.choice(list(Room)),
        )
        minutes, level = chance.choice((15, 20, 30, 45)), chance.choice(list(Level))
        request = SessionRequest(block=block, minutes=minutes, room=room, level=level)
        shared, structures = possibilities(request, LIBRARY)
        seconds = minutes * 60 - warm_up_seconds(minutes)
        ours = best_of(shared, structures, seconds).aims
        theirs = max(by_milp([*shared, *structure], seconds) for structure in structures)
        distances.append(tuple(a - b for a, b in zip(theirs, ours, strict=True)))
    print(
        f"\ndistances of {len(distances)} sessions from the optimum of MILP, aim by aim: {sorted(set(distances))}"
    )
    assert set(distances) == {(0,) * 6}


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody for half a year: where they train, how often they promise to, and how often they do."""

    name: str
    rooms: tuple[Room, ...]
    level: Level
    complaints: frozenset[Place]
    minutes: tuple[int, ...]
    promise: int
    keeps: float


PEOPLE = (
    Person(
        name="stage manager, full gym",
        rooms=(Room.FULL_GYM,),
        level=Level.ADVANCED,
        complaints=frozenset(),
        minutes=(60,),
        promise=3,
        keeps=0.85,
    ),
    Person(
        name="surveyor, hotel rooms",
        rooms=(Room.NONE, Room.HOTEL_GYM, Room.BANDS),
        level=Level.INTERMEDIATE,
        complaints=frozenset(),
        minutes=(20, 30),
        promise=2,
        keeps=0.7,
    ),
    Person(
        name="fly operator, bad knee",
        rooms=(Room.FULL_GYM, Room.DUMBBELLS),
        level=Level.BEGINNER,
        complaints=frozenset({Place.KNEE}),
        minutes=(45,),
        promise=1,
        keeps=0.75,
    ),
)


@pytest.mark.benchmark
@pytest.mark.parametrize("person", PEOPLE, ids=lambda person: person.name)
def test_half_a_year_with_misses(person: Person) -> None:
    chance = random.Random(11)
    trained, done = _half_a_year(person, chance)
    print(f"\n{person.name}: {len(done)} sessions in 26 weeks, promise {person.promise}")
    for pattern in Pattern:
        days = [each.on for each in trained if pattern in each.patterns]
        gaps = [(later - earlier).days for earlier, later in itertools.pairwise(days)]
        sets = (
            sum(each.sets for session in done for each in session.exercises if each.pattern is pattern) / 26
        )
        kept = "maintained" if sets >= 1 else "below one"
        grows = "and enough to progress" if sets >= 4 else "below four to progress"
        print(
            f"  {pattern:9} longest untrained {max(gaps):3} days; {sets:5.1f} weekly sets ({kept}, {grows})"
        )
    same = sum(
        [e.key for e in one.exercises] == [e.key for e in other.exercises]
        for one, other in itertools.pairwise(done)
    )
    print(f"  the same session twice running: {same} times")


def _half_a_year(person: Person, chance: random.Random) -> tuple[list[Trained], list[Session]]:
    trained: list[Trained] = []
    done: list[Session] = []
    lasts: list[LiftResult] = []
    start = dt.date(2027, 1, 4)
    blocks = [Block.HYPERTROPHY] * 8 + [Block.STRENGTH] * 6 + [Block.POWER] * 4 + [Block.HYPERTROPHY] * 8
    for week, block in enumerate(blocks):
        monday = start + dt.timedelta(weeks=week)
        missed: list[frozenset[Pattern]] = []
        for ask in range(person.promise):
            day = monday + dt.timedelta(days=2 * ask)
            left = person.promise - ask
            carried = plan_week(
                promise=person.promise, left=left, monday=monday, block=block, trained=trained, missed=missed
            )[0]
            if chance.random() > person.keeps:
                missed.append(frozenset(carried.patterns))
                continue
            request = SessionRequest(
                block=block,
                minutes=chance.choice(person.minutes),
                room=chance.choice(person.rooms),
                level=person.level,
                complaints=person.complaints,
                patterns=carried.patterns,
                emphasis=carried.emphasis,
                lasts=tuple(lasts),
                recent=tuple(each.keys for each in reversed(done[-2:])),
                deload=week % 7 == 6,
            )
            session = build_session(request, LIBRARY)
            assert session.estimated_seconds <= request.minutes * 60
            done.append(session)
            trained.append(Trained(day, frozenset(session.patterns), session.lead))
            lasts += _results(session, day, chance)
    return trained, done


def _results(session: Session, day: dt.date, chance: random.Random) -> list[LiftResult]:
    results = []
    for each in session.exercises:
        weighed = LIBRARY.by_key[each.key].load is not Load.BODY
        sets = tuple(chance.randint(each.low, each.high) for _ in range(each.sets))
        kg = (each.kg or 20.0) if weighed else None
        goal = (each.low, each.high)
        results.append(
            LiftResult(exercise=each.key, sets=sets, kg=kg, goal=goal, block=session.block, on=day)
        )
    return results
