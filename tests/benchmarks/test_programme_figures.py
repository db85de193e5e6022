"""Figures of the programme: how fast sessions are built, whether they fit and cover, and what half a year of them looks like."""

import dataclasses
import datetime as dt
import itertools
import random
import statistics
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

import pytest

from core.programme.build import BEFORE_KIN, best_choice, build_session, like, possibilities, two_kin
from core.programme.candidates import forbidden
from core.programme.movements import Load, our_library
from core.programme.optimum import best_of
from core.programme.results import LiftResult
from core.programme.session import Session, SessionRequest
from core.programme.warm_up import warm_up_seconds
from core.programme.week import Trained, plan_week
from core.terms import Block, Level, Pattern, Place, Room
from tests.outside.test_programme_optimum import by_milp

LIBRARY = our_library()
WEEKS = 26
KEEPS, GROWS = 1, 4  # sets a week: Spiering 2021, one set an exercise keeps; Iversen 2021, four to progress
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
    asked = [
        SessionRequest(block=block, minutes=minutes, room=room, level=level, complaints=complaints)
        for block, minutes, room, level, complaints in itertools.product(
            Block, MINUTES, Room, Level, COMPLAINTS
        )
    ]
    for request in asked:
        began = time.process_time()
        built.append(build_session(request, LIBRARY))
        seconds.append(time.process_time() - began)
    fit = sum(session.estimated_seconds <= session.minutes * 60 for session in built)
    print(
        f"\n{len(built)} sessions: {fit} fit into their minutes, {_share(map(_covers, built))} cover all five patterns"
    )
    for request, session in zip(asked, built, strict=True):
        if not _covers(session):
            print(
                f"  not all: {request.block}, {request.minutes} min, {request.room}, {request.level}: {session.left_out}"
            )
    print(
        f"no two exercises that ask the same of the body: {_share(not _kin_twice(session) for session in built)}; "
        f"none that room, level or complaint forbids: {_share(map(_allowed, asked, built))}"
    )
    print(
        f"built a second of processor time: {len(built) / sum(seconds):.0f}; median {1e3 * statistics.median(seconds):.1f} ms, "
        f"p99 {1e3 * statistics.quantiles(seconds, n=100)[98]:.1f} ms, most {1e3 * max(seconds):.1f} ms"
    )
    print("minutes  used (mean, least)  patterns (mean)  sets (mean)  by block: share of the minutes used")
    for minutes in MINUTES:
        _line(f"{minutes:7}", [session for session in built if session.minutes == minutes], by_block=True)
    print("room        used (mean, least)  patterns (mean)  sets (mean)")
    for room in Room:
        _line(f"{room:10}", [session for session in built if session.room is room])
    print("level         used (mean, least)  patterns (mean)  sets (mean)")
    for level in Level:
        _line(f"{level:12}", [session for session in built if session.level is level])
    assert fit == len(built)
    assert all(map(_allowed, asked, built))


def _line(name: str, some: list[Session], *, by_block: bool = False) -> None:
    used = [session.estimated_seconds / (60 * session.minutes) for session in some]
    patterns = statistics.mean(len(set(session.patterns)) for session in some)
    sets = statistics.mean(sum(each.sets for each in session.exercises) for session in some)
    blocks = " ".join(
        f"{block}:{statistics.mean(s.estimated_seconds / (60 * s.minutes) for s in some if s.block is block):.2f}"
        for block in Block
        if by_block
    )
    print(
        f"{name}  {statistics.mean(used):.3f}, {min(used):.3f}       {patterns:.2f}             {sets:4.1f}         {blocks}"
    )


def _share(holds: Iterable[bool]) -> str:
    every = list(holds)
    return f"{sum(every)} of {len(every)}"


def _covers(session: Session) -> bool:
    return set(session.patterns) == set(Pattern)


def _kin_twice(session: Session) -> bool:
    keys = [each.key for each in session.exercises] + [part.key for part in session.finish if part.key]
    kin = [LIBRARY.by_key[key].kin for key in keys if LIBRARY.by_key[key].kin]
    return len(kin) > len(set(kin))


def _allowed(request: SessionRequest, session: Session) -> bool:
    places = forbidden(request.complaints)
    known = [LIBRARY.by_key[each.key] for each in session.exercises]
    known += [LIBRARY.by_key[part.key] for part in (*session.warm_up, *session.finish) if part.key]
    return all(each.fits(request.room, request.level, places) for each in known)


