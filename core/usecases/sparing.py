"""What a session must spare today: what hurts a client now, and which exercises of one that was made before are against it."""

import datetime as dt
from typing import Any

from sqlalchemy.ext.asyncio import AsyncConnection

from core.calendar.weeks import IsoWeek
from core.people.model import Client
from core.programme.candidates import forbidden
from core.programme.movements import Library
from core.programme.session import SessionRequest
from core.store import house
from core.terms import Place
from core.usecases import care

PAIN_HOLDS_WEEKS = 3
AVOIDED = frozenset(list(Place)[:9])  # the places that exercises are chosen by


async def told_pains(tx: AsyncConnection, client: Client, at: dt.datetime) -> frozenset[Place]:
    """Every place that hurt lately, and the complaints named at enrolment."""
    today = (await house.circumstances(tx, client)).today(at)
    return await care.pains_of(tx, client, since=IsoWeek.of(today).plus(-PAIN_HOLDS_WEEKS))


async def hurts_now(tx: AsyncConnection, client: Client, at: dt.datetime) -> frozenset[Place]:
    """The places that exercises are chosen by."""
    return await told_pains(tx, client, at) & AVOIDED


def against(drafted: dict[str, Any], places: frozenset[Place], library: Library) -> list[str]:
    """The names of a session's exercises that a place which hurts forbids."""
    hurt = forbidden(places)
    known = [(lift["name"], library.by_key.get(lift["key"])) for lift in drafted.get("lifts", [])]
    return [name for name, exercise in known if exercise is not None and exercise.avoid & hurt]


def is_out_of_date(drafted: dict[str, Any], request: SessionRequest, library: Library) -> bool:
    """Whether a session was made for another room, or holds what is no longer allowed: something began to hurt since."""
    places = forbidden(request.complaints)
    known = [library.by_key[key] for key in drafted.get("keys", []) if key in library.by_key]
    elsewhere = "session" in drafted and drafted.get("room") != request.room.value
    return elsewhere or any(not each.fits(request.room, request.level, places) for each in known)
