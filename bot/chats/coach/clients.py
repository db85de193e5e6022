"""Inviting clients, confirming their screening, and looking at one."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.client.screening import latest, may_train_without_doctor
from bot.chats.phrases import care as of_care
from bot.chats.phrases import client as to_client
from bot.chats.phrases import clients as of_clients
from bot.chats.phrases import coach as say
from bot.chats.phrases.common import safe
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.invitations import TOKEN_BYTES, deep_link, invite, token_from
from core.people.model import Client, Coach, Role, Stage
from core.people.records import RedFlag
from core.store import house
from core.store import house_tables as t
from core.store.unread import reason
from core.usecases import keeping, recommend, travel
from core.week import count
from core.week.model import Ask, Promise

LONGEST_NAME = 60
CONFIDENCES = (0.6, 0.7, 0.8, 0.9, 0.95)


async def on_invite(turn: Turn, coach: Coach, name: str) -> None:
    """A new client and their link: single use, 72 hours, only its hash is kept."""
    name = " ".join(name.split())[:LONGEST_NAME]
    if not name:
        await turn.expect(topic="invite")
        await turn.say(say.invite_how())
        return
    if turn.dialogue.topic == "invite":
        await turn.expect(topic="")
    client = await house.clients.add(turn.tx, Client(id=0, coach_id=coach.id, name=name))
    await send_link(turn, client)


async def send_link(turn: Turn, client: Client) -> None:
    token = token_from(turn.desk.random_bytes(TOKEN_BYTES))
    await house.invitations.remove(
        turn.tx, t.invitation.c.role == Role.CLIENT, t.invitation.c.person_id == client.id
    )
    await house.invitations.add(turn.tx, invite(Role.CLIENT, client.id, token, at=turn.at))
    await turn.say(say.invited(client, deep_link(turn.desk.bot_name, token)))


async def own_client(turn: Turn, coach: Coach, client_id: str) -> Client | None:
    """A client of this coach, locked: what is read of them from here on stays as it is. A coach sees own clients only."""
    mine = (t.client.c.id == int(client_id), t.client.c.coach_id == coach.id)
    return await house.clients.find(turn.tx, *mine, locked=True)


async def nobody(turn: Turn, coach: Coach, found: Sequence[Client]) -> bool:
    """Where there is no name to tap, say why, and what to do about it."""
    if found:
        return False
    known = await house.clients_of(turn.tx, coach.id)
    await turn.say(of_clients.nobody_active() if known else of_clients.nobody_yet())
    return True


# --- confirming -------------------------------------------------------------------------------------------------------


async def on_confirm(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None or client.stage is not Stage.WAITING:
        await turn.say(say.stale_button())
        return
    answers = latest(await house.screenings.list(turn.tx, t.screening.c.client_id == client.id))
    if answers is None:
        await turn.say(say.stale_button())
        return
    flag = await house.open_red_flag(turn.tx, client.id)
    if flag is not None:
        await turn.say(of_care.clear_first(client, flag), [[button("Clear it", "flagclear", flag.id)]])
        return
    await turn.used()
    if not may_train_without_doctor(answers):
        await turn.expect(topic="confirm", client=client.id)
        await turn.say(say.doctor_first(client))
        return
    await confirm(turn, coach, client, note=None)


async def on_note(turn: Turn, coach: Coach) -> None:
    """The note that goes with a confirmation where the algorithm wants a doctor first."""
    client = await own_client(turn, coach, str(turn.dialogue.state.get("client", 0)))
    await turn.expect(topic="")
    if client is not None and client.stage is Stage.WAITING:
        await confirm(turn, coach, client, note=turn.incoming.text)
    else:
        await turn.say(say.stale_button())


async def confirm(turn: Turn, coach: Coach, client: Client, *, note: str | None) -> None:
    """The client begins on the Monday after; the coach settles the first promise in the same breath."""
    answers = latest(await house.screenings.list(turn.tx, t.screening.c.client_id == client.id))
    if answers is not None:
        await house.screenings.save(turn.tx, replace(answers, confirmed_at=turn.at, note=note))
    if turn.learnt is None:
        raise LookupError("a first promise, and nothing was learnt for it")  # looked at again, it will be
    life = await house.circumstances(turn.tx, client)
    week = IsoWeek.of(life.today(turn.at)).next()
    active = await house.clients.save(turn.tx, replace(client, stage=Stage.ACTIVE, first_week=week))
    promise = await recommend.first_promise(turn.tx, active, turn.at, turn.learnt)
    turn.touched.add(active.id)
    from bot.chats.coach.settle import choice_rows

    await turn.say(say.confirmed(active, promise, week.monday), choice_rows(promise, None))
    await turn.tell(active.telegram_id, say.client_may_begin(week.monday))


async def on_hold(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    await turn.say(say.held(client) if client is not None else say.stale_button())


# --- looking ----------------------------------------------------------------------------------------------------------


async def everybody(turn: Turn, coach: Coach) -> None:
    """/clients: everyone, where they are and what o'clock it is there."""
    known = await house.names_of(turn.tx, t.client.c.coach_id == coach.id)
    listed = [(name, await _state(turn, client_id)) for client_id, name in known]
    buttons = [button(name[:24], "look", client_id) for client_id, name in known[:60]]
    await turn.say(of_clients.clients(listed), [buttons[i : i + 3] for i in range(0, len(buttons), 3)])


