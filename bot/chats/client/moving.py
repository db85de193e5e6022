"""Moving a session: another day of its week, another hour, or swapped with one that stands there already."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.buttons import button
from bot.chats.phrases import client as say
from bot.chats.phrases import day as of_day
from bot.chats.phrases.common import date, weekday
from bot.chats.turn import Turn
from core.people.model import Client
from core.store import house
from core.store import house_tables as t
from core.week import moving as rules
from core.week.answering import may_correct
from core.week.count import of_promise
from core.week.model import Ask


async def on_move(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """'Another day': offer the days that are left of the ask's week."""
    ask = await _movable(turn, client, int(args[0]))
    if ask is None:
        await turn.say(say.stale_button())
        return
    await offer_days(turn, client, ask)


async def offer_days(turn: Turn, client: Client, ask: Ask, lead: str | None = None) -> None:
    life = await house.circumstances(turn.tx, client)
    today = life.today(turn.at)
    week = await house.asks_of_week(turn.tx, client.id, ask.week)
    days = rules.days_to_move_to(ask, week, life, today=today)
    taken = [
        a.day
        for a in of_promise(week)
        if a.id != ask.id and a.is_open and a.day >= today and a.day != ask.day
    ]
    if not days and not taken:
        await turn.say(
            of_day.no_day_left(),
            [[button("Ten minutes now", "ten", ask.id), button("Let it go", "let", ask.id)]],
        )
        return
    shown = sorted({*days, *taken})
    buttons = [button(weekday(d), "mvto", ask.id, d.isoformat()) for d in shown]
    await turn.say(lead or of_day.move_where(ask), [buttons[i : i + 4] for i in range(0, len(buttons), 4)])


async def on_move_to(turn: Turn, client: Client, args: Sequence[str]) -> None:
    ask = await _movable(turn, client, int(args[0]))
    if ask is None:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await move_to(turn, client, ask, dt.date.fromisoformat(args[1]))


async def move_to(turn: Turn, client: Client, ask: Ask, day: dt.date, hour: dt.time | None = None) -> None:
    """Move; where a session stands already, ask whether both or a swap is meant."""
    life = await house.circumstances(turn.tx, client)
    today = life.today(turn.at)
    week = await house.asks_of_week(turn.tx, client.id, ask.week)
    if day not in ask.week.days() or day < today or not life.usable(day):
        await offer_days(turn, client, ask, of_day.not_that_day(date(day), ask.week))
        return
    other = rules.holder_of(day, week, but=ask)
    if other is not None:
        await turn.say(
            of_day.day_taken(ask, other, today),
            [
                [
                    button("Both", "both", ask.id, day.isoformat(), *([f"{hour:%H%M}"] if hour else [])),
                    button("Swap", "swap", ask.id, other.id),
                ]
            ],
        )
        return
    await _moved(turn, client, ask, day, hour, today)


async def _moved(
    turn: Turn, client: Client, ask: Ask, day: dt.date, hour: dt.time | None, today: dt.date
) -> None:
    was = ask.day
    moved = await house.asks.save(turn.tx, rules.move(ask, day, hour))
    turn.touched.add(client.id)
    await turn.say(of_day.moved(moved, was, today) if was != day else of_day.retimed(moved, today))


async def on_both(turn: Turn, client: Client, args: Sequence[str]) -> None:
    ask = await _movable(turn, client, int(args[0]))
    day = dt.date.fromisoformat(args[1])
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    if ask is None or day not in ask.week.days() or day < today:
        await turn.say(say.stale_button())
        return
    # The hour that was said with the day.
    hour = dt.time(int(args[2][:2]), int(args[2][2:])) if len(args) > 2 else None
    await turn.used()
    await _moved(turn, client, ask, day, hour, today)


async def on_swap(turn: Turn, client: Client, args: Sequence[str]) -> None:
    ask, other = await _movable(turn, client, int(args[0])), await _movable(turn, client, int(args[1]))
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    if ask is None or other is None or ask.week != other.week or min(ask.day, other.day) < today:
        await turn.say(say.stale_button())
        return
    one, two = rules.swap(ask, other)
    for changed in (one, two):
        await house.asks.save(turn.tx, changed)
    turn.touched.add(client.id)
    await turn.used()
    await turn.say(of_day.swapped(one, two))


async def change_hour(turn: Turn, client: Client, ask: Ask, hour: dt.time) -> None:
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    moved = await house.asks.save(turn.tx, rules.move(ask, ask.day, hour))
    turn.touched.add(client.id)
    await turn.say(of_day.retimed(moved, today))


async def _movable(turn: Turn, client: Client, ask_id: int) -> Ask | None:
    """An ask of this client that can still be moved: open, or missed and not too long ago."""
    ask = await house.asks.find(turn.tx, t.ask.c.id == ask_id, t.ask.c.client_id == client.id)
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    if ask is None or ask.withdrawn or ask.extra or ask.took_place or not may_correct(ask, today):
        return None
    return ask if today <= ask.week.sunday else None