@pytest.mark.benchmark
@pytest.mark.parametrize("circuits", [False, True], ids=["lifts", "circuits"])
def test_distance_from_the_optimum_of_milp(*, circuits: bool) -> None:
    """The choice of the builder against MILP, aim after aim, over every way to pair the patterns (every circuit)."""
    chance = random.Random(7)
    blocks = [b for b in Block if (b is Block.POWER_ENDURANCE) is circuits]
    distances: Counter[tuple[int, ...]] = Counter()
    branched = 0
    for _ in range(12):
        request = SessionRequest(
            block=chance.choice(blocks),
            minutes=chance.choice((10, 15, 20, 30, 45)),
            room=chance.choice(list(Room)),
            level=chance.choice(list(Level)),
        )
        seconds = request.minutes * 60 - warm_up_seconds(request.minutes)
        ours = best_choice(request, LIBRARY, seconds).aims
        theirs, parted = _milp_choice(request, seconds)
        branched += parted
        distances[tuple(a - b for a, b in zip(theirs, ours, strict=True))] += 1
    print(
        f"\ndistances of {distances.total()} sessions from the optimum of MILP, aim by aim: {dict(distances)}; "
        f"in {branched} of them exercises of one kin had to be parted"
    )
    assert set(distances) == {(0,) * 6}


def _milp_choice(request: SessionRequest, seconds: int) -> tuple[tuple[int, ...], bool]:
    """What MILP finds where no two exercises may be kin: without the one of a pair that met, or without the other."""
    best = _milp(request, seconds)
    pair = two_kin(best_of(*possibilities(request, LIBRARY), seconds))
    if pair is None:
        return best, False
    ways = [
        _milp_choice(replace(request, without=request.without | like(one, LIBRARY)), seconds)[0]
        for one in pair
    ]
    instead = max(ways)
    return (instead if instead[:BEFORE_KIN] >= best[:BEFORE_KIN] else best), True


def _milp(request: SessionRequest, seconds: int) -> tuple[int, ...]:
    shared, structures = possibilities(request, LIBRARY)
    return max(by_milp([*shared, *structure], seconds) for structure in structures)


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
    trained, done = _half_a_year(person, random.Random(11), random.Random(12))
    days = [each.on for each in trained]
    print(
        f"\n{person.name}: {len(done)} sessions in {WEEKS} weeks, promise {person.promise}, {person.minutes} minutes"
    )
    print(f"  longest time without any session: {_longest_gap(days)} days")
    weekly = _weekly_sets(trained, done)
    for pattern in Pattern:
        gap = _longest_gap([each.on for each in trained if pattern in each.patterns])
        without = _longest_run_without(pattern, done)
        sets = [week.get(pattern, 0) for week in weekly]
        mean = sum(sets) / WEEKS
        print(
            f"  {pattern:9} longest untrained {gap:3} days (at most {without} sessions running without it); "
            f"sets a week: {mean:4.1f} over all weeks; of {len(sets)} weeks with a session "
            f"{sum(n >= KEEPS for n in sets)} had the 1 that keeps, {sum(n >= GROWS for n in sets)} the 4 that progress"
        )
    same = sum(
        [e.key for e in one.exercises] == [e.key for e in other.exercises]
        for one, other in itertools.pairwise(done)
    )
    shared = statistics.mean(
        len(one.keys & other.keys) / len(one.keys | other.keys) for one, other in itertools.pairwise(done)
    )
    print(
        f"  the same session twice running: {same} times; on average {100 * shared:.0f} % of what two running have"
    )
    assert same == 0


def _longest_gap(days: Sequence[dt.date]) -> int:
    return max((later - earlier).days for earlier, later in itertools.pairwise(days))


def _longest_run_without(pattern: Pattern, done: Sequence[Session]) -> int:
    runs = [
        len(list(run)) for has, run in itertools.groupby(done, lambda s: pattern in s.patterns) if not has
    ]
    return max(runs, default=0)


def _weekly_sets(trained: Sequence[Trained], done: Sequence[Session]) -> list[Counter[Pattern]]:
    """For every week that had a session, the sets of each pattern, small exercises too."""
    weeks: dict[tuple[int, int], Counter[Pattern]] = {}
    for each, session in zip(trained, done, strict=True):
        counted = weeks.setdefault(each.on.isocalendar()[:2], Counter())
        for planned in session.exercises:
            counted[planned.pattern] += planned.sets
    return list(weeks.values())


def _half_a_year(
    person: Person, misses: random.Random, chance: random.Random
) -> tuple[list[Trained], list[Session]]:
    """Half a year of sessions; which are missed depends on nothing that is built."""
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
            if misses.random() > person.keeps:
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
            LiftResult(
                exercise=each.key, sets=sets, kg=kg, goal=goal, block=session.block, on=day, led=each.main
            )
        )
    return results
