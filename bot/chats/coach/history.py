"""The digest once more, and the history as files for a spreadsheet."""

import base64
from dataclasses import replace

from bot.chats.coach.settle import choice_rows, well_together
from bot.chats.phrases import coach as say
from bot.chats.turn import Turn
from core.calendar import zones
from core.calendar.weeks import IsoWeek
from core.digest import words
from core.digest.facts import ClientWeek, GroupWeek, Unread
from core.digest.history_file import history_csv, history_xlsx
from core.digest.order import in_order
from core.people.model import Client, Coach
from core.store import house
from core.store.lanes import Kind
from core.store.unread import reason
from core.usecases import history, issued, settle, weekly
from core.week.model import Promise


async def digest_again(turn: Turn, coach: Coach) -> None:
    """/digest: where the running week stands, without issuing anything; and the buttons of what waits to be settled."""
    week = IsoWeek.of(zones.local(turn.at, coach.zone).date())
    told, unread, waiting = list[ClientWeek](), list[Unread](), list[tuple[Client, Promise, ClientWeek]]()
    for client_id, name in await house.active_names_of(turn.tx, coach.id):
        try:
            client = await house.clients.get(turn.tx, client_id)
            coming = await house.promise_for(turn.tx, client_id, week.next())
            await house.circumstances(turn.tx, client)
            facts = await weekly.client_week(turn.tx, client, week, coming)
            if coming is not None:
                last = await settle.last_promise(turn.tx, client_id, coming.week)
                issued_then = weekly.as_issued(coming, previous=last, confidence=client.confidence)
                facts = replace(facts, next_week=issued_then)
        except Exception as error:  # noqa: BLE001 - whatever is wrong with one client, the others are told of
            unread.append(Unread(name, reason(error)))
            continue
        told.append(facts)
        if coming is not None and coming.recommended is not None and coming.settled is None:
            waiting.append((client, coming, facts))
    past = await issued.audit_of(turn.tx, coach.id)
    group = GroupWeek(week=week, clients=tuple(told), unread=tuple(unread), audit=past)
    for text in words.digest_messages(group):
        await turn.say(text)
    place = {id(facts): n for n, facts in enumerate(in_order(told))}
    for client, promise, facts in sorted(waiting, key=lambda each: place[id(each[2])]):
        if promise.well:
            continue
        last = facts.next_week.previous if facts.next_week is not None else None
        await turn.say(say.choice(client, promise, facts, last), choice_rows(promise, last))
    if well := [(client, promise) for client, promise, _ in waiting if promise.well]:
        await turn.say(*well_together(well, week.next()))


async def send(turn: Turn, coach: Coach) -> None:
    """/history: every session of every client, as .xlsx and .csv."""
    rows = await history.named_rows(turn.tx, await house.clients_of(turn.tx, coach.id))
    if not rows:
        await turn.say(say.nothing_in_history())
        return
    for name, content in (
        ("history.xlsx", history_xlsx(rows, made_at=turn.at)),
        ("history.csv", history_csv(rows)),
    ):
        file = {"name": name, "content": base64.b64encode(content).decode()}
        await turn.speaker.send(turn.chat_id, "sendDocument", {"files": {"document": file}}, kind=Kind.REPLY)
