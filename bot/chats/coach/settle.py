"""Settling weeks: one tap for all that is well, one or two for each who needs thought."""

from collections.abc import Sequence

from bot.chats.buttons import Button, button
from bot.chats.coach.clients import own_client
from bot.chats.phrases import coach as say
from bot.chats.phrases import week as of_week
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach
from core.store import house
from core.store import house_tables as t
from core.store.lanes import Kind
from core.store.unread import left_out
from core.usecases import settle as deeds
from core.week.model import MOST_SESSIONS, Hand, Promise


def choice_rows(promise: Promise, last: int | None) -> list[list[Button]]:
    """Accept, hold at the last promise where that is another number, another number, a rest week."""
    first = [button(f"Accept {accepted_words(promise)}", "accept", promise.id)]
    if last is not None and {promise.recommended, promise.recommended_if_done or last} != {last}:
        first.append(button(f"Hold at {last}", "holdw", promise.id))
    second = [button("Another number", "other", promise.id)]
    if promise.recommended:
        second.append(button("Rest week", "set", promise.id, 0))
    return [first, second]


def accepted_words(promise: Promise) -> str:
    """'3', or '4 if done, else 3': both cases are settled at once."""
    if promise.recommended_if_done is None:
        return str(promise.recommended or "a rest week")
    return f"{promise.recommended_if_done} if done, else {promise.recommended}"


def well_together(well: Sequence[tuple[Client, Promise]], week: IsoWeek) -> tuple[str, list[list[Button]]]:
    """All that is well in one message, and the one tap that accepts it."""
    names = [f"{client.name} {promise.recommended}" for client, promise in well]
    label = f"Accept all {len(well)}"
    if len(well) == 1:
        client, promise = well[0]
        label = f"Accept {accepted_words(promise)} for {client.name}"[:40]
    return say.all_well(names), [[button(label, "acceptall", week)]]


async def own_promise(turn: Turn, coach: Coach, promise_id: str) -> tuple[Client, Promise] | None:
    """A promise of one of this coach's clients, while it can still be settled; else says why not."""
    known = await house.promises.find(turn.tx, t.promise.c.id == int(promise_id))
    client = None if known is None else await own_client(turn, coach, str(known.client_id))
    if known is None or client is None:
        await turn.say(say.stale_button())
        return None
    promise = await house.promises.get(turn.tx, known.id)  # now that nobody else changes it
    if not await deeds.may_still_settle(turn.tx, client, promise, turn.at):
        await turn.say(say.settled_too_late(client))
        return None
    return client, promise


async def on_accept(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    found = await own_promise(turn, coach, args[0])
    if found is not None:
        client, promise = found
        await _settle(
            turn,
            client,
            promise,
            promise.recommended or 0,
            minutes=promise.recommended_minutes,
            both_cases=True,
        )


async def on_hold(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """The last promise again."""
    found = await own_promise(turn, coach, args[0])
    if found is not None:
        client, promise = found
        last = await deeds.last_promise(turn.tx, client.id, promise.week)
        await _settle(turn, client, promise, last if last is not None else promise.recommended or 1)


async def on_other(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    found = await own_promise(turn, coach, args[0])
    if found is not None:
        client, promise = found
        numbers = [button(str(n), "set", promise.id, n) for n in range(1, MOST_SESSIONS + 1)]
        await turn.edit_here(
            say.which_number(client),
            [numbers[:4], [*numbers[4:], button("Rest week", "set", promise.id, 0)]],
        )


async def on_set(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    found = await own_promise(turn, coach, args[0])
    if found is not None:
        client, promise = found
        await _settle(turn, client, promise, int(args[1]))


async def _settle(
    turn: Turn,
    client: Client,
    promise: Promise,
    number: int,
    minutes: int | None = None,
    *,
    both_cases: bool = False,
) -> None:
    before = promise.settled
    settled = await deeds.settle(
        turn.tx,
        client,
        promise,
        number,
        hand=Hand.COACH,
        at=turn.at,
        minutes=minutes,
        both_cases=both_cases,
    )
    turn.touched.add(client.id)
    who = "" if before is None or before == number else f" (was {before})"
    await turn.edit_here(say.settled(client, settled, who), [[button("Change", "other", promise.id)]])


async def on_leave(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    found = await own_promise(turn, coach, args[0])
    if found is not None:
        client, promise = found
        await turn.edit_here(say.left_at(client, promise))
        if promise.number is not None:
            await turn.tell(client.telegram_id, of_week.stays_at(coach.name, promise.number, promise.week))


async def on_accept_all(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """One tap for all that the digest calls well: those of this digest that are still open."""
    week = IsoWeek.parse(args[0])
    number = 0
    for client in await house.active_clients_of(turn.tx, coach.id, locked=True):
        promise = await _promise_of(turn, client, week)
        if promise is None or promise.recommended is None or promise.settled is not None or not promise.well:
            continue
        await deeds.settle(
            turn.tx,
            client,
            promise,
            promise.recommended,
            hand=Hand.COACH,
            at=turn.at,
            minutes=promise.recommended_minutes,
            both_cases=True,
        )
        turn.touched.add(client.id)
        number += 1
    await turn.used()
    await turn.say(say.settled_all(number), kind=Kind.REPLY)


async def _promise_of(turn: Turn, client: Client, week: IsoWeek) -> Promise | None:
    """None also of who cannot be read, before anything of theirs is changed."""
    with left_out(f"client {client.id}"):
        await house.circumstances(turn.tx, client)
        return await house.promise_for(turn.tx, client.id, week)
    return None
