"""The promise: the largest number of sessions that would be kept, and every rule that keeps it from leaping.

Each rule is one small function from a client's past to a :class:`Limit`, or to nothing where it does not apply.
"""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from core.adherence.forecast import Odds
from core.adherence.history import LARGEST_PROMISE, HistoryRow, monday_of
from core.adherence.plan import PlannedDay, fewer_minutes
from core.adherence.weeks import TOOK_PLACE, WEEK, Week

USUAL_CONFIDENCE = 0.8
MOST_FOR_A_STRANGER = 2
LAY_OFF = dt.timedelta(days=14)
CREDIBLE = 0.9
KEPT_BEFORE_EXPLORING = 3
EXPLORE_AT_MOST_EVERY = 4 * WEEK
DOSE_CAPS = (0.5, 0.7, 0.8, 0.9)
"""Upper limits of the dose in the weeks after a lay-off, as shares of the usual one.

Caterisano et al. 2019, Strength Cond J 41(3):1-23: cut by 50, 30, 20 and 10 % in weeks 1 to 4.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What the history alone does not tell.

    ``confidence`` is how sure a promise must be; ``floor`` the least that the coach would ask; ``lately`` the weekly sessions
    that the client reported at enrolment; ``planned`` the days already chosen for the coming week; ``away`` where trips put
    the client, by date; ``explored_on`` the day on which exploring was last offered.
    """

    confidence: float = USUAL_CONFIDENCE
    floor: int | None = None
    lately: int | None = None
    planned: tuple[PlannedDay, ...] | None = None
    away: Mapping[dt.date, bool] = field(default_factory=dict)
    explored_on: dt.date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """What the rules look back on: the weeks up to ``as_of``, oldest first, and the last session that took place."""

    as_of: dt.date
    weeks: tuple[Week, ...]
    last_done: dt.date | None
    minutes: int

    @property
    def counted(self) -> tuple[Week, ...]:
        return tuple(week for week in self.weeks if week.counted)

    @property
    def previous(self) -> int | None:
        """The last promise: that of the last week that counted."""
        counted = self.counted
        return counted[-1].promised if counted else None

    @property
    def neutral_since(self) -> tuple[Week, ...]:
        """The neutral weeks after the last one that counted."""
        since = self.counted[-1].monday if self.counted else dt.date.min
        return tuple(week for week in self.weeks if week.monday > since)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """At most ``most`` sessions, ``because`` of something that happened."""

    most: int
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Recommendation:
    """What to promise for the coming week.

    ``previous`` is the last promise; ``never_tried`` that no week that counted had as many; ``talk_first`` that not even the
    floor would be kept with the confidence asked for; ``explore`` a size offered to the coach as an experiment; ``dose_cap``
    the share of the usual dose that a session may have; ``odds`` are those at ``minutes``; ``limits`` those that bind.
    """

    sessions: int
    minutes: int
    previous: int | None
    never_tried: bool
    talk_first: bool
    explore: int | None
    dose_cap: float
    odds: Odds
    limits: tuple[Limit, ...] = ()


OddsAt = Callable[[int], Odds]
"""The odds of the coming week if its sessions last at most so many minutes."""


def look_back(weeks: Sequence[Week], rows: Sequence[HistoryRow], as_of: dt.date, minutes: int) -> Past:
    """Gather what the rules need; ``minutes`` are the usual or planned ones."""
    took_place = [row.date for row in rows if row.outcome in TOOK_PLACE]
    return Past(as_of=as_of, weeks=tuple(weeks), last_done=max(took_place, default=None), minutes=minutes)


def recommend(past: Past, odds_at: OddsAt, settings: Settings) -> Recommendation:
    """The largest promise that would be kept with the client's confidence, within every limit."""
    limits = limits_of(past, settings)
    most = min(limit.most for limit in limits)
    floor = settings.floor or 1
    sessions, minutes, sure = _largest(past, odds_at, settings, most=most)
    lifted = max(sessions, floor)
    return Recommendation(
        sessions=lifted,
        minutes=minutes,
        previous=past.previous,
        never_tried=never_tried(past, lifted),
        talk_first=settings.floor is not None and (not sure or lifted > sessions),
        explore=explore(past, settings, recommended=lifted),
        dose_cap=dose_cap(past),
        odds=odds_at(minutes),
        limits=tuple(limit for limit in limits if limit.most == lifted < LARGEST_PROMISE),
    )


def limits_of(past: Past, settings: Settings) -> list[Limit]:
    """Every limit that applies, the week's seven days among them."""
    found = (newcomer(past, settings.lately), one_more(past), no_raise(past), after_lay_off(past))
    return [limit for limit in found if limit] + [
        Limit(most=LARGEST_PROMISE, because="a week has seven days")
    ]


def newcomer(past: Past, lately: int | None) -> Limit | None:
    """The first promise is at most what there was lately, at least one; with nothing known, two."""
    if past.previous is not None:
        return None
    if lately is None:
        return Limit(most=MOST_FOR_A_STRANGER, because="nothing is known yet")
    return Limit(most=min(max(lately, 1), LARGEST_PROMISE), because=f"there were {lately} a week lately")


def one_more(past: Past) -> Limit | None:
    """Never more than one above the last promise, nor above that of a neutral week since."""
    base = _base(past)
    if base is None:
        return None
    return Limit(most=min(base + 1, LARGEST_PROMISE), because="one more at a time")


