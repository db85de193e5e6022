"""Bringing people in: a coach by a one-time link from the command line."""

import datetime as dt

from sqlalchemy.ext.asyncio import AsyncConnection

from core.errors import Fault
from core.people.invitations import invite
from core.people.model import Coach, Role
from core.store import house

LONGEST_NAME = 120


async def enrol_coach(tx: AsyncConnection, name: str, token: str, *, at: dt.datetime) -> Coach:
    """Make a coach and the invitation that is theirs."""
    tidy = " ".join(name.split())
    if not tidy or len(tidy) > LONGEST_NAME:
        raise Fault(
            f"A coach's name has between 1 and {LONGEST_NAME} characters; for example: keptword enrol-coach 'Ines Prado'"
        )
    coach = await house.coaches.add(tx, Coach(id=0, name=tidy))
    await house.invitations.add(tx, invite(Role.COACH, coach.id, token, at=at))
    return coach
