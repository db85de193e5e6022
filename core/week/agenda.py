"""What is due, and when: every moment at which a client's week wants something of us.

The agenda of a client is a pure function of what is known of them. The tick takes from it what is due by now; `next_due` is the
first moment that is still to come, and is all that the due query reads. Planning the same moment again finds it done.
"""

import datetime as dt
import enum
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from core.calendar.weeks import IsoWeek
from core.people.model import Client, SleepAsked
from core.week import settling
from core.week.budget import Unasked
from core.week.circumstances import Circumstances
from core.week.count import of_promise
from core.week.model import Ask, Hand, Promise

SLEEP_AT = dt.time(9)
WEEKLY_ASK_AT = dt.time(11)


class Moment(enum.StrEnum):
    """The kinds of moment, in the order in which two of the same instant are dealt with."""

    CLOSE_ASK = "close ask"
    CLOSE_SETTLING = "close settling"
    RESOLVE = "resolve"
    TELL_PROMISE = "weekly"
    CLOSE_AGREEING = "close agreeing"
    WEEKLY_ASK = "weekly ask"
    PROMPT = "prompt"
    SLEEP = "sleep"
    FOLLOW_UP = "follow-up"
    END_PAUSE = "end of pause"


UNASKED = {
    Moment.TELL_PROMISE: Unasked.WEEKLY,
    Moment.WEEKLY_ASK: Unasked.WEEKLY,
    Moment.PROMPT: Unasked.PROMPT,
    Moment.SLEEP: Unasked.SLEEP,
    Moment.FOLLOW_UP: Unasked.FOLLOW_UP,
}
ORDER = {moment: place for place, moment in enumerate(Moment)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """One moment. `expires_at`: from then on it is no use any more. `key` is what makes a message unique."""

    at: dt.datetime
    moment: Moment
    key: str
    day: dt.date
    expires_at: dt.datetime | None = None
    ask: Ask | None = None
    promise: Promise | None = None

    @property
    def unasked(self) -> Unasked | None:
        """The kind of unasked message that this moment sends, if any."""
        return UNASKED.get(self.moment)


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the agenda of one client is made from."""

    client: Client
    life: Circumstances
    promises: Sequence[Promise]
    asks: Sequence[Ask]
    nights_known: frozenset[dt.date] = frozenset()  # local mornings whose night is known or was asked about


def agenda(known: Known) -> list[Due]:
    """All moments that are still to be dealt with, the earliest first.

    Who cannot be asked (stopped, blocked) is asked nothing; but what was asked still ends.
    """
    moments = [*_asks(known), *_promises(known), *_pause(known)]
    if not known.client.may_be_asked:
        moments = [due for due in moments if due.unasked is None]
    return in_order(moments)


def in_order(moments: Iterable[Due]) -> list[Due]:
    """The earliest first; of two at one instant, what closes before what asks."""
    return sorted(moments, key=lambda due: (due.at, ORDER[due.moment], due.key))


def first_due(moments: Iterable[Due], life: Circumstances, at: dt.datetime) -> Due | None:
    """The first moment to be dealt with now. What is said unasked waits while the client wants quiet, is paused or out of reach.

    Where the tick comes late, what has ended by now ends before anything is said: a day that went without an answer is known to.
    """
    ready = [due for due in moments if due.at <= at and (due.unasked is None or life.hears(at))]
    return min(ready, key=lambda due: due.unasked is not None, default=None)


def next_due(moments: Iterable[Due], life: Circumstances, at: dt.datetime) -> dt.datetime | None:
    """When to look again: at the first moment, or, where it must wait, when it can be said."""
    return min(
        (due.at if due.unasked is None else life.hears_from(max(due.at, at)) for due in moments), default=None
    )


def _asks(known: Known) -> Iterator[Due]:
    for ask in of_promise(known.asks):
        if ask.outcome is None:
            yield from _of_ask(ask, known)


def _of_ask(ask: Ask, known: Known) -> Iterator[Due]:
    """A prompt before, a follow-up after if nothing was said, and noon of the next day."""
    life = known.life
    closes_at = life.closes_at(ask.day)
    yield Due(at=closes_at, moment=Moment.CLOSE_ASK, key=f"close:{ask.id}", day=ask.day, ask=ask)
    if ask.weekly:
        yield from _weekly_ask(ask, known, closes_at)
        return
    prompt_at = life.prompt_at(ask.day, ask.at)
    begins = life.session_at(ask.day, ask.at)
    follow_up_at = life.follow_up_at(ask.day, ask.at, ask.minutes)
    if prompt_at is None or begins is None or follow_up_at is None:
        return
    over = begins + dt.timedelta(minutes=ask.minutes)
    if ask.needs_prompt:
        yield Due(
            at=prompt_at,
            moment=Moment.PROMPT,
            key=prompt_key(ask, "prompt"),
            day=ask.day,
            expires_at=max(over, prompt_at),
            ask=ask,
        )
    if ask.followed_up_at is None and ask.said_at is None and follow_up_at < closes_at:
        yield Due(
            at=follow_up_at,
            moment=Moment.FOLLOW_UP,
            key=prompt_key(ask, "follow-up"),
            day=ask.day,
            expires_at=closes_at,
            ask=ask,
        )


def prompt_key(ask: Ask, kind: str) -> str:
    """Name a message about an ask: moving its day or hour raises the revision, a change of zone does not."""
    return f"ask:{ask.id}:{ask.revision}:{kind}"


def _weekly_ask(ask: Ask, known: Known, closes_at: dt.datetime) -> Iterator[Due]:
    if ask.needs_prompt:
        at = known.life.wake(known.life.first_lived(ask.day, WEEKLY_ASK_AT))
        yield Due(
            at=at,
            moment=Moment.WEEKLY_ASK,
            key=prompt_key(ask, "weekly"),
            day=ask.day,
            expires_at=closes_at,
            ask=ask,
        )


def _promises(known: Known) -> Iterator[Due]:
    for promise in known.promises:
        if promise.settled is None:
            yield from _unsettled(promise)
        else:
            if promise.both_cases and not _open_before(promise, known):
                yield _resolvable(promise)
            if promise.told_at is None and promise.agreed_by not in {Hand.CLIENT, Hand.SILENCE}:
                yield from _untold(promise, known)
            if promise.agreed is None:
                yield _unagreed(promise, known)


def _unsettled(promise: Promise) -> Iterator[Due]:
    if promise.settle_by is not None and promise.recommended is not None:
        yield Due(
            at=promise.settle_by,
            moment=Moment.CLOSE_SETTLING,
            key=f"settle:{promise.id}",
            day=promise.week.monday,
            promise=promise,
        )


def _resolvable(promise: Promise) -> Due:
    """The last ask of the week before has ended: now it is known which of the two cases holds."""
    return Due(
        at=promise.settled_at or dt.datetime.min.replace(tzinfo=dt.UTC),
        moment=Moment.RESOLVE,
        key=f"resolve:{promise.id}",
        day=promise.week.monday,
        promise=promise,
    )


def _open_before(promise: Promise, known: Known) -> bool:
    """Whether the number still hangs on an ask of the week before."""
    return any(a.is_open for a in of_promise(known.asks) if a.week == promise.week.previous())


def _untold(promise: Promise, known: Known) -> Iterator[Due]:
    """The client sees the promise when it is settled, or when quiet hours end."""
    if promise.settled_at is not None:
        yield Due(
            at=known.life.wake(told_from(promise, known)),
            moment=Moment.TELL_PROMISE,
            key=week_key(promise),
            day=promise.week.monday,
            expires_at=promise_expires(promise, known),
            promise=promise,
        )


def week_key(promise: Promise) -> str:
    """Name the weekly message: one a week, and another only where the coach changed the number after it."""
    again = f":{promise.tellings}" if promise.tellings else ""
    return f"week:{promise.client_id}:{promise.week}{again}"


def _unagreed(promise: Promise, known: Known) -> Due:
    """At Monday noon, or at the first prompt if that is earlier, what the client did not answer is assumed."""
    noon = known.life.first_lived(promise.week.monday, settling.MONDAY_NOON)
    closes_at = min([noon, *first_prompts(promise.week, known)])
    return Due(
        at=closes_at,
        moment=Moment.CLOSE_AGREEING,
        key=f"agree:{promise.id}",
        day=promise.week.monday,
        promise=promise,
    )


def told_from(promise: Promise, known: Known) -> dt.datetime:
    """When the number can be told: once settled, and, where it hangs on an open ask, once that has ended or settling closes."""
    settled_at = promise.settled_at
    if settled_at is None:
        msg = "not settled yet"
        raise ValueError(msg)
    if promise.both_cases and _open_before(promise, known) and promise.settle_by is not None:
        return max(settled_at, promise.settle_by)
    return settled_at


def promise_expires(promise: Promise, known: Known) -> dt.datetime:
    """The weekly message is of use until its Monday is over."""
    return known.life.first_lived(promise.week.monday + dt.timedelta(days=1), dt.time(0))


def first_prompts(week: IsoWeek, known: Known) -> list[dt.datetime]:
    """The instant of the week's first prompt, in a list of one or none."""
    prompts = [
        known.life.prompt_at(a.day, a.at)
        for a in of_promise(known.asks)
        if a.week == week and a.is_open and not a.weekly
    ]
    return sorted(p for p in prompts if p is not None)[:1]


def _pause(known: Known) -> Iterator[Due]:
    until = known.client.paused_until
    if until is not None and until < dt.date(9999, 12, 1):
        ends = known.life.first_lived(until + dt.timedelta(days=1), known.client.quiet_to)
        yield Due(at=ends, moment=Moment.END_PAUSE, key=f"pause:{known.client.id}:{until}", day=until)


def sleep_moments(known: Known, days: Iterable[dt.date]) -> Iterator[Due]:
    """Ask about the night apart from a prompt, on mornings when it cannot ride on one (only where sleep is asked daily).

    Nobody is asked in silence, where the weekly message is all that we say, nor before their first week.
    """
    client = known.client
    if client.sleep_asked is not SleepAsked.DAILY or not client.may_be_asked or client.silent_since:
        return
    begins = client.first_week.monday if client.first_week is not None else dt.date.min
    for day in days:
        if day < begins or day in known.nights_known or not known.life.usable(day) or _rides(day, known):
            continue
        at = known.life.hears_from(known.life.first_lived(day, SLEEP_AT))
        if known.life.today(at) != day:
            continue
        yield Due(
            at=at,
            moment=Moment.SLEEP,
            key=f"sleep:{known.client.id}:{day}",
            day=day,
            expires_at=at + dt.timedelta(hours=6),
        )


def _rides(day: dt.date, known: Known) -> bool:
    """Whether a prompt of that morning carries the question, or has carried it."""
    return any(
        a.day == day and (a.is_open or a.prompted_at is not None) and carries_sleep(a, known.life)
        for a in of_promise(known.asks)
    )


def carried_already(ask: Ask, known: Known) -> bool:
    """Whether another prompt of the same day has asked about the night."""
    return any(
        a.id != ask.id
        and a.day == ask.day
        and a.prompted_at is not None
        and known.life.today(a.prompted_at) == a.day
        and carries_sleep(a, known.life)
        for a in of_promise(known.asks)
    )


def expects_weekly(known: Known, today: dt.date) -> bool:
    """Whether the weekly message of the coming week is still to come this week: room is kept for it."""
    client, coming = known.client, IsoWeek.of(today).next()
    begins_later = client.first_week is not None and coming < client.first_week
    told = any(p.week == coming and p.told_at is not None for p in known.promises)
    return (
        not told and not begins_later and client.silent_since is None and not known.life.is_paused_on(today)
    )


def to_come(
    known: Known, moments: Collection[Due], *, but: str, at: dt.datetime, until: dt.date
) -> Mapping[Unasked, int]:
    """Count the unasked messages that are still to come up to and with a local day, by kind; room is kept for them."""
    coming = Counter(
        due.unasked
        for due in moments
        if due.unasked is not None and due.key != but and due.at > at and known.life.today(due.at) <= until
    )
    week = IsoWeek.of(known.life.today(at))
    planned = any(d.moment is Moment.TELL_PROMISE and known.life.today(d.at) in week for d in moments)
    if until == week.sunday and not planned and expects_weekly(known, known.life.today(at)):
        coming[Unasked.WEEKLY] += 1
    return coming


def carries_sleep(ask: Ask, life: Circumstances) -> bool:
    """A prompt carries the question about the night where it comes in the morning of its own day."""
    at = life.prompt_at(ask.day, ask.at)
    return at is not None and life.today(at) == ask.day and life.where.local_at(at).time() < dt.time(12)
