"""Pushing a remote session: to whom, what room and minutes, the draft, and off it goes; or in the coach's own words."""

import datetime as dt
from collections.abc import Sequence
from typing import Any
from zoneinfo import ZoneInfo

from bot.chats.buttons import Button, button
from bot.chats.coach.clients import nobody, own_client
from bot.chats.phrases import care as of_care
from bot.chats.phrases import coach as say
from bot.chats.phrases import pushing as of_pushing
from bot.chats.phrases.common import room_label
from bot.chats.turn import Turn
from core.errors import Refused
from core.people.model import Client, Coach, Role, Stage
from core.people.records import RemoteSession
from core.programme.words import ROOM_WORDS
from core.store import house
from core.store import house_tables as t
from core.store import programme as shelves
from core.store.lanes import Kind
from core.terms import Room
from core.usecases import own, sent_sessions, sparing
from core.usecases import sessions as deeds

MINUTES = (10, 20, 30, 45, 60)
MOST_WORDS = 3000


async def choose(turn: Turn, coach: Coach) -> None:
    """/push: to whom."""
    if await nobody(turn, coach, await house.active_clients_of(turn.tx, coach.id)):
        return
    await turn.expect(topic="push", to=[])
    await turn.say(of_pushing.push_whom(), await _names(turn, coach, []))


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
    await turn.edit_here(of_pushing.push_whom(), await _names(turn, coach, chosen))


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
        await turn.say(of_care.no_recipient())
        return
    life = await house.circumstances(turn.tx, clients[0])
    stay = life.where.stay_at(turn.at)
    state = turn.dialogue.state
    room = Room(state["room"]) if state.get("room") else stay.room or clients[0].room
    minutes = int(state.get("minutes") or stay.minutes or clients[0].minutes)
    await turn.expect(topic="push", to=[c.id for c in clients], room=room.value, minutes=minutes)
    await turn.say(
        of_pushing.push_what([c.name for c in clients], ROOM_WORDS[room], minutes), _what_rows(room, minutes)
    )


def _what_rows(room: Room, minutes: int) -> list[list[Button]]:
    lengths = [button(f"{m} •" if m == minutes else str(m), "pmin", m) for m in MINUTES]
    rooms = [button(f"{room_label(r)} •" if r is room else room_label(r), "proom", r.value) for r in Room]
    last = [button("Show the draft", "pdraft"), button("One of mine", "pown")]
    return [lengths, rooms[:3], rooms[3:], last]


