"""The year of one client: what is coming up in a few lines, the blocks and their picture, accepted by one tap."""

import base64
import datetime as dt
from collections.abc import Sequence
from typing import Any

from bot.chats.buttons import Button, button
from bot.chats.coach.clients import nobody, own_client
from bot.chats.incoming import Kind as In
from bot.chats.phrases import coach as say
from bot.chats.phrases import year as of_year
from bot.chats.turn import Turn
from core.errors import Refused
from core.people.model import Client, Coach
from core.programme.year.picture import year_picture
from core.programme.year.words import year_words
from core.store import house
from core.store import programme as shelves
from core.store.lanes import Kind
from core.usecases import year as deeds

MOST_ROWS = 60


async def choose(turn: Turn, coach: Coach) -> None:
    """/year: whose."""
    clients = await house.clients_of(turn.tx, coach.id)
    if await nobody(turn, coach, clients):
        return
    buttons = [button(c.name[:24], "year", c.id) for c in clients[:60]]
    await turn.say(of_year.year_whose(), [buttons[i : i + 3] for i in range(0, len(buttons), 3)])


async def on_year(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    await open_for(turn, client)
    await _show(turn, client)


async def open_for(turn: Turn, client: Client) -> None:
    """Begin with what was kept, as far as it is still to come."""
    kept = await shelves.year_of(turn.tx, client.id)
    start = await deeds.first_monday(turn.tx, client, turn.at)
    rows = [row for row in (kept.events if kept else []) if dt.date.fromisoformat(row["to"]) >= start]
    weeks = kept.weeks if kept else deeds.USUAL_WEEKS
    await turn.expect(topic="year", client=client.id, start=start.isoformat(), weeks=weeks, rows=rows)


def _span(turn: Turn) -> tuple[dt.date, int, list[dict[str, Any]]]:
    state = turn.dialogue.state
    return dt.date.fromisoformat(state["start"]), int(state["weeks"]), list(state["rows"])


async def _client(turn: Turn, coach: Coach) -> Client | None:
    """The client whose year is open; None (and a sentence) where none is."""
    open_now = turn.dialogue.topic == "year"
    client = await own_client(turn, coach, str(turn.dialogue.state.get("client", 0))) if open_now else None
    if client is None:
        await turn.say(say.stale_button())
    return client


async def _show(turn: Turn, client: Client) -> None:
    start, weeks, rows = _span(turn)
    events = deeds.events_from(rows, start, weeks)
    listed = [of_year.year_row(event) for event in events]
    await turn.say(of_year.year_how(client.name, start, weeks, listed), _rows(weeks, any_rows=bool(rows)))


def _rows(weeks: int, *, any_rows: bool) -> list[list[Button]]:
    lengths = [button(f"{n} weeks •" if n == weeks else f"{n} weeks", "yweeks", n) for n in deeds.LENGTHS]
    last = [button("Lay it out", "ylay")]
    return [lengths, [*last, button("Start over", "yclear")] if any_rows else last]


async def on_words(turn: Turn, coach: Coach) -> None:
    """Lines of what is coming up: all of them are taken, or none."""
    client = await _client(turn, coach)
    if client is None:
        return
    if turn.incoming.kind is In.MEDIA:
        await turn.say(say.unknown())
        return
    await take_lines(turn, client, turn.incoming.text)


async def take_lines(turn: Turn, client: Client, text: str) -> None:
    """Lines that were typed, or came in a file, for the year that is open."""
    start, weeks, rows = _span(turn)
    try:
        new = [deeds.row_of(event) for event in deeds.read_rows(text, start, weeks)]
        both = [*rows, *(row for row in new if row not in rows)]
        deeds.events_from(both, start, weeks)
    except Refused as refused:
        await turn.say(of_year.year_faults(refused.lines))
        return
    if len(both) > MOST_ROWS:
        await turn.say(of_year.year_faults([of_year.year_too_much(len(both), MOST_ROWS)]))
        return
    await turn.remember({"rows": both})
    await _show(turn, client)


async def on_weeks(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    client = await _client(turn, coach)
    if client is not None:
        await turn.used()
        await turn.remember({"weeks": int(args[0])})
        await _show(turn, client)


async def on_clear(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    client = await _client(turn, coach)
    if client is not None:
        await turn.used()
        await turn.remember({"rows": []})
        await _show(turn, client)


async def on_again(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    """'Change it' under the picture: what was written is still there."""
    client = await _client(turn, coach)
    if client is not None:
        await turn.used()
        await _show(turn, client)


async def on_lay_out(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    """The picture, then the same in words, with the button that makes it hold."""
    client = await _client(turn, coach)
    if client is None:
        return
    await turn.used()
    start, weeks, rows = _span(turn)
    plan = deeds.laid_out(rows, start, weeks)
    picture = base64.b64encode(year_picture(plan)).decode()
    files = {"files": {"photo": {"name": "year.png", "content": picture}}}
    await turn.speaker.send(turn.chat_id, "sendPhoto", files, kind=Kind.REPLY, person=str(client.id))
    choice = [[button("Accept", "yok"), button("Change it", "yagain")]]
    await turn.say(of_year.year_drawn(client.name, year_words(plan)), choice)


async def on_accept(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    client = await _client(turn, coach)
    if client is None:
        return
    await turn.used()
    start, weeks, rows = _span(turn)
    await deeds.accept(turn.tx, client, deeds.laid_out(rows, start, weeks), rows, turn.at)
    await turn.expect(topic="")
    await turn.say(of_year.year_accepted(client.name))
