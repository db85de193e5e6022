"""A spreadsheet that a coach sends: what it is is read from its columns; nothing is kept before a tap."""

import base64
import io
import zlib
from collections.abc import Awaitable, Callable, Sequence
from functools import partial

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.buttons import button
from bot.chats.coach import year
from bot.chats.coach.clients import own_client
from bot.chats.files import SHEETS, Wanted, ending
from bot.chats.incoming import Incoming
from bot.chats.phrases import coach as say
from bot.chats.phrases import files as of_files
from bot.chats.phrases import sheets as words
from bot.chats.turn import Turn
from core.adherence.history import parse_history, write_history
from core.errors import Refused
from core.people.model import Client, Coach, Stage
from core.people.records import Dialogue
from core.programme.movements import Library
from core.programme.sheets.cells import LARGEST, Sheet, cell_text, read_sheets, write_csv
from core.programme.sheets.history import history_from
from core.programme.sheets.kinds import SheetKind, kind_of
from core.programme.sheets.programme import ProgrammeRow, programme_csv, programme_from, read_programme
from core.store import house
from core.store.outbox import find_sent
from core.usecases import history_in, own, sheets
from core.usecases.history import called_by

TOPIC = "file"
Press = Callable[[Turn, Coach, Sequence[str]], Awaitable[None]]