async def _state(turn: Turn, client_id: int) -> str:
    try:
        client = await house.clients.get(turn.tx, client_id)
        life = await house.circumstances(turn.tx, client)
    except Exception as error:  # noqa: BLE001 - whatever is wrong with one client, the others are listed
        return of_clients.not_readable(reason(error))
    stay = life.where.stay_at(turn.at)
    return of_clients.state(
        client,
        f"{safe(stay.place or stay.zone)}, {life.where.local_at(turn.at):%a %H:%M}",
        flagged=await house.open_red_flag(turn.tx, client_id) is not None,
    )


async def on_look(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    life = await house.circumstances(turn.tx, client)
    week = IsoWeek.of(life.today(turn.at))
    promise = await house.promise_for(turn.tx, client.id, week)
    asks = await house.asks_of_week(turn.tx, client.id, week)
    stay = life.where.stay_at(turn.at)
    where = f"{safe(stay.place or stay.zone)}, {life.where.local_at(turn.at):%a %H:%M} there"
    so_far = _so_far(client, promise, asks, life.today(turn.at))
    trips = await travel.coming_trips(turn.tx, client, turn.at)
    flag = await house.open_red_flag(turn.tx, client.id)
    await turn.say(of_clients.one_client(client, where, so_far, trips, flag), _client_rows(client, flag))


def _so_far(client: Client, promise: Promise | None, asks: Sequence[Ask], today: dt.date) -> str:
    if promise is None or promise.number is None:
        first = client.first_week.monday if client.first_week is not None else None
        return of_clients.nothing_promised(first if first is not None and first > today else None)
    so_far = to_client.week(promise, asks, today, "")
    return so_far + (f"\n{count.done(asks)} of {promise.number} so far" if count.of_promise(asks) else "")


def _client_rows(client: Client, flag: RedFlag | None) -> list[list[Button]]:
    rows: list[list[Button]] = [
        [button("Write", "write", client.id), button("Send a session", "pushto", client.id)]
    ]
    if client.telegram_id is None:
        return [[button("New link", "relink", client.id), button("Remove", "remove", client.id)]]
    if flag is not None:
        rows.insert(0, [button("Clear the red flag", "flagclear", flag.id)])
    if client.stage is Stage.WAITING:
        rows.insert(0, [button(say.CONFIRM, "confirm", client.id)])
    rows.append([button("Add a trip", "ctrip", client.id), button("Lifts", "lifts", client.id)])
    rows.append([button("The year", "year", client.id), button("How often I ask", "asking", client.id)])
    rows.append([button("How sure", "conf", client.id), button("The least", "floor", client.id)])
    rows.append([button("Remove", "remove", client.id)])
    return rows


async def on_relink(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
    elif client.telegram_id is None:
        await send_link(turn, client)
    else:
        await turn.say(of_clients.opened_already(client))


async def on_remove(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    rows = [[button("Remove it all", "removeyes", client.id), button("Keep it", "removeno")]]
    await turn.say(of_clients.remove_sure(client), rows)


async def on_remove_yes(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    await keeping.erase(turn.tx, client)
    await turn.used()
    await turn.say(of_clients.removed(client))


async def on_remove_no(turn: Turn, _coach: Coach, _args: Sequence[str]) -> None:
    await turn.used()
    await turn.say(of_clients.not_removed())


async def on_confidence(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    if len(args) > 1:
        await house.clients.save(turn.tx, replace(client, confidence=int(args[1]) / 100))
        await turn.used()
        await turn.say(of_clients.promised_from(client, int(args[1])))
        return
    rows = [[button(f"{c * 100:.0f}", "conf", client.id, round(c * 100)) for c in CONFIDENCES]]
    await turn.say(of_clients.how_sure(client), rows)


async def on_floor(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    if len(args) > 1:
        floor = int(args[1]) or None
        await house.clients.save(turn.tx, replace(client, floor=floor))
        await turn.used()
        await turn.say(of_clients.floor_set(client, floor))
        return
    rows = [[button("none" if n == 0 else str(n), "floor", client.id, n) for n in range(6)]]
    await turn.say(of_clients.floor_how(client), rows)
