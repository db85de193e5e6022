"""The weeks before a rehearsal begins, written straight into the store: as if everybody had been asked and had answered.

Each week goes through the house's own hands (issued, settled, agreed, laid out), so that the past keeps every rule that the
future must keep; only how the sessions ended is drawn, by the law of each person's temper.
"""

import datetime as dt
import random
from collections.abc import Mapping
from dataclasses import dataclass, replace

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.rehearsal.cast import Cast, Member
from bot.rehearsal.temper import Ending, ending_of, minutes_until_answer
from core.calendar.weeks import IsoWeek
from core.people.model import CONSENT_VERSION, Client, Coach, Role, Stage
from core.people.records import Night, PlannedTrip, ScreeningAnswers
from core.store import house
from core.store.engine import Store
from core.terms import Outcome
from core.usecases import recommend, settle, silence
from core.usecases.schedule import reschedule, reschedule_coach
from core.week import count
from core.week.circumstances import Circumstances
from core.week.model import Ask, Hand, Promise
from core.wellbeing.screening import Screening, screen

OUTCOMES = {Ending.DONE: Outcome.DONE, Ending.SHORT: Outcome.SHORT}
DIGEST = dt.time(18)
ACTIVE_FROM = 3  # sessions a week
HOLDS = 0.8  # how often this coach holds a promise that was to be made smaller


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """Writes it. ``until``: the instant at which the rehearsal begins; what was asked by then has ended."""

    chance: random.Random
    until: dt.datetime

    async def write(self, store: Store, cast: Cast, chats: Mapping[str, int]) -> None:
        """Write everybody, then week after week. ``chats``: the Telegram account of each person by name."""
        running = IsoWeek.of(self.until.date())
        async with store.begin() as tx:
            coach = await house.coaches.add(tx, self._coach(cast, chats))
            members = {(await self._enrol(tx, coach, m, chats[m.name])).id: m for m in cast.members}
        longest = max(member.weeks for member in cast.members)
        for week in (running.plus(n) for n in range(1 - longest, 1)):
            async with store.begin() as tx:
                await self._live(tx, members, week, first=week.plus(longest) == running.next())
        async with store.begin() as tx:
            for client_id in members:
                await reschedule(tx, client_id, self.until)
            await reschedule_coach(tx, coach, self.until)

    # People

    def _coach(self, cast: Cast, chats: Mapping[str, int]) -> Coach:
        last = IsoWeek.of(self.until.date()).previous()
        return Coach(
            id=0,
            name=cast.coach,
            telegram_id=chats[cast.coach],
            zone=cast.coach_zone,
            digest_at=DIGEST,
            stage=Stage.ACTIVE,
            last_digest=last,
            last_short_list=last,
        )

    async def _enrol(self, tx: AsyncConnection, coach: Coach, member: Member, chat: int) -> Client:
        first = IsoWeek.of(self.until.date()).plus(1 - member.weeks)
        enrolled = dt.datetime.combine(first.monday - dt.timedelta(days=4), dt.time(11), dt.UTC)
        client = await house.clients.add(tx, _client(coach, member, chat, first, enrolled))
        screening = Screening(active=member.lately >= ACTIVE_FROM, yes_to=frozenset())
        await house.screenings.add(
            tx,
            ScreeningAnswers(
                id=0,
                client_id=client.id,
                answers={"yes": [], "active": screening.active, "verdict": screen(screening).value},
                answered_at=enrolled,
                confirmed_at=enrolled + dt.timedelta(hours=5),
            ),
        )
        for journey in member.journeys:
            await house.trips.add(
                tx,
                PlannedTrip(
                    id=0,
                    client_id=client.id,
                    place=journey.place,
                    zone=journey.zone,
                    country=journey.country,
                    room=journey.room,
                    first=journey.first,
                    last=journey.last,
                    in_reach=journey.in_reach,
                    said_by=Role.CLIENT,
                ),
            )
        return client

    # Weeks

    async def _live(
        self, tx: AsyncConnection, members: Mapping[int, Member], week: IsoWeek, *, first: bool
    ) -> None:
        """One week of everybody: recommended on the Sunday before it, then lived."""
        sunday = dt.datetime.combine(week.previous().sunday, DIGEST, dt.UTC)
        learnt, cohort = await recommend.population(tx, sunday.date())
        for client_id, member in members.items():
            client = await house.clients.get(tx, client_id)
            if client.first_week is None or week < client.first_week:
                continue
            if client.silent_since is not None and self.chance.random() < member.temper.returns:
                client, _ = await silence.hear(tx, client, sunday)
            if client.silent_since is not None:
                await silence.promise_in_silence(tx, client, week, sunday)
            else:
                rows = [] if first else cohort.get(str(client_id), [])
                advice = await recommend.advice_for(tx, client, sunday, learnt, rows, coming=week)
                promise = await recommend.issue(tx, client, week, advice, at=sunday)
                await self._agree(tx, client, promise, sunday, most=len(member.days))
            await self._days(tx, client, member, week)

    async def _agree(
        self, tx: AsyncConnection, client: Client, promise: Promise, at: dt.datetime, *, most: int
    ) -> None:
        """The coach accepts what was recommended or holds, within what this life has room for; the client takes the days."""
        number = min(promise.recommended or 0, most)
        last = await settle.last_promise(tx, client.id, promise.week)
        if last is not None and number < last and self.chance.random() < HOLDS:
            number = last
        settled = await settle.settle(tx, client, promise, number, hand=Hand.COACH, at=at)
        settled = await house.promises.save(tx, replace(settled, told_at=at))
        if number:
            await settle.agree(tx, client, settled, number, hand=Hand.CLIENT, at=at)

    async def _days(self, tx: AsyncConnection, client: Client, member: Member, week: IsoWeek) -> None:
        life = await house.circumstances(tx, client)
        drifts = client.silent_since is None and self.chance.random() < member.temper.drifts
        ill = {
            week.monday + dt.timedelta(days=self.chance.randrange(5)) + dt.timedelta(days=n) for n in (0, 1)
        }
        ill = ill if self.chance.random() < member.temper.colds else set()
        for planned in count.of_promise(await house.asks_of_week(tx, client.id, week)):
            ask = await house.asks.get(tx, planned.id)
            if ask.day >= life.today(self.until) or ask.withdrawn:
                continue
            client = await self._end(tx, client, member, ask, life, ill=ask.day in ill, drifts=drifts)
        await self._extra(tx, client, member, week, life)

    async def _end(
        self,
        tx: AsyncConnection,
        client: Client,
        member: Member,
        ask: Ask,
        life: Circumstances,
        *,
        ill: bool,
        drifts: bool,
    ) -> Client:
        """One ask of the past: how it ended, and when that was said."""
        prompted = life.prompt_at(ask.day, ask.at)
        if prompted is None:
            return client
        asked = replace(ask, prompted=ask.revision, prompted_at=prompted)
        quiet = drifts or client.silent_since is not None or self.chance.random() > member.temper.answers
        if quiet:
            closed = life.closes_at(ask.day)
            await house.asks.save(tx, replace(asked, outcome=Outcome.UNANSWERED, answered_at=closed))
            return await silence.begin_silence(tx, client, ask.day, closed) or client
        away = life.where.away_on(ask.day)
        promise = await house.promise_for(tx, client.id, ask.week)
        size = (promise.number if promise else None) or 1
        ending = ending_of(member.temper, self.chance, promised=size, away=away)
        outcome = Outcome.EXCUSED if ill else OUTCOMES.get(ending, Outcome.MISSED)
        said_at = prompted + dt.timedelta(
            minutes=45 + minutes_until_answer(member.temper, self.chance, away=away)
        )
        said_at = min(said_at, life.closes_at(ask.day) - dt.timedelta(minutes=5))
        await house.asks.save(tx, self._answered(asked, outcome, said_at))
        await self._night(tx, client, member, ask, said_at)
        return await house.clients.save(tx, replace(client, heard_at=said_at))

    def _answered(self, ask: Ask, outcome: Outcome, at: dt.datetime) -> Ask:
        told = outcome in {Outcome.DONE, Outcome.SHORT} and self.chance.random() < 0.7
        return replace(
            ask,
            outcome=outcome,
            answered_at=at,
            missed_once=outcome is Outcome.MISSED,
            took_minutes=max(10, ask.minutes // 2) if outcome is Outcome.SHORT else None,
            effort=float(self.chance.choice((4, 5, 6, 6, 7, 7, 8))) if told else None,
        )

    async def _night(
        self, tx: AsyncConnection, client: Client, member: Member, ask: Ask, said_at: dt.datetime
    ) -> None:
        if member.sleep_asked == "never" or self.chance.random() > 0.8:
            return
        hours = round(min(9.5, max(4.0, self.chance.gauss(member.sleep_need - 0.6, 0.9))) * 2) / 2
        night = Night(id=0, client_id=client.id, day=ask.day, slept={"hours": hours}, said_at=said_at)
        await house.tell_night(tx, night)

    async def _extra(
        self, tx: AsyncConnection, client: Client, member: Member, week: IsoWeek, life: Circumstances
    ) -> None:
        """At times somebody does more than they promised, once all that they promised was done."""
        asks = await house.asks_of_week(tx, client.id, week)
        free = [d for d in week.days() if d < life.today(self.until) and d not in {a.day for a in asks}]
        if (
            not free
            or not count.is_kept(asks)
            or count.still_open(asks)
            or self.chance.random() > member.temper.extras
        ):
            return
        day = self.chance.choice(free)
        at = life.first_lived(day, client.usual_time) + dt.timedelta(minutes=client.minutes + 30)
        await house.asks.add(
            tx,
            Ask(
                id=0,
                client_id=client.id,
                week=week,
                day=day,
                at=client.usual_time,
                minutes=30,
                extra=True,
                outcome=Outcome.EXTRA,
                answered_at=at,
                took_minutes=30,
            ),
        )


def _client(coach: Coach, member: Member, chat: int, first: IsoWeek, enrolled: dt.datetime) -> Client:
    return Client(
        id=0,
        coach_id=coach.id,
        name=member.name,
        telegram_id=chat,
        stage=Stage.ACTIVE,
        consented_at=enrolled,
        consent_version=CONSENT_VERSION,
        place=member.place,
        country=member.country,
        zone=member.zone,
        room=member.room,
        level=member.level,
        lately=member.lately,
        minutes=member.minutes,
        usual_days=member.days,
        usual_time=member.hour,
        goal=member.goal,
        complaints=member.complaints,
        sleep_need=member.sleep_need,
        sleep_asked=member.sleep_asked,
        quiet_from=member.quiet_from,
        quiet_to=member.quiet_to,
        floor=member.floor,
        confidence=member.confidence,
        first_week=first,
        heard_at=enrolled,
    )
