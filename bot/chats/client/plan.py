"""Agreeing the promise: take it, pick days and an hour, promise less at once, or ask for more."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.client import lengths, lowering, own
from bot.chats.phrases import client as say
from bot.chats.phrases import coach as to_coach
from bot.chats.phrases import week as of_week
from bot.chats.phrases.common import weekday
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.store import house
from core.store import house_tables as t
from core.usecases import settle as deeds
from core.week import settling
from core.week.count import of_promise, still_open
from core.week.model import MOST_SESSIONS, Ask, Hand, Promise
from core.week.planning import usable_days


def offer_rows(promise: Promise) -> list[list[Button]]:
    """The buttons under the weekly message."""
    if promise.settled == 0:
        return []
    return [
        [button("That fits", "take", promise.id)],
        [button("Pick days", "days", promise.id), button("Another time", "hour", promise.id)],
        [button("Another number", "many", promise.id)],
    ]


def offer(
    promise: Promise, asks: Sequence[Ask], last: int | None, *, away: bool
) -> tuple[str, list[list[Button]]]:
    """The weekly message. More than one above the last promise is a question; what holds without a yes stands first."""
    rows = offer_rows(promise)
    if promise.agreed is not None:
        promise = replace(promise, settled=promise.agreed)
    elif promise.needs_yes and last is not None:
        return _question(promise, asks, last, away=away, rows=rows)
    return of_week.week_offer(promise, asks, away=away), rows


def _question(
    promise: Promise, asks: Sequence[Ask], last: int, *, away: bool, rows: list[list[Button]]
) -> tuple[str, list[list[Button]]]:
    held = of_week.week_offer(replace(promise, settled=last), asks, away=away)
    yes = button(f"Yes, {promise.settled}", "manyto", promise.id, promise.settled)
    first = [yes, button(f"Stay at {last}", "take", promise.id)]
    return f"{held}\n{of_week.needs_your_yes(promise, last)}", [first, *rows[1:]]


async def show(turn: Turn, client: Client) -> None:
    """/plan: the promise that is being agreed, else the running one."""
    life = await house.circumstances(turn.tx, client)
    week = IsoWeek.of(life.today(turn.at))
    coming = await house.promise_for(turn.tx, client.id, week.next())
    if coming is not None and coming.settled:
        asks = [a for a in await house.asks_of_week(turn.tx, client.id, coming.week) if a.is_open]
        away = any(life.where.away_on(ask.day) for ask in asks)
        last = await deeds.last_promise(turn.tx, client.id, coming.week)
        await turn.expect(asked="days")
        await turn.say(*offer(coming, asks, last, away=away))
        return
    running = await house.promise_for(turn.tx, client.id, week)
    asks = await house.asks_of_week(turn.tx, client.id, week)
    if running is None or running.number is None:
        await turn.say(await own.without_promise(turn, client))
        return
    left = [ask for ask in still_open(asks) if ask.day >= life.today(turn.at)]
    rows: list[list[Button]] = []
    if running.number and left:
        await turn.expect(asked="days")
        rows = [own.ways_with(left[0])[:1], [button("Fewer this week", "many", running.id)]]
    await turn.say(say.week(running, asks, life.today(turn.at), ""), rows)


async def own_promise(turn: Turn, client: Client, promise_id: str) -> Promise | None:
    return await house.promises.find(
        turn.tx, t.promise.c.id == int(promise_id), t.promise.c.client_id == client.id
    )


async def open_promise(turn: Turn, client: Client, promise_id: str) -> Promise | None:
    """A promise of this client that can still be agreed or planned: settled, and its week not over."""
    promise = await own_promise(turn, client, promise_id)
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    if (
        promise is None
        or not promise.settled
        or today > promise.week.sunday
        or promise.agreed_by is Hand.SILENCE
    ):
        await turn.say(say.stale_button())
        return None
    return promise


async def on_take(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """One tap: the settled number on the days proposed."""
    promise = await open_promise(turn, client, args[0])
    if promise is None:
        return
    await turn.used()
    await agree(turn, client, promise, await without_a_yes(turn, client, promise))


async def without_a_yes(turn: Turn, client: Client, promise: Promise) -> int:
    """The number that holds where the client did not name one: more than one above the last promise needs their own yes."""
    last = await deeds.last_promise(turn.tx, client.id, promise.week)
    return (
        promise.agreed if promise.agreed is not None else settling.without_answer(promise.settled or 0, last)
    )


async def agree(
    turn: Turn,
    client: Client,
    promise: Promise,
    number: int,
    *,
    days: Sequence[dt.date] | None = None,
    hour: dt.time | None = None,
) -> None:
    existing = [a for a in await house.asks_of_week(turn.tx, client.id, promise.week) if a.is_open]
    keep_days = days if days is not None else [a.day for a in existing] if len(existing) == number else None
    agreed = await deeds.agree(
        turn.tx, client, promise, number, hand=Hand.CLIENT, at=turn.at, days=keep_days, hour=hour
    )
    turn.touched.add(client.id)
    asks = [a for a in of_promise(await house.asks_of_week(turn.tx, client.id, promise.week)) if a.is_open]
    await turn.expect(topic="", asked="nothing")
    await turn.say(of_week.agreed(agreed, asks))
    if promise.settled is not None and number < promise.settled and number != promise.agreed:
        coach = await house.coaches.get(turn.tx, client.coach_id)
        await turn.tell(coach.telegram_id, to_coach.chose_less(client, number, promise.settled, promise.week))


async def rest_of_the_week(turn: Turn, client: Client) -> str:
    """What is left of a week that nobody was told of, since a red flag stood before it until its days were assumed; else nothing."""
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    promise = await house.promise_for(turn.tx, client.id, IsoWeek.of(today))
    if promise is None or promise.agreed_by is not Hand.ASSUMED or promise.tellings:
        return ""
    asks = await house.asks_of_week(turn.tx, client.id, promise.week)
    ahead = [ask for ask in still_open(asks) if ask.day >= today]
    if not ahead:
        return ""
    await house.promises.save(turn.tx, replace(promise, told_at=turn.at, tellings=1))
    return of_week.still_ahead(ahead)


# --- days -------------------------------------------------------------------------------------------------------------


async def on_days(turn: Turn, client: Client, args: Sequence[str]) -> None:
    promise = await open_promise(turn, client, args[0])
    if promise is None:
        return
    await turn.expect(topic="days", asked="days", promise=promise.id, chosen=[], number=promise.number)
    await turn.say(of_week.pick_days(promise.number or 0, ()), await _day_rows(turn, client, promise, ()))


async def _day_rows(
    turn: Turn, client: Client, promise: Promise, chosen: Sequence[int]
) -> list[list[Button]]:
    life = await house.circumstances(turn.tx, client)
    usable = usable_days(promise.week, life, not_before=life.today(turn.at))
    buttons = [
        button(
            f"{weekday(d)} •" if d.isoweekday() in chosen else weekday(d), "day", promise.id, d.isoweekday()
        )
        for d in usable
    ]
    rows = [buttons[i : i + 4] for i in range(0, len(buttons), 4)]
    if len(chosen) == (promise.number or 0):
        rows.append([button("Yes, these", "daysok", promise.id)])
    return rows


async def on_day(turn: Turn, client: Client, args: Sequence[str]) -> None:
    promise = await open_promise(turn, client, args[0])
    if promise is None:
        return
    number, weekday_no = promise.number or 0, int(args[1])
    chosen = [d for d in turn.dialogue.state.get("chosen", []) if d != weekday_no]
    if len(chosen) == len(turn.dialogue.state.get("chosen", [])):
        chosen = [*chosen, weekday_no][-number:]
    await turn.expect(topic="days", asked="days", promise=promise.id, chosen=chosen, number=number)
    await turn.edit_here(of_week.pick_days(number, chosen), await _day_rows(turn, client, promise, chosen))


async def on_days_ok(turn: Turn, client: Client, args: Sequence[str]) -> None:
    promise = await open_promise(turn, client, args[0])
    chosen = turn.dialogue.state.get("chosen", [])
    if promise is None:
        return
    if len(chosen) != (promise.number or 0):  # another week was opened meanwhile
        await on_days(turn, client, args)
        return
    await turn.used()
    days = [promise.week.monday + dt.timedelta(days=d - 1) for d in sorted(chosen)]
    await agree(turn, client, promise, len(days), days=days)


async def days_in_words(
    turn: Turn,
    client: Client,
    weekdays: Sequence[int],
    hour: dt.time | None,
    minutes: int | None = None,
) -> bool:
    """'Tue Thu Sat at 7, 30 min each': days of the week that is being planned. False if nothing is being planned."""
    life = await house.circumstances(turn.tx, client)
    week = IsoWeek.of(life.today(turn.at)).next()
    promise = await house.promise_for(turn.tx, client.id, week)
    if promise is None or not promise.settled:
        promise = await house.promise_for(turn.tx, client.id, week.previous())
    if promise is None or not promise.settled or promise.agreed_by is Hand.SILENCE:
        return False
    days = [promise.week.monday + dt.timedelta(days=d - 1) for d in weekdays]
    usable = [d for d in days if d in usable_days(promise.week, life, not_before=life.today(turn.at))]
    if not usable:
        return False
    settled = promise.settled
    running = promise.agreed is not None and promise.week == week.previous()
    if running:
        await _replan(turn, client, promise, usable, hour)
    else:
        number = min(len(usable), settled if promise.agreed is None else promise.agreed or settled)
        await agree(turn, client, promise, number, days=usable[:number], hour=hour)
    if minutes is not None:
        await lengths.plan(turn, client, promise, minutes, usable)
    if not running and len(usable) > settled:
        await ask_for_more(turn, client, promise, len(usable))
    return True


async def _replan(
    turn: Turn, client: Client, promise: Promise, days: Sequence[dt.date], hour: dt.time | None
) -> None:
    """Other days for what is open of the running week: its number stands, and what is not named stays where it is."""
    left = still_open(await house.asks_of_week(turn.tx, client.id, promise.week))
    others = [a.day for a in left if a.day not in days]
    await agree(turn, client, promise, promise.agreed or 0, days=[*days, *others][: len(left)], hour=hour)


# --- the hour ---------------------------------------------------------------------------------------------------------


async def on_hour(turn: Turn, client: Client, args: Sequence[str]) -> None:
    promise = await open_promise(turn, client, args[0])
    if promise is None:
        return
    await turn.expect(topic="hour", promise=promise.id)
    labels = ("06:00", "07:00", "12:30", "17:30", "18:30", "20:00")
    buttons = [button(h, "hourto", promise.id, h.replace(":", "_")) for h in labels]
    await turn.say(of_week.which_hour(), [buttons[:3], buttons[3:]])


async def on_hour_to(turn: Turn, client: Client, args: Sequence[str]) -> None:
    promise = await open_promise(turn, client, args[0])
    if promise is not None:
        await turn.used()
        await hour_for(turn, client, promise, dt.time.fromisoformat(args[1].replace("_", ":")))


async def hour_for(turn: Turn, client: Client, promise: Promise, hour: dt.time) -> None:
    asks = [a for a in await house.asks_of_week(turn.tx, client.id, promise.week) if a.is_open]
    number = await without_a_yes(turn, client, promise)
    await agree(turn, client, promise, number, days=[a.day for a in asks] or None, hour=hour)


# --- the number -------------------------------------------------------------------------------------------------------


async def on_many(turn: Turn, client: Client, args: Sequence[str]) -> None:
    promise = await open_promise(turn, client, args[0])
    if promise is None:
        return
    top = min(MOST_SESSIONS, (promise.settled or 0) + 2)
    buttons = [button(str(n), "manyto", promise.id, n) for n in range(1, top + 1)]
    await turn.say(of_week.which_number(), [buttons])


async def on_many_to(turn: Turn, client: Client, args: Sequence[str]) -> None:
    promise = await open_promise(turn, client, args[0])
    if promise is not None:
        await turn.used()
        await choose_number(turn, client, promise, int(args[1]))


async def choose_number(turn: Turn, client: Client, promise: Promise, number: int) -> None:
    """Less holds at once and the coach is told; more tells the coach, and until then is extras."""
    life = await house.circumstances(turn.tx, client)
    running = IsoWeek.of(life.today(turn.at)) == promise.week
    standing = promise.number or 0
    if not settling.is_free_to_choose(number, max(standing, promise.settled or 0)) or number > standing:
        allowed = promise.settled is not None and standing < number <= promise.settled and not running
        if allowed:
            await agree(turn, client, promise, number)
        else:
            await ask_for_more(turn, client, promise, number)
        return
    if running and promise.agreed is not None:
        await lowering.lower_running(turn, client, promise, number)
        return
    await agree(turn, client, promise, number)


async def ask_for_more(turn: Turn, client: Client, promise: Promise, number: int) -> None:
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.say(of_week.more_asked(number))
    # Where they may not, what is done beyond it is extra.
    may_settle = await deeds.may_still_settle(turn.tx, client, promise, turn.at)
    rows = (
        [[button(f"Settle {number}", "set", promise.id, number), button("Leave it", "leave", promise.id)]]
        if may_settle
        else []
    )
    await turn.tell(coach.telegram_id, to_coach.wants_more(client, number, promise), rows)
