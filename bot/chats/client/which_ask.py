"""Which planned session a message is about: the one it replies to, the one that waits, the one to be moved."""

import datetime as dt
import re

from bot.chats.turn import Turn
from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.replies import day_meant
from core.replies.meaning import Asked
from core.store import house
from core.store import house_tables as t
from core.store.lanes import Kind as Out
from core.store.outbox import find_sent
from core.week.answering import ask_meant, may_correct
from core.week.count import of_promise
from core.week.model import Ask

THIS_DAY = re.compile(r"\b(?:today|tonight|this (?:morning|afternoon|evening))\b", re.IGNORECASE)


async def waiting(turn: Turn, client: Client) -> Ask | None:
    """The ask that a bare answer would belong to."""
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    asks = await house.asks_of(turn.tx, client.id, since=IsoWeek.of(today).plus(-1))
    found = ask_meant(asks, today=today)
    return found if found is not None and may_correct(found, today) and not found.withdrawn else None


async def still_ahead(turn: Turn, client: Client) -> Ask | None:
    """The session of a prompt that asks 'still good?', until it could be over: a 'yes' to that is no session that was done."""
    about = turn.dialogue.about
    if turn.dialogue.asked not in {Asked.SESSION, Asked.SLEEP} or about is None:
        return None
    ask = await house.asks.find(turn.tx, t.ask.c.id == about, t.ask.c.client_id == client.id)
    if ask is None or not ask.is_open or ask.prompted_at is None or ask.followed_up_at is not None:
        return None
    begins = (await house.circumstances(turn.tx, client)).session_at(ask.day, ask.at)
    if begins is None or ask.prompted_at > begins or turn.at >= begins + dt.timedelta(minutes=ask.minutes):
        return None
    return ask


async def is_to_the_coach(turn: Turn) -> bool:
    """Whether the message replies (Telegram's reply) to one that came from the coach: then it is for the coach as well."""
    number = turn.incoming.reply_to
    sent = await find_sent(turn.tx, turn.chat_id, number) if number is not None else None
    return sent is not None and sent.kind is Out.COACH_NOTE and not sent.key.startswith("week:")


async def asked_ahead(turn: Turn, client: Client) -> int | None:
    """The session of tomorrow that was asked about on this evening, for who trains before quiet hours end: a bare 'can't' is of it."""
    about = turn.dialogue.about
    if turn.dialogue.asked != Asked.SESSION or about is None or THIS_DAY.search(turn.incoming.text):
        return None
    ask = await house.asks.find(turn.tx, t.ask.c.id == about, t.ask.c.client_id == client.id)
    today = (await house.circumstances(turn.tx, client)).today(turn.at)
    ahead = ask is not None and ask.is_open and ask.prompted_at is not None and ask.day > today
    return about if ahead else None


async def replied_to(turn: Turn, client: Client) -> int | None:
    """The ask of the prompt that this message replies to (Telegram's reply), if it is one."""
    if turn.incoming.reply_to is None:
        return None
    sent = await find_sent(turn.tx, turn.chat_id, turn.incoming.reply_to)
    if sent is None or not sent.key.startswith("ask:"):
        return None
    ask = await house.asks.find(
        turn.tx, t.ask.c.id == int(sent.key.split(":")[1]), t.ask.c.client_id == client.id
    )
    return ask.id if ask is not None else None


async def day_replied_to(turn: Turn, client: Client) -> dt.date | None:
    """The local day of the message that this one replies to (Telegram's reply)."""
    number = turn.incoming.reply_to
    sent = await find_sent(turn.tx, turn.chat_id, number) if number is not None else None
    if sent is None or sent.kind not in {Out.PROMPT, Out.SLEEP}:
        return None
    return (await house.circumstances(turn.tx, client)).where.local_day(sent.ended_at or sent.enqueued_at)


async def to_move(turn: Turn, client: Client, today: dt.date) -> Ask | None:
    """The ask that is meant: the one replied to, that of the day it is moved from, today's, else the next one of the week."""
    replied = await replied_to(turn, client)
    asks = [
        a
        for a in of_promise(await house.asks_of_week(turn.tx, client.id, IsoWeek.of(today)))
        if not a.took_place and (a.is_open or a.day == today)
    ]
    if replied is not None:
        return next((a for a in asks if a.id == replied), None)
    source = day_meant.moved_from(turn.incoming.text, today)
    if source is not None:
        return next((a for a in asks if a.day == source), None)
    return next((a for a in asks if a.day == today), None) or next((a for a in asks if a.day > today), None)
