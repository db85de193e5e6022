"""People we do not know: one polite line, and nothing else. A link that was sent to them opens the door once."""

import datetime as dt
from dataclasses import replace

from bot.chats.buttons import button
from bot.chats.client import enrol
from bot.chats.coach import setup
from bot.chats.incoming import Kind
from bot.chats.phrases import coach as to_coach
from bot.chats.phrases import privacy
from bot.chats.turn import Turn
from core.people.invitations import hash_of
from core.people.model import Invitation, Role, Stage
from core.store import house
from core.store import house_tables as t

ONE_LINE_EVERY = dt.timedelta(hours=1)


async def meet(turn: Turn) -> None:
    """A message from nobody we know."""
    incoming = turn.incoming
    if incoming.kind is Kind.MEMBER:
        return
    if incoming.kind is Kind.COMMAND and incoming.command == "start" and incoming.argument:
        await _open(turn, incoming.argument)
        return
    if incoming.kind is Kind.COMMAND and incoming.command == "privacy":
        await turn.say(privacy.POLICY)
        return
    await _one_line(turn, privacy.STRANGER)


async def _one_line(turn: Turn, line: str) -> None:
    if not await house.stranger_told(turn.tx, turn.incoming.user_id, at=turn.at, again_after=ONE_LINE_EVERY):
        await turn.say(line)


async def is_a_link(turn: Turn) -> bool:
    """Whether /start carries an invitation that would still open, for somebody who is in already."""
    whose = t.invitation.c.token_hash == hash_of(turn.incoming.argument)
    invitation = await house.invitations.find(turn.tx, whose)
    return invitation is not None and invitation.holds(turn.at)


async def _open(turn: Turn, token: str) -> None:
    """A link: the same answer for wrong, used and expired."""
    whose = t.invitation.c.token_hash == hash_of(token)
    # Locked, or two who open it at once would both enter.
    invitation = await house.invitations.find(turn.tx, whose, locked=True)
    if invitation is None or not invitation.holds(turn.at):
        await turn.say(privacy.BAD_LINK)
        return
    await house.invitations.save(turn.tx, replace(invitation, used_at=turn.at))
    await (_coach(turn, invitation) if invitation.role is Role.COACH else _client(turn, invitation))


async def _coach(turn: Turn, invitation: Invitation) -> None:
    coach = await house.coaches.get(turn.tx, invitation.person_id)
    coach = await house.coaches.save(
        turn.tx, replace(coach, telegram_id=turn.incoming.user_id, stage=Stage.ENROLLING, unreachable=False)
    )
    await setup.begin(turn, coach)


async def _client(turn: Turn, invitation: Invitation) -> None:
    client = await house.clients.get(turn.tx, invitation.person_id)
    client = await house.clients.save(
        turn.tx, replace(client, telegram_id=turn.incoming.user_id, heard_at=turn.at)
    )
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await enrol.begin(turn, client)
    remove = [[button("Remove", "remove", client.id)]]
    await turn.tell(coach.telegram_id, to_coach.opened_link(client, turn.incoming.name), remove)
