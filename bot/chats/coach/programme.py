"""A client's next weeks as a spreadsheet, sent as files; what comes back is taken in by `files`."""

import base64
from collections.abc import Sequence

from bot.chats.buttons import button
from bot.chats.coach.clients import nobody, own_client
from bot.chats.phrases import coach as say
from bot.chats.phrases import year as of_year
from bot.chats.turn import Turn
from core.errors import Refused
from core.people.model import Coach
from core.programme.sheets.programme import programme_csv, programme_xlsx
from core.store import house
from core.usecases import sheets


async def choose(turn: Turn, coach: Coach) -> None:
    """/programme: whose."""
    clients = await house.active_clients_of(turn.tx, coach.id)
    if await nobody(turn, coach, clients):
        return
    buttons = [button(c.name[:24], "sheet", c.id) for c in clients[:60]]
    await turn.say(of_year.programme_whose(), [buttons[i : i + 3] for i in range(0, len(buttons), 3)])


async def on_client(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    try:
        rows = await sheets.coming_programme(turn.tx, client, turn.at)
    except Refused as refused:
        await turn.say("\n".join(refused.lines))
        return
    await turn.expect(topic="programme", client=client.id)  # a file that comes back next is theirs
    for name, content, caption in (
        ("programme.xlsx", programme_xlsx(rows), of_year.programme_file(client.name, sheets.WEEKS_AHEAD)),
        ("programme.csv", programme_csv(rows), of_year.same_as_csv()),
    ):
        file = {"name": name, "content": base64.b64encode(content).decode()}
        body = {"files": {"document": file}, "caption": caption, "parse_mode": "HTML"}
        await turn.speaker.send(turn.chat_id, "sendDocument", body, person=str(client.id))
