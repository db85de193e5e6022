"""Words of a client over which everything failed. They may be a sign of danger: that much is looked at whatever is broken."""

from sqlalchemy import select

from bot.chats.buttons import button
from bot.chats.phrases import care as of_care
from bot.chats.turn import Speaker
from core.people.records import RedFlag
from core.replies import understand
from core.replies.meaning import Asked
from core.store import house
from core.store import house_tables as t
from core.store.lanes import Kind
from core.usecases.schedule import reschedule_coach
from core.wellbeing.cautions import safety_message


async def heed(speaker: Speaker, chat_id: int, words: str) -> bool:
    """Whether the words may be a sign of danger: then the client reads what to do, and the coach is alerted until they have seen it.

    No more is read of the client than this takes, since it may be they who cannot be read.
    """
    tx, at = speaker.tx, speaker.at
    own = select(t.client.c.id, t.client.c.name, t.client.c.coach_id).where(
        t.client.c.telegram_id == chat_id, t.client.c.consented_at.is_not(None)
    )
    client = (await tx.execute(own)).first()
    if client is None or understand(words, asked=Asked.NOTHING, now=at, zone="UTC").urgent is None:
        return False
    raised = RedFlag(id=0, client_id=client.id, words=words, sure=True, raised_at=at, told=1, told_at=at)
    flag = await house.red_flags.add(tx, raised)
    await speaker.say(chat_id, safety_message(None), kind=Kind.SAFETY)
    coach = await house.coaches.get(tx, client.coach_id)
    if coach.telegram_id is not None:
        rows = [[button("I have seen this", "flagseen", flag.id), button("Clear it", "flagclear", flag.id)]]
        await speaker.say(
            coach.telegram_id,
            of_care.red_flag_apart(client.name, words),
            rows,
            kind=Kind.SAFETY,
            key=f"flag:{flag.id}:1",
            person=str(client.id),
        )
        await reschedule_coach(tx, coach, at)
    return True