async def on_minutes(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    await turn.remember({"minutes": int(args[0])})
    await _again(turn, coach)


async def on_room(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    await turn.remember({"room": Room(args[0]).value})
    await _again(turn, coach)


async def _again(turn: Turn, coach: Coach) -> None:
    clients = await chosen_clients(turn, coach)
    if not clients:  # something else was begun meanwhile
        await turn.say(say.stale_button())
        return
    room, minutes = wanted(turn)
    await turn.edit_here(
        of_pushing.push_what([c.name for c in clients], ROOM_WORDS[room], minutes), _what_rows(room, minutes)
    )


def wanted(turn: Turn) -> tuple[Room, int]:
    """Room and minutes as they were chosen."""
    state = turn.dialogue.state
    return Room(state.get("room", Room.NONE)), int(state.get("minutes", 30))


# --- the draft --------------------------------------------------------------------------------------------------------


async def on_draft(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """'Show the draft': one of the coach's own where it fits one client, else one that is built; 'b': built in any case."""
    await turn.used()
    await draft(turn, coach, without=turn.dialogue.state.get("without", []), build="b" in args)


async def draft(
    turn: Turn,
    coach: Coach,
    *,
    without: Sequence[str] = (),
    instead: Sequence[str] = (),
    line: str = "",
    build: bool = True,
) -> None:
    """Make one for those who were chosen, and show it."""
    clients = await chosen_clients(turn, coach)
    if not clients:
        await turn.say(of_care.no_recipient())
        return
    room, minutes = wanted(turn)
    first, *beside = clients
    tx, at = turn.tx, turn.at
    by_hand = {"without": without, "wanted": instead}
    try:
        if build or beside:
            drafted = await deeds.built(
                tx, first, at=at, minutes=minutes, room=room, **by_hand, beside=beside
            )
        else:
            drafted = await deeds.draft(tx, first, at=at, minutes=minutes, room=room)
    except Refused as refused:
        await turn.say("\n".join(refused.lines))
        return
    if line:
        drafted = deeds.with_line(drafted, line, await own.library_of(tx, coach.id))
    await show(turn, coach, drafted)


async def show(turn: Turn, coach: Coach, drafted: dict[str, Any]) -> None:
    """The draft as the client would read it, with everything that can be changed of it."""
    await turn.remember({"draft": drafted, "do": ""})
    text = "\n\n".join(drafted["messages"])
    await turn.say(of_pushing.push_draft(text, await _notes(turn, coach, drafted)), _draft_rows(drafted))


def _draft_rows(drafted: dict[str, Any]) -> list[list[Button]]:
    send = [button("Send it now", "psend"), button("In their morning", "pmorn")]
    last = [button("Leave it", "pcancel")]
    more = [button("Add a line", "pline"), button("Video or voice note", "pmedia")]
    if "session" not in drafted:
        kept = "own_session" in drafted
        keep = [button("Build one instead", "pdraft", "b") if kept else button("Keep it for again", "pkeep")]
        return [send, more if drafted["lifts"] else more[:1], [*keep, *last]]
    change = [button("Swap one", "pswap"), button("Easier", "pstep", "e"), button("Harder", "pstep", "h")]
    length = [button("Shorter", "plen", "s"), button("Longer", "plen", "l")]
    return [send, change, length, more, last]


async def _notes(turn: Turn, coach: Coach, drafted: dict[str, Any]) -> list[str]:
    """What the coach should know before sending: who is asleep, whom something hurts, what has media."""
    notes = []
    for client in await chosen_clients(turn, coach):
        life = await house.circumstances(turn.tx, client)
        if life.is_quiet(turn.at):
            notes.append(of_pushing.asleep(client.name, life.where.local_at(turn.at)))
        places = await sparing.told_pains(turn.tx, client, turn.at)
        if places and "session" not in drafted:
            notes.append(of_pushing.hurts(client.name, sorted(places)))
    noted = await shelves.media_of(turn.tx, coach.id)
    with_media = [name for key, name in deeds.exercises_in(drafted) if key in noted]
    return [*notes, of_pushing.has_media(with_media)] if with_media else notes


async def in_own_words(turn: Turn, coach: Coach) -> None:
    """The coach typed the session: that is the draft."""
    words = turn.incoming.text.strip()
    if len(words) > MOST_WORDS:
        await turn.say(say.too_long())
        return
    await show(turn, coach, deeds.in_own_words(words, await own.library_of(turn.tx, coach.id)))


# --- off it goes ------------------------------------------------------------------------------------------------------


async def on_send(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    await _off(turn, coach, in_the_morning=False)


async def on_morning(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    await _off(turn, coach, in_the_morning=True)


async def _off(turn: Turn, coach: Coach, *, in_the_morning: bool) -> None:
    """Off it goes: not while a red flag is open, not before the screening is confirmed."""
    drafted = turn.dialogue.state.get("draft")
    clients = await chosen_clients(turn, coach)
    if drafted is None or not clients:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await turn.expect(topic="")
    flagged = [c for c in clients if await house.open_red_flag(turn.tx, c.id) is not None]
    going = [c for c in clients if c not in flagged]
    when = [(c.name, await _send(turn, coach, c, drafted, in_the_morning=in_the_morning)) for c in going]
    if flagged:
        await turn.say(of_pushing.not_pushed_flagged([c.name for c in flagged]))
    if going:
        await turn.say(
            of_pushing.pushed_for_morning(when)
            if in_the_morning
            else of_pushing.pushed([c.name for c in going])
        )


async def _send(
    turn: Turn, coach: Coach, client: Client, drafted: dict[str, Any], *, in_the_morning: bool
) -> dt.datetime:
    """Write the message that offers the session. Returns the client's local time at which it goes out."""
    life = await house.circumstances(turn.tx, client)
    morning = deeds.next_morning(life, turn.at) if in_the_morning else None
    key = f"session:{turn.incoming.update_id}:{client.id}"
    kept = await sent_sessions.keep(turn.tx, client, drafted, by=Role.COACH, key=key, at=turn.at)
    if client.telegram_id is not None:
        body: dict[str, Any] = {
            "text": of_pushing.session_for_client(coach, kept.title),
            "parse_mode": "HTML",
        }
        if morning is None and life.is_quiet(turn.at):
            body["disable_notification"] = True
        await turn.speaker.send(
            client.telegram_id,
            "sendMessage",
            body,
            [[button("Show the session", "open", kept.id)]],
            kind=Kind.SESSION,
            key=key,
            not_before=morning,
            person=str(client.id),
        )
    return life.where.local_at(morning or turn.at)


async def on_cancel(turn: Turn, _coach: Coach, _args: Sequence[str]) -> None:
    await turn.used()
    await turn.expect(topic="")
    await turn.say(say.cancelled("push"))


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
    await turn.say(of_pushing.receipts([(clients[s.client_id], s, zone) for s in found]))