def _with_faults(press: Press) -> Press:
    """Something may have changed between a file and its tap: what is refused then is told like all else."""

    async def pressed(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
        try:
            await press(turn, coach, args)
        except Refused as refused:
            await turn.say(of_files.faults(refused.lines))

    return pressed


async def wanted(tx: AsyncConnection, coach: Coach, incoming: Incoming, dialogue: Dialogue) -> Wanted | None:
    """A spreadsheet of a size that can be read, unless it is a message to a client."""
    if coach.stage is not Stage.ACTIVE or dialogue.topic == "write" or incoming.file_size > LARGEST:
        return None
    if ending(incoming) not in SHEETS or await _answers_a_client(tx, incoming):
        return None
    name = incoming.file_name or "The file"
    return Wanted(incoming.file_id, LARGEST, partial(read_sheets, name=name))


async def _answers_a_client(tx: AsyncConnection, incoming: Incoming) -> bool:
    """Whether it is a reply to a client's words: then it is for that client."""
    if incoming.reply_to is None:
        return False
    sent = await find_sent(tx, incoming.chat_id, incoming.reply_to)
    return sent is not None and sent.key.partition(":")[0] in {"remark", "flag"}


async def not_read(turn: Turn, _coach: Coach) -> None:
    """A file that is none of ours, said before anything is fetched."""
    incoming = turn.incoming
    if ending(incoming) in SHEETS:
        await turn.say(of_files.too_large(incoming.file_size, LARGEST))
    else:
        await turn.say(words.not_read(ending(incoming)))


async def take(turn: Turn, coach: Coach) -> None:
    """A file that was read: say what is wrong with all of it, or what it would change."""
    if turn.brought is None:
        return
    name = turn.incoming.file_name or "The file"
    if turn.brought.faults:
        await turn.say(of_files.faults(turn.brought.faults))
        return
    try:
        match kind_of(turn.brought.content):
            case SheetKind.PROGRAMME:
                await _programme(turn, coach, turn.brought.content, name)
            case SheetKind.HISTORY:
                await _history(turn, coach, turn.brought.content, name)
            case SheetKind.YEAR:
                await _year(turn, coach, turn.brought.content)
            case None:
                await turn.say(words.no_kind(name))
    except Refused as refused:
        await turn.say(of_files.faults(refused.lines))


async def on_leave(turn: Turn, _coach: Coach, _args: Sequence[str]) -> None:
    await turn.used()
    if turn.dialogue.topic == TOPIC:
        await turn.expect(topic="")
    await turn.say(words.left())


@_with_faults
async def on_client(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """For whom the file is that was sent."""
    client, state = await own_client(turn, coach, args[0]), turn.dialogue.state
    if client is None or turn.dialogue.topic != TOPIC:
        await turn.say(say.stale_button())
        return
    await turn.used()
    content = _unpacked(state["content"])
    if state["kind"] == SheetKind.YEAR:
        await year.open_for(turn, client)
        await year.take_lines(turn, client, content.decode("utf-8-sig"))
        return
    library = await own.library_of(turn.tx, coach.id)
    await _show_programme(turn, client, read_programme(content, "The file", library))


@_with_faults
async def on_whose(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    """'For somebody else'."""
    if turn.dialogue.topic != TOPIC:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await _ask_whose(turn, coach, words.whose_instead())


@_with_faults
async def on_take(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    state = turn.dialogue.state
    if turn.dialogue.topic != TOPIC or "content" not in state:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await turn.expect(topic="")
    if state["kind"] == SheetKind.HISTORY:
        await _take_history(turn, coach, _unpacked(state["content"]))
    else:
        await _take_programme(turn, coach, str(state.get("client", 0)), _unpacked(state["content"]))


async def _ask_whose(turn: Turn, coach: Coach, question: str) -> None:
    clients = (await house.clients_of(turn.tx, coach.id))[:60]
    if not clients:
        raise Refused("You have no clients yet: /invite Name gives a link for the first.")
    buttons = [button(each.name[:24], "fclient", each.id) for each in clients]
    rows = [buttons[i : i + 3] for i in range(0, len(buttons), 3)]
    await turn.say(question, [*rows, [button("Not now", "fleave")]])


# --- a programme ------------------------------------------------------------------------------------------------------


async def _programme(turn: Turn, coach: Coach, read: Sequence[Sheet], name: str) -> None:
    library: Library = await own.library_of(turn.tx, coach.id)
    rows = programme_from(read, name, library)
    client = await _meant(turn, coach)
    await turn.expect(topic=TOPIC, kind=SheetKind.PROGRAMME, content=_packed(programme_csv(rows)))
    if client is None:
        await _ask_whose(turn, coach, words.programme_whose(sheets.number_of_sessions(rows), len(rows)))
    else:
        await _show_programme(turn, client, rows)


async def _meant(turn: Turn, coach: Coach) -> Client | None:
    """For whom, where that is plain: it answers the file that went out, says so, or that was the last thing asked for."""
    if turn.incoming.reply_to is not None:
        sent = await find_sent(turn.tx, turn.chat_id, turn.incoming.reply_to)
        if sent is not None and sent.person and sent.person.isdigit():
            return await own_client(turn, coach, sent.person)
    everybody = await house.clients_of(turn.tx, coach.id)
    words = turn.incoming.text.casefold().split()
    named = [each for each in everybody if each.name.casefold().split()[0] in words]
    if not named and turn.dialogue.topic == "programme":
        return await own_client(turn, coach, str(turn.dialogue.state.get("client", 0)))
    likely = named or everybody
    return likely[0] if len(likely) == 1 else None


async def _show_programme(turn: Turn, client: Client, rows: Sequence[ProgrammeRow]) -> None:
    await turn.remember({"client": client.id})
    before = await sheets.taken_in_before(turn.tx, client)
    weeks = len({row.week for row in rows})
    text = words.programme_read(client.name, weeks, sheets.number_of_sessions(rows), len(rows), before)
    choice = [
        button("Take it in", "ftake"),
        button("For somebody else", "fwhose"),
        button("Not now", "fleave"),
    ]
    await turn.say(text, [choice[:1], choice[1:]])


async def _take_programme(turn: Turn, coach: Coach, client_id: str, content: bytes) -> None:
    client = await own_client(turn, coach, client_id)
    if client is None:
        await turn.say(say.stale_button())
        return
    library = await own.library_of(turn.tx, coach.id)
    taken = await sheets.take_in(turn.tx, client, read_programme(content, "The file", library), turn.at)
    undo = [[button("Undo", "pundo", client.id, sheets.mark_of(taken))]]
    await turn.say(words.programme_taken(client.name, len(taken)), undo)


async def on_undo_programme(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """Take a programme back: the sessions of the file before it hold again, if there was one."""
    client = await own_client(turn, coach, args[0])
    gone = await sheets.take_out(turn.tx, client, int(args[1])) if client is not None else None
    await turn.used()
    if client is None or gone is None:
        await turn.say(say.stale_button())
        return
    await turn.say(words.programme_undone(client.name, *gone))


# --- a history --------------------------------------------------------------------------------------------------------


async def _history(turn: Turn, coach: Coach, read: Sequence[Sheet], name: str) -> None:
    clients = await house.clients_of(turn.tx, coach.id)
    rows = history_from(read, name, [called for _, called in called_by(clients)])
    past = await history_in.past_of(turn.tx, clients, rows, turn.at)
    if not any(each.rows for each in past):
        await turn.say(words.history_nothing_new(past))
        return
    text = io.StringIO()
    write_history(rows, text)
    await turn.expect(topic=TOPIC, kind=SheetKind.HISTORY, content=_packed(text.getvalue().encode()))
    *before, last = words.history_read(past)
    for part in before:
        await turn.say(part)
    await turn.say(last, [[button("Take it in", "ftake"), button("Not now", "fleave")]])


async def _take_history(turn: Turn, coach: Coach, content: bytes) -> None:
    rows = parse_history(io.StringIO(content.decode()))
    past = await history_in.past_of(turn.tx, await house.clients_of(turn.tx, coach.id), rows, turn.at)
    mark = await history_in.take_in(turn.tx, past, turn.at)
    turn.touched.update(each.client.id for each in past)
    undo = [[button("Undo", "fundo", int(mark.timestamp()))]]
    await turn.say(words.history_taken(past), undo)


async def on_undo(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """Take out again what came in with one file."""
    mark = history_in.mark_of(int(args[0]))
    gone = await history_in.take_out(turn.tx, await house.clients_of(turn.tx, coach.id), mark)
    turn.touched.update(client.id for client, _ in gone)
    await turn.used()
    await turn.say(words.history_undone(gone) if gone else say.stale_button())


# --- a year -----------------------------------------------------------------------------------------------------------


async def _year(turn: Turn, coach: Coach, read: Sequence[Sheet]) -> None:
    rows = [row for sheet in read for row in sheet.rows]
    width = max(len(row) for row in rows)
    cells = [[cell_text(value) for value in row] + [""] * (width - len(row)) for row in rows]
    text = write_csv(cells).decode("utf-8-sig")
    if turn.dialogue.topic == "year":
        client = await own_client(turn, coach, str(turn.dialogue.state.get("client", 0)))
        if client is not None:
            await year.take_lines(turn, client, text)
            return
    await turn.expect(topic=TOPIC, kind=SheetKind.YEAR, content=_packed(text.encode()))
    await _ask_whose(turn, coach, words.year_whose())


def _packed(content: bytes) -> str:
    """Small enough to wait in the dialogue for a tap."""
    return base64.b64encode(zlib.compress(content)).decode()


def _unpacked(packed: str) -> bytes:
    return zlib.decompress(base64.b64decode(packed))