def no_raise(past: Past) -> Limit | None:
    """No raise after a week that was not kept, was lowered, had anything excused, or had more asks short than done."""
    base = _base(past)
    if base is None:
        return None
    reason = next((reason for week in _since(past) if (reason := why_no_raise(week))), None)
    return Limit(most=base, because=reason) if reason else None


def why_no_raise(week: Week) -> str | None:
    """What in a week forbids a raise after it."""
    if week.counted and not week.kept:
        return "the last week was not kept"
    if week.lowered:
        return "the last week was lowered"
    if week.excused:
        return "something was excused last week"
    if mostly_short(week):
        return "more were short than done last week"
    return None


def mostly_short(week: Week) -> bool:
    return week.short > week.done


def after_lay_off(past: Past) -> Limit | None:
    """Fourteen days or more after the last session: at most half the promise of its week, rounded up, once."""
    half = _half_after_lay_off(past)
    return (
        None if half is None else Limit(most=half, because=f"the last session was {_days_off(past)} days ago")
    )


def never_tried(past: Past, size: int) -> bool:
    return all(week.promised < size for week in past.counted)


def explore(past: Past, settings: Settings, *, recommended: int) -> int | None:
    """One session up, after three kept weeks, at most monthly; never where a raise is recommended or forbidden anyway."""
    previous, last = past.previous, past.counted[-KEPT_BEFORE_EXPLORING:]
    if previous is None or recommended != previous or previous == LARGEST_PROMISE:
        return None
    settled = len(last) == KEPT_BEFORE_EXPLORING and all(week.kept for week in last)
    allowed = min(limit.most for limit in limits_of(past, settings)) > previous
    return previous + 1 if settled and allowed and not _explored_lately(past, settings) else None


def dose_cap(past: Past) -> float:
    """The share of the usual dose that the coming week may have, after a lay-off; 1 otherwise."""
    if _half_after_lay_off(past):
        return DOSE_CAPS[0]
    back = _weeks_since_return(past)
    return 1.0 if back is None else (*DOSE_CAPS, 1.0)[min(back, len(DOSE_CAPS))]


def _largest(past: Past, odds_at: OddsAt, settings: Settings, *, most: int) -> tuple[int, int, bool]:
    """The size, its minutes, and whether it reaches the confidence; the floor where none does."""
    usual = _first_minutes(past)
    floor = min(settings.floor or 1, most)
    for size in range(most, floor - 1, -1):
        if odds_at(usual).keep[size] >= settings.confidence:
            return size, usual, True
        if past.previous is not None and size > past.previous:
            continue
        shorter = _short_enough(size, usual, odds_at, settings)
        if shorter:
            return size, shorter, True
    return floor, usual, False


def _first_minutes(past: Past) -> int:
    """The usual minutes, or three quarters of them after a week with more asks short than done."""
    if not any(mostly_short(week) for week in past.counted[-1:]):
        return past.minutes
    return next(
        (minutes for minutes in fewer_minutes(past.minutes) if minutes <= past.minutes * 3 / 4), past.minutes
    )


def _short_enough(size: int, usual: int, odds_at: OddsAt, settings: Settings) -> int | None:
    """The most minutes below the usual at which so many would be kept, if the client's own data carry that."""
    if odds_at(usual).lighter < CREDIBLE:
        return None
    return next((m for m in fewer_minutes(usual) if odds_at(m).keep[size] >= settings.confidence), None)


def _base(past: Past) -> int | None:
    """What a raise is counted from: the last promise, or a lower one of a neutral week since."""
    if past.previous is None:
        return None
    return min([past.previous, *(week.promised for week in past.neutral_since if week.promised)])


def _since(past: Past) -> tuple[Week, ...]:
    """The last week that counted and the neutral ones after it."""
    return past.counted[-1:] + past.neutral_since


def _days_off(past: Past) -> int:
    return (past.as_of - past.last_done).days if past.last_done else 0


def _half_after_lay_off(past: Past) -> int | None:
    if past.last_done is None or past.as_of - past.last_done < LAY_OFF:
        return None
    half = max(1, (_promise_at(past, past.last_done) + 1) // 2)
    halved = any(week.promised <= half for week in past.counted if week.monday > past.last_done)
    return None if halved else half


def _promise_at(past: Past, day: dt.date) -> int:
    """The promise of that day's week, or of the last one before it that had one."""
    before = [week.promised for week in past.weeks if week.promised and week.monday <= monday_of(day)]
    return before[-1] if before else 1


def _weeks_since_return(past: Past) -> int | None:
    """Full weeks since the first session after the latest lay-off, None where there was none in the last weeks."""
    done = [week.monday for week in past.weeks if week.kept_asks or week.extra]
    gaps = [later for earlier, later in pairwise(done) if later - earlier > LAY_OFF]
    return (monday_of(past.as_of) + WEEK - gaps[-1]).days // 7 if gaps else None


def _explored_lately(past: Past, settings: Settings) -> bool:
    since = monday_of(past.as_of) + WEEK - EXPLORE_AT_MOST_EVERY
    raised = [after.monday for before, after in pairwise(past.counted) if after.promised > before.promised]
    offered = [settings.explored_on] if settings.explored_on else []
    return any(day > since for day in raised + offered)
