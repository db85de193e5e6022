"""Both ways: the coach answers a client by replying to the message that brought their words, or writes to one or several."""

from collections.abc import Sequence

from bot.chats.buttons import Button, button
from bot.chats.coach.clients import nobody, own_client
from bot.chats.incoming import Kind as In
from bot.chats.phrases import care as of_care
from bot.chats.phrases import coach as say
from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.model import Client, Coach, Role, Stage
from core.people.records import Remark
from core.store import house
from core.store.lanes import Kind
from core.store.outbox import find_sent

MOST_WORDS = 3000


async def client_replied_to(turn: Turn, coach: Coach) -> Client | None:
    """The client whose words a replied-to message brought."""
    if turn.incoming.reply_to is None:
        return None
    sent = await find_sent(turn.tx, turn.chat_id, turn.incoming.reply_to)
    if sent is None:
        return None
    kind, _, number = sent.key.partition(":")
    number = number.partition(":")[0]
    if kind == "remark":
        remark = await house.remarks.find(turn.tx, house.remarks.table.c.id == int(number))
        return None if remark is None else await own_client(turn, coach, str(remark.client_id))
    if kind == "flag":
        flag = await house.red_flags.find(turn.tx, house.red_flags.table.c.id == int(number))
        return None if flag is None else await own_client(turn, coach, str(flag.client_id))
    if sent.person and sent.person.isdigit():
        return await own_client(turn, coach, sent.person)
    return None


async def on_write(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """'Write' or 'Answer' under a client's words."""
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    await turn.expect(topic="write", to=[client.id])
    await turn.say(of_care.write_to([client.name]))


async def choose(turn: Turn, coach: Coach) -> None:
    """/write: to whom, one or several."""
    if await nobody(turn, coach, await _with_a_chat(turn, coach)):
        return
    await turn.expect(topic="choose", to=[])
    await turn.say(say.write_whom(), await _names(turn, coach, []))


async def _with_a_chat(turn: Turn, coach: Coach) -> list[Client]:
    return [c for c in await house.clients_of(turn.tx, coach.id) if c.telegram_id is not None]


async def _names(turn: Turn, coach: Coach, chosen: Sequence[int]) -> list[list[Button]]:
    clients = (await _with_a_chat(turn, coach))[:60]
    buttons = [button(f"{c.name[:20]} •" if c.id in chosen else c.name[:22], "to", c.id) for c in clients]
    rows = [buttons[i : i + 3] for i in range(0, len(buttons), 3)]
    return [*rows, [button("Everyone", "toall"), button("Go on", "toend")]]


async def on_to(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    chosen = list(turn.dialogue.state.get("to", []))
    number = int(args[0])
    chosen = [c for c in chosen if c != number] if number in chosen else [*chosen, number]
    await turn.expect(topic="choose", to=chosen)
    await turn.edit_here(say.write_whom(), await _names(turn, coach, chosen))


async def on_to_all(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    everyone = [c.id for c in await house.active_clients_of(turn.tx, coach.id)]
    await turn.expect(topic="choose", to=everyone)
    await on_to_end(turn, coach, ())


async def on_to_end(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    chosen = await _chosen(turn, coach)
    if not chosen:
        await turn.say(of_care.no_recipient())
        return
    await turn.used()
    await turn.expect(topic="write", to=[c.id for c in chosen])
    await turn.say(of_care.write_to([c.name for c in chosen]))


async def _chosen(turn: Turn, coach: Coach) -> list[Client]:
    found = [await own_client(turn, coach, str(c)) for c in turn.dialogue.state.get("to", [])]
    return [c for c in found if c is not None]


async def deliver(turn: Turn, coach: Coach) -> None:
    """The message that was asked for: to each client as from the coach."""
    chosen = await _chosen(turn, coach)
    if len(turn.incoming.text) > MOST_WORDS:
        await turn.say(say.too_long())  # and the shorter one is for the same people
        return
    await turn.expect(topic="")
    await send_to(turn, coach, chosen)


async def send_to(turn: Turn, coach: Coach, clients: Sequence[Client]) -> None:
    if len(turn.incoming.text) > MOST_WORDS:
        await turn.say(say.too_long())
        return
    reachable = [
        c for c in clients if c.telegram_id is not None and not c.unreachable and c.stage is not Stage.STOPPED
    ]
    for client in reachable:
        await _send(turn, coach, client)
    lost = [c.name for c in clients if c not in reachable]
    if lost:
        await turn.say(of_care.not_reachable(lost))
    if reachable:
        await turn.say(of_care.sent_to([c.name for c in reachable]))


async def _send(turn: Turn, coach: Coach, client: Client) -> None:
    chat = client.telegram_id
    if chat is None:
        return
    if turn.incoming.kind in {In.MEDIA, In.LOCATION} and turn.incoming.message_id is not None:
        await turn.speaker.say(
            chat, of_care.media_from_coach(coach), kind=Kind.COACH_NOTE, person=str(client.id)
        )
        body = {"from_chat_id": turn.chat_id, "message_id": turn.incoming.message_id}
        await turn.speaker.send(chat, "copyMessage", body, kind=Kind.COACH_NOTE, person=str(client.id))
    else:
        words = of_care.from_coach(coach, turn.incoming.text)
        await turn.speaker.say(chat, words, kind=Kind.COACH_NOTE, person=str(client.id))
    life = await house.circumstances(turn.tx, client)
    await house.remarks.add(
        turn.tx,
        Remark(
            id=0,
            client_id=client.id,
            said_by=Role.COACH,
            kind="answer",
            words=turn.incoming.text or f"[{turn.incoming.media or turn.incoming.kind}]",
            said_at=turn.at,
            week=IsoWeek.of(life.today(turn.at)),
        ),
    )
