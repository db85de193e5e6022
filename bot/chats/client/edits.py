"""A message that is changed after it was sent: it answers what was asked when it was written, and on that day only."""

from dataclasses import replace

from bot.chats.client import care
from bot.chats.incoming import Kind
from bot.chats.phrases import day as of_day
from bot.chats.turn import Turn
from core.people.model import Client
from core.week.circumstances import Circumstances

READ = "read"  # in the dialogue's state: which message was read last, and what had been asked before it


async def is_of_another_day(turn: Turn, client: Client, life: Circumstances) -> bool:
    """A change to a message of an earlier day counts for nothing today: the coach sees it, and how to correct is said."""
    written = turn.incoming.sent_at
    if turn.incoming.kind is not Kind.EDIT or written is None:
        return False
    day = life.where.local_day(written)
    if day >= life.today(turn.at):
        return False
    coach = await care.pass_on(turn, client, turn.incoming.text, "note")
    await turn.say(of_day.changed_too_late(day, coach.name))
    return True


async def as_it_was_asked(turn: Turn) -> None:
    """Put back what had been asked when the message that is changed now was read; of any other, remember it."""
    number, dialogue = turn.incoming.message_id, turn.dialogue
    if turn.incoming.kind is not Kind.EDIT:
        await turn.remember({READ: [number, dialogue.asked, dialogue.about]})
        return
    read, asked, about = dialogue.state.get(READ) or (None, "", None)
    if number is not None and read == number:
        turn.dialogue = replace(dialogue, asked=asked, about=about)
