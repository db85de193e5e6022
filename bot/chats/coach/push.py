"""Pushing a remote session: to whom, what room and minutes, the draft, and off it goes; or in the coach's own words."""

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from bot.chats.buttons import Button, button
from bot.chats.coach.clients import own_client
from bot.chats.phrases import coach as say
from bot.chats.phrases.client import ROOM_WORDS
from bot.chats.turn import Turn
from core.people.model import Client, Coach, Role, Stage
from core.people.records import RemoteSession
from core.store import house
from core.store import house_tables as t
from core.store.lanes import Kind
from core.terms import Room
from core.usecases import sessions as deeds

MINUTES = (10, 20, 30, 45, 60)


async def choose(turn: Turn, coach: Coach) -> None:
    """/push: to whom."""
    await turn.expect(topic="push", to=[])
    await turn.say(say.push_whom(), await _names(turn, coach, []))


async def _names(turn: Turn, coach: Coach, chosen: Sequence[int]) -> list[list[Button]]:
    clients = (await house.active_clients_of(turn.tx, coach.id))[:60]
    buttons = [button(f"{c.name[:20]} •" if c.id in chosen else c.name[:22], "pto", c.id) for c in clients]
    rows = [buttons[i : i + 3] for i in range(0, len(buttons), 3)]
    return [*rows, [button("Go on", "pgo")]]


async def on_push_to(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """'Send a session' under one client."""
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    await turn.expect(topic="push", to=[client.id])
    await what(turn, coach)


async def on_choose(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    chosen, number = list(turn.dialogue.state.get("to", [])), int(args[0])
    chosen = [c for c in chosen if c != number] if number in chosen else [*chosen, number]
    await turn.expect(topic="push", to=chosen)
    await turn.edit_here(say.push_whom(), await _names(turn, coach, chosen))


async def on_go(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    await turn.used()
    await what(turn, coach)


async def chosen_clients(turn: Turn, coach: Coach) -> list[Client]:
    found = [await own_client(turn, coach, str(c)) for c in turn.dialogue.state.get("to", [])]
    return [c for c in found if c is not None and c.stage is Stage.ACTIVE and c.telegram_id is not None]


async def what(turn: Turn, coach: Coach) -> None:
    """Room and minutes, with what the trip of the first client says as the default; or the coach's own words."""
    clients = await chosen_clients(turn, coach)
    if not clients:
        await turn.say(say.no_recipient())
        return
    life = await house.circumstances(turn.tx, clients[0])
    stay = life.where.stay_at(turn.at)
    state = turn.dialogue.state
    room = Room(state["room"]) if state.get("room") else stay.room or clients[0].room
    minutes = int(state.get("minutes") or stay.minutes or clients[0].minutes)
    await turn.expect(topic="push", to=[c.id for c in clients], room=room.value, minutes=minutes)
    await turn.say(
        say.push_what([c.name for c in clients], ROOM_WORDS[room], minutes), _what_rows(room, minutes)
    )


def _what_rows(room: Room, minutes: int) -> list[list[Button]]:
    lengths = [button(f"{m} •" if m == minutes else str(m), "pmin", m) for m in MINUTES]
    rooms = [button(f"{r.value} •" if r is room else r.value, "proom", r.value) for r in Room]
    return [lengths, rooms[:3], rooms[3:], [button("Show the draft", "pdraft")]]


async def on_minutes(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    await turn.remember({"minutes": int(args[0])})
    await _again(turn, coach)


async def on_room(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    await turn.remember({"room": Room(args[0]).value})
    await _again(turn, coach)


async def _again(turn: Turn, coach: Coach) -> None:
    clients = await chosen_clients(turn, coach)
    room, minutes = (
        Room(turn.dialogue.state.get("room", Room.NONE)),
        int(turn.dialogue.state.get("minutes", 30)),
    )
    await turn.edit_here(
        say.push_what([c.name for c in clients], ROOM_WORDS[room], minutes), _what_rows(room, minutes)
    )


async def on_draft(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    clients = await chosen_clients(turn, coach)
    if not clients:
        await turn.say(say.no_recipient())
        return
    state = turn.dialogue.state
    drafted = await deeds.draft(
        turn.tx,
        clients[0],
        at=turn.at,
        minutes=int(state.get("minutes", 30)),
        room=Room(state.get("room", Room.NONE)),
    )
    await turn.used()
    await turn.remember({"draft": drafted})
    rows = [
        [button("Send it now", "psend"), button("Another one", "pdraft")],
        [button("Leave it", "pcancel")],
    ]
    await turn.say(say.push_draft("\n\n".join(drafted["messages"])), rows)


async def in_own_words(turn: Turn, coach: Coach) -> None:
    """The coach typed the session: that is the draft."""
    words = turn.incoming.text.strip()
    title = words.splitlines()[0][:60]
    drafted = {"title": title, "messages": [words], "steps": []}
    await turn.remember({"draft": drafted})
    rows = [[button("Send it now", "psend"), button("Leave it", "pcancel")]]
    await turn.say(say.push_draft(words), rows)


async def on_send(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    """Off it goes: not while a red flag is open, not before the screening is confirmed."""
    drafted = turn.dialogue.state.get("draft")
    clients = await chosen_clients(turn, coach)
    if drafted is None or not clients:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await turn.expect(topic="")
    flagged = [c for c in clients if await house.open_red_flag(turn.tx, c.id) is not None]
    for client in clients:
        if client not in flagged:
            await _send(turn, coach, client, drafted)
    if flagged:
        await turn.say(say.not_pushed_flagged([c.name for c in flagged]))
    if len(flagged) < len(clients):
        await turn.say(say.pushed([c.name for c in clients if c not in flagged]))


async def _send(turn: Turn, coach: Coach, client: Client, drafted: dict[str, object]) -> None:
    key = f"session:{turn.incoming.update_id}:{client.id}"
    kept = await deeds.keep(turn.tx, client, drafted, by=Role.COACH, key=key, at=turn.at)
    if client.telegram_id is not None:
        await turn.speaker.say(
            client.telegram_id,
            say.session_for_client(coach, kept.title),
            [[button("Show the session", "open", kept.id)]],
            kind=Kind.SESSION,
            key=key,
            person=str(client.id),
        )


async def on_cancel(turn: Turn, _coach: Coach, _args: Sequence[str]) -> None:
    await turn.used()
    await turn.expect(topic="")
    await turn.say("Left. Nothing was sent.")


async def receipts(turn: Turn, coach: Coach) -> None:
    """/sent: sent, opened, begun, done; a bot learns nothing more."""
    clients = {c.id: c for c in await house.clients_of(turn.tx, coach.id)}
    found: list[RemoteSession] = await house.sessions.list(
        turn.tx,
        t.remote_session.c.client_id.in_(clients or [0]),
        t.remote_session.c.by == Role.COACH,
        order=[t.remote_session.c.id.desc()],
        limit=12,
    )
    zone = ZoneInfo(coach.zone)
    await turn.say(say.receipts([(clients[s.client_id], s, zone) for s in found]))
