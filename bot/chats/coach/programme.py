"""A client's next weeks as a spreadsheet, sent as a file."""

import base64
from collections.abc import Sequence

from bot.chats.buttons import button
from bot.chats.coach.clients import own_client
from bot.chats.phrases import coach as say
from bot.chats.turn import Turn
from core.errors import Refused
from core.people.model import Coach
from core.programme.sheets.programme import programme_xlsx
from core.store import house
from core.usecases import sheets


async def choose(turn: Turn, coach: Coach) -> None:
    """/programme: whose."""
    buttons = [
        button(c.name[:24], "sheet", c.id) for c in (await house.active_clients_of(turn.tx, coach.id))[:60]
    ]
    await turn.say(say.programme_whose(), [buttons[i : i + 3] for i in range(0, len(buttons), 3)])


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
    file = {"name": "programme.xlsx", "content": base64.b64encode(programme_xlsx(rows)).decode()}
    body = {
        "files": {"document": file},
        "caption": say.programme_file(client.name, sheets.WEEKS_AHEAD),
        "parse_mode": "HTML",
    }
    await turn.speaker.send(turn.chat_id, "sendDocument", body, person=str(client.id))
